import { describe, expect, it } from 'vitest';
import type { Brief } from '../src/engine/brief';
import { openStretches, placeAtHeight, plannedPath } from '../src/plan/path';

const edges = (low: number, path: number, flaps: number, slip: number) => ({
  lowest_ft: low,
  highest_by_path_ft: path,
  highest_by_flaps_ft: flaps,
  highest_by_slip_ft: slip,
});
const place = (time: number, along: number, cross: number, height: number, sure = edges(500, 900, 1000, 1100)) => ({
  time_s: time, along_ft: along, cross_ft: cross, height_ft: height, nine_in_ten: sure, mean: sure,
});
const brief = (places: ReturnType<typeof place>[]) =>
  ({ pattern: { traffic: 'left' }, planned_touchdown_ft: 100, band: { empty_because: '', places } }) as unknown as Brief;

describe('the planned path', () => {
  it('counts the distance to go from the touchdown back, and puts the pattern on top', () => {
    const path = plannedPath(brief([place(0, 0, -3000, 1000), place(20, -3000, -3000, 800), place(60, -3000, 0, 400)]));
    expect(path.map((one) => Math.round(one.toGoFt))).toEqual([9100, 6100, 3100, 0]);
    expect(path[0]?.outFt).toBe(3000);
  });
});

describe('a height on the way down', () => {
  it('lies between the places known', () => {
    const path = plannedPath(brief([place(0, -2000, 0, 400), place(10, -1000, 0, 200)]));
    expect(placeAtHeight(path, 300)?.alongFt).toBe(-1500);
    expect(placeAtHeight(path, 100)?.alongFt).toBe(-450);
    expect(placeAtHeight(path, 400)?.alongFt).toBe(-2000);
  });
});

describe('the ribbon', () => {
  it('is cut at the top, closed where the edges cross, and never below the gate', () => {
    const path = plannedPath(
      brief([
        place(0, 0, -3000, 1000),
        place(10, -1000, -3000, 900),
        place(20, -2000, -3000, 800, edges(700, 600, 650, 690)),
        place(30, -3000, -2000, 700),
        place(40, -3000, -1000, 600),
      ]),
    );
    const layers = openStretches(path, 'lowest_ft', 'highest_by_path_ft', 800);
    expect(layers.map((one) => one.points.length)).toEqual([2, 2]);
    expect(Math.max(...layers.flatMap((one) => one.points.map((point) => point.high)))).toBe(800);
  });
});
