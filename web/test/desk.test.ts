import { describe, expect, it } from 'vitest';
import { after, doingOf, firstHands, heldFor } from '../src/desk/hands';
import type { Hands } from '../src/engine/desk';

const desk = { glide_speed_kcas: 70, flap_settings_deg: [0, 10, 20, 30], slowest_kcas: 52.4, fastest_kcas: 85.9 };
const hands: Hands = firstHands(desk);

describe('what keys do to the hands', () => {
  it('banks in steps, no farther than the engine takes, and level at once', () => {
    expect(after(hands, 'left', desk).bank_deg).toBe(-5);
    let steep = hands;
    for (let i = 0; i < 20; i++) steep = after(steep, 'right', desk);
    expect(steep.bank_deg).toBe(45);
    expect(after(steep, 'level', desk).bank_deg).toBe(0);
  });
  it('keeps the airspeed between the limits of the airplane', () => {
    expect(after({ ...hands, airspeed_kcas: 53 }, 'slower', desk).airspeed_kcas).toBe(53);
    expect(after({ ...hands, airspeed_kcas: 85 }, 'faster', desk).airspeed_kcas).toBe(85);
    expect(after(hands, 'faster', desk).airspeed_kcas).toBe(71);
  });
  it('moves the flap lever from setting to setting', () => {
    const ten = after(hands, 'flaps', desk);
    expect(ten.flap_deg).toBe(10);
    expect(after({ ...hands, flap_deg: 30 }, 'flaps', desk).flap_deg).toBe(30);
    expect(after(ten, 'flaps-up', desk).flap_deg).toBe(0);
    expect(after(hands, 'flaps-up', desk).flap_deg).toBe(0);
  });
  it('knows its keys, in small and capital letters, and no others', () => {
    expect([doingOf('ArrowLeft'), doingOf('F'), doingOf('f'), doingOf('s'), doingOf('q'), doingOf('Tab')]).toEqual(['left', 'flaps', 'flaps', 'slip', undefined, undefined]);
  });
  it('keeps what is held as one line, and begins another where it changes', () => {
    const once = heldFor([], hands, 2);
    expect(heldFor(once, { ...hands }, 3)).toEqual([{ ...hands, ticks: 5 }]);
    expect(heldFor(once, { ...hands, slip: true }, 1)).toHaveLength(2);
  });
});
