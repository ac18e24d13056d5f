import { describe, expect, it } from 'vitest';
import type { Attempt, FlownMoment } from '../src/engine/debrief';
import { marksOf, momentAt, nearestTo, nextMark, otherRate, pathUntil, rateText, reachText, stretches, timeText, timeToGo } from '../src/replay/playing';

const flown = (t: number, more: Partial<FlownMoment> = {}): FlownMoment => ({
  t_s: t, along_ft: -100 * t, cross_ft: -3000, height_ft: 1000 - 10 * t, to_go_ft: 9000 - 100 * t, groundspeed_kt: 60, course_true_deg: 60,
  bank_deg: 0, place_sd_ft: 3, height_sd_ft: 5, in_20_s: null, in_reach: null, ...more,
});

describe('the moment between two samples', () => {
  it('lies between them, and stays at the ends', () => {
    const path = [flown(0), flown(1), flown(2)];
    expect(momentAt(path, 1.5).along_ft).toBeCloseTo(-150);
    expect(momentAt(path, 1.5).t_s).toBeCloseTo(1.5);
    expect(momentAt(path, -9).to_go_ft).toBe(9000);
    expect(momentAt(path, 99).height_ft).toBe(980);
  });
  it('turns the short way through north', () => {
    const path = [flown(0, { course_true_deg: 350 }), flown(1, { course_true_deg: 20 })];
    expect(momentAt(path, 0.5).course_true_deg).toBeCloseTo(5);
    expect(momentAt(path.toReversed().map((one, i) => ({ ...one, t_s: i })), 0.5).course_true_deg).toBeCloseTo(5);
  });
  it('leads nowhere once the wheels are down', () => {
    const ahead = { along_ft: 0, cross_ft: 0, height_ft: 100, covered_ft: 2000 };
    const path = [flown(0, { in_20_s: ahead }), flown(1)];
    expect(momentAt(path, 0.2).in_20_s).toEqual(ahead);
    expect(momentAt(path, 0.8).in_20_s).toBeNull();
  });
  it('ends the path exactly at the time', () => {
    expect(pathUntil([flown(0), flown(1), flown(2)], 1.25).map((one) => one.t_s)).toEqual([0, 1, 1.25]);
  });
});

describe('marks', () => {
  const at = (seconds: number) => ({ time: new Date(Date.UTC(2026, 4, 1, 10, 0, seconds)).toISOString(), height_ft: 0 });
  const attempt = {
    flown_from: at(10).time, abeam: at(10), base_turn: at(22), final_turn: null, gate: at(50), go_around: null,
    touchdown: at(300), flown: [flown(-6), flown(100)],
  } as unknown as Attempt;
  it('count from where the replay counts, and none lies outside it', () => {
    expect(marksOf(attempt)).toEqual([{ name: 'abeam', t: 0 }, { name: 'base turn', t: 12 }, { name: 'gate', t: 40 }]);
  });
  it('are found forwards and backwards from between them', () => {
    const marks = marksOf(attempt);
    expect(nextMark(marks, 12, 1)?.name).toBe('gate');
    expect(nextMark(marks, 12, -1)?.name).toBe('abeam');
    expect(nextMark(marks, 40, 1)).toBeUndefined();
  });
});

describe('rates and times', () => {
  it('go up and down within their ends', () => {
    expect(otherRate(1, 1)).toBe(2);
    expect(otherRate(0.25, -1)).toBe(0.25);
    expect(otherRate(16, 1)).toBe(16);
    expect(rateText(0.25)).toBe('1/4×');
  });
  it('are said as an instructor says them', () => {
    expect(timeText(-4.4, true)).toBe('4 s before abeam');
    expect(timeText(0.2, true)).toBe('abeam');
    expect(timeText(12.6, true)).toBe('13 s past abeam');
    expect(timeText(12.6, false)).toBe('13 s');
  });
});

describe('a height and the band', () => {
  const reach = { lowest_ft: 600, highest_by_path_ft: 700, highest_by_flaps_ft: 800, highest_by_slip_ft: 900, margin_ft: 50 };
  it('is told with what it needs', () => {
    expect(reachText(650, reach)).toBe('in reach by the path alone: 50 ft above the lowest, 250 ft below the highest');
    expect(reachText(750, reach)).toMatch(/^in reach by flaps/);
    expect(reachText(850, reach)).toMatch(/^in reach by a slip/);
    expect(reachText(520, reach)).toBe('80 ft below what reaches the box');
    expect(reachText(980, reach)).toBe('80 ft above what a slip still spends');
  });
  it('is told where there is a gap between the ways, where nothing is open, and where nothing is known', () => {
    expect(reachText(750, { ...reach, margin_ft: -30 })).toMatch(/^30 ft off/);
    expect(reachText(750, { ...reach, lowest_ft: 950 })).toMatch(/no height/);
    expect(reachText(750, null)).toBe('');
  });
});

describe('a finger on a drawing', () => {
  const path = [flown(0), flown(1), flown(2), flown(3)];
  it('finds the moment nearest to a place, and the one with so far to go', () => {
    expect(nearestTo(path, -210, -2900)).toBe(2);
    expect(timeToGo(path, 8850)).toBeCloseTo(1.5);
    expect(timeToGo(path, 99999)).toBe(0);
    expect(timeToGo(path, -99999)).toBe(3);
  });
});

describe('a hole in the log', () => {
  it('is a stretch of its own that joins the others', () => {
    const parts = stretches([flown(0), flown(1), flown(2, { place_sd_ft: 200 }), flown(3), flown(9)]);
    expect(parts.map((one) => one.sure)).toEqual([true, false, true, false]);
    expect(parts[1]?.places.map((one) => one.t_s)).toEqual([1, 2]);
    expect(parts[3]?.places.map((one) => one.t_s)).toEqual([3, 9]);
  });
});
