import { describe, expect, it } from 'vitest';
import type { Drill, KeptAnswer, Place, Situation } from '../src/engine/drill';
import { joined } from '../src/drill/answers';
import { groundOf, seatOf, toGo } from '../src/drill/view';

const place = (along: number, cross: number, height = 500, time = 0): Place => ({ time_s: time, along_ft: along, cross_ft: cross, height_ft: height });
const drillOf = (traffic: 'left' | 'right'): Drill => {
  const side = traffic === 'left' ? -1 : 1;
  return {
    seed: 1, runway: { designator: '24', true_bearing_deg: 240 }, threshold_along_ft: -1000, runway_end_along_ft: 3000, traffic,
    box: { low_ft: 0, high_ft: 200 }, setting: '', planned: [place(0, side * 3000), place(-4000, side * 3000), place(-4000, 0), place(100, 0, 0)],
    situations: [], answers: [], score: { all: { right: 0, of: 0 }, words: [] },
  };
};
const looking = (along: number, cross: number, heading: number, height = 500, bank = 0): Situation =>
  ({ now: { ...place(along, cross, height), heading_true_deg: heading, bank_deg: bank, calibrated_airspeed_kt: 65, flap_deg: 10 } }) as Situation;

describe('the ground from above', () => {
  it('has the pattern on top whichever side it is on, and finds a place again', () => {
    for (const traffic of ['left', 'right'] as const) {
      const ground = groundOf(drillOf(traffic), 354, 330);
      const side = traffic === 'left' ? -1 : 1;
      expect(ground.y(side * 3000)).toBeLessThan(ground.y(0));
      const found = ground.place({ x: ground.x(-1234), y: ground.y(side * 777) });
      expect(found.alongFt).toBeCloseTo(-1234);
      expect(found.crossFt).toBeCloseTo(side * 777);
    }
  });
});

describe('the view from the seat', () => {
  it('has the point ahead, below the horizon by the angle down to it', () => {
    const seat = seatOf(240, looking(-5000, 0, 240).now, 354, 112);
    const point = seat.of(0, 0);
    expect(point?.x).toBeCloseTo(177);
    expect((point?.y ?? 0) - seat.horizon[0].y).toBeCloseTo((354 * 0.9 * 500) / 5000);
  });
  it('has what lies right on the right, and nothing of what lies behind', () => {
    const seat = seatOf(240, looking(-5000, 0, 240).now, 354, 112);
    expect(seat.of(0, 300)?.x).toBeGreaterThan(177);
    expect(seat.of(-6000, 0)).toBeUndefined();
  });
  it('shows more runway below from higher up', () => {
    const low = seatOf(240, looking(-5000, 0, 240, 300).now, 354, 112);
    const high = seatOf(240, looking(-5000, 0, 240, 600).now, 354, 112);
    expect(high.of(0, 0)?.y ?? 0).toBeGreaterThan(low.of(0, 0)?.y ?? 0);
  });
  it('tilts the horizon against the bank', () => {
    const [left, right] = seatOf(240, looking(-5000, 0, 240, 500, 20).now, 354, 112).horizon;
    expect(left.y).toBeGreaterThan(right.y);
  });
});

describe('the distance to go', () => {
  it('is counted to the point, and negative beyond it', () => {
    const way = toGo([place(-3000, -1000, 500), place(-3000, 0, 400), place(400, 0, 0)], 0);
    expect(way.map((one) => one.toGoFt)).toEqual([4000, 3000, -400]);
  });
});

describe('answers of two tabs', () => {
  const answer = (seed: number, number: number, at: string, uid: string): KeptAnswer =>
    ({ uid, setting: 'calm', at, seed, number, said: 'on', truth: 'on', mark_ahead_ft: null, mark_right_ft: null });
  it('are all there, in the order of their time', () => {
    const here = [answer(1, 1, '2026-05-01T10:00:00.000Z', 'a'), answer(1, 2, '2026-05-01T10:02:00.000Z', 'b')];
    const there = [answer(2, 1, '2026-05-01T10:01:00.000Z', 'c')];
    expect(joined(here, there).map((one) => one.uid)).toEqual(['a', 'c', 'b']);
    expect(joined(joined(here, there), here)).toHaveLength(3);
  });
  it('count once for a picture: the first', () => {
    const later = answer(1, 1, '2026-05-01T10:05:00.000Z', 'x');
    const first = answer(1, 1, '2026-05-01T10:00:00.000Z', 'a');
    expect(joined([later], [first]).map((one) => one.uid)).toEqual(['a']);
  });
});
