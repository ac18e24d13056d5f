// What keys and buttons do to the hands. How the airplane answers is the engine's.

import type { Desk, Hands, Hold } from '../engine/desk';

export type Doing = 'left' | 'right' | 'level' | 'slower' | 'faster' | 'flaps' | 'flaps-up' | 'slip' | 'go-around';

const BANK_STEP_DEG = 5;
const MOST_BANK_DEG = 45;

/** On downwind, before anybody has touched anything: level, and ready to glide when the throttle closes. */
export function firstHands(desk: Pick<Desk, 'glide_speed_kcas'>): Hands {
  return { bank_deg: 0, airspeed_kcas: desk.glide_speed_kcas, flap_deg: 0, slip: false, go_around: false };
}

export function after(hands: Hands, doing: Doing, desk: Pick<Desk, 'flap_settings_deg' | 'slowest_kcas' | 'fastest_kcas'>): Hands {
  const bank = (deg: number): Hands => ({ ...hands, bank_deg: Math.max(-MOST_BANK_DEG, Math.min(MOST_BANK_DEG, deg)) });
  const speed = (kt: number): Hands => ({ ...hands, airspeed_kcas: Math.max(Math.ceil(desk.slowest_kcas), Math.min(Math.floor(desk.fastest_kcas), kt)) });
  switch (doing) {
    case 'left': return bank(hands.bank_deg - BANK_STEP_DEG);
    case 'right': return bank(hands.bank_deg + BANK_STEP_DEG);
    case 'level': return bank(0);
    case 'slower': return speed(hands.airspeed_kcas - 1);
    case 'faster': return speed(hands.airspeed_kcas + 1);
    case 'flaps': return { ...hands, flap_deg: desk.flap_settings_deg.find((one) => one > hands.flap_deg) ?? hands.flap_deg };
    case 'flaps-up': return { ...hands, flap_deg: desk.flap_settings_deg.findLast((one) => one < hands.flap_deg) ?? 0 };
    case 'slip': return { ...hands, slip: !hands.slip };
    case 'go-around': return { ...hands, go_around: true };
  }
}

/** Of the keyboard; none for a key that is nobody's. */
export function doingOf(key: string): Doing | undefined {
  const keys: Record<string, Doing> = {
    ArrowLeft: 'left', ArrowRight: 'right', ArrowUp: 'slower', ArrowDown: 'faster', l: 'level', f: 'flaps', r: 'flaps-up', s: 'slip', g: 'go-around',
  };
  return keys[key.length === 1 ? key.toLowerCase() : key];
}

/** Longer by some ticks; what is held as before stays one line. */
export function heldFor(holds: Hold[], hands: Hands, ticks: number): Hold[] {
  const last = holds.at(-1);
  const same = last && (Object.keys(hands) as (keyof Hands)[]).every((key) => last[key] === hands[key]);
  return last && same ? [...holds.slice(0, -1), { ...last, ticks: last.ticks + ticks }] : [...holds, { ...hands, ticks }];
}
