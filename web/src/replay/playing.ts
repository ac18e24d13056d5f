// What playing an attempt back needs beside the engine's numbers: the moment between two samples, marks, rates, words.

import type { Attempt, FlownMoment, InReach, PlannedMoment } from '../engine/debrief';
import { feet } from '../parts/words';

export const LOOK_AHEAD_S = 20;

/** Where a time lies between two neighbours; clamped to the ends. */
function between(path: PlannedMoment[], t: number): { before: number; share: number } {
  let low = 0;
  let high = path.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((path[middle] as PlannedMoment).t_s <= t) low = middle;
    else high = middle;
  }
  const a = path[low] as PlannedMoment;
  const b = path[Math.max(low, high)] as PlannedMoment;
  return { before: low, share: b.t_s > a.t_s ? Math.min(1, Math.max(0, (t - a.t_s) / (b.t_s - a.t_s))) : 0 };
}

const mixed = (a: number, b: number, share: number) => a + share * (b - a);

function turned(from: number, to: number, share: number): number {
  const by = ((to - from + 540) % 360) - 180;
  return (from + share * by + 360) % 360;
}

/** The flown moment at any time: places between two samples, what is known once a second from the nearer one. */
export function momentAt(flown: FlownMoment[], t: number): FlownMoment {
  const { before, share } = between(flown, t);
  const a = flown[before] as FlownMoment;
  const b = flown[before + 1] ?? a;
  const mix = (key: 'along_ft' | 'cross_ft' | 'height_ft' | 'to_go_ft' | 'groundspeed_kt' | 'bank_deg') => mixed(a[key], b[key], share);
  const near = share < 0.5 ? a : b;
  return {
    ...near,
    t_s: mixed(a.t_s, b.t_s, share),
    along_ft: mix('along_ft'),
    cross_ft: mix('cross_ft'),
    height_ft: mix('height_ft'),
    to_go_ft: mix('to_go_ft'),
    groundspeed_kt: mix('groundspeed_kt'),
    bank_deg: mix('bank_deg'),
    course_true_deg: turned(a.course_true_deg, b.course_true_deg, share),
    in_20_s: a.in_20_s && b.in_20_s ? aheadBetween(a.in_20_s, b.in_20_s, share) : near.in_20_s,
  };
}

type Ahead = NonNullable<FlownMoment['in_20_s']>;
function aheadBetween(a: Ahead, b: Ahead, share: number): Ahead {
  const mix = (key: keyof Ahead) => mixed(a[key], b[key], share);
  return { along_ft: mix('along_ft'), cross_ft: mix('cross_ft'), height_ft: mix('height_ft'), covered_ft: mix('covered_ft') };
}

/** The path up to a time, ending exactly there. */
export function pathUntil(flown: FlownMoment[], t: number): FlownMoment[] {
  const now = momentAt(flown, t);
  return [...flown.filter((one) => one.t_s < now.t_s), now];
}

export interface Mark {
  name: string;
  t: number;
}

/** The moments to jump to, in flown order. */
export function marksOf(attempt: Attempt): Mark[] {
  const from = Date.parse(attempt.flown_from);
  const named: [string, { time: string } | null][] = [
    ['abeam', attempt.abeam],
    ['base turn', attempt.base_turn],
    ['final turn', attempt.final_turn],
    ['gate', attempt.gate],
    ['go-around', attempt.go_around],
    ['touchdown', attempt.touchdown],
  ];
  const first = attempt.flown[0]?.t_s ?? 0;
  const last = attempt.flown.at(-1)?.t_s ?? 0;
  return named
    .flatMap(([name, point]) => (point ? [{ name, t: (Date.parse(point.time) - from) / 1000 }] : []))
    .filter((mark) => mark.t >= first && mark.t <= last)
    .sort((a, b) => a.t - b.t);
}

/** The mark after or before a time, further than a breath away from it. */
export function nextMark(marks: Mark[], t: number, way: 1 | -1): Mark | undefined {
  const ahead = marks.filter((mark) => way * (mark.t - t) > 0.3);
  return way > 0 ? ahead[0] : ahead.at(-1);
}

export const RATES = [0.25, 0.5, 1, 2, 4, 8, 16];

export function otherRate(rate: number, way: 1 | -1): number {
  const at = RATES.indexOf(rate) + way;
  return RATES[Math.min(RATES.length - 1, Math.max(0, at))] as number;
}

export const rateText = (rate: number): string => `${rate < 1 ? `1/${1 / rate}` : rate}×`;

/** "12 s past abeam", "3 s before abeam". */
export function timeText(t: number, fromAbeam: boolean): string {
  const whole = Math.round(Math.abs(t));
  if (!fromAbeam) return `${whole} s`;
  return whole === 0 ? 'abeam' : `${whole} s ${t < 0 ? 'before' : 'past'} abeam`;
}

/** What the band says of a height, in words. */
export function reachText(heightFt: number, reach: InReach | null): string {
  if (!reach) return '';
  if (reach.lowest_ft > reach.highest_by_slip_ft) return 'from here no height reaches the box in nine of ten winds';
  if (heightFt < reach.lowest_ft) return `${feet(reach.lowest_ft - heightFt)} ft below what reaches the box`;
  if (heightFt > reach.highest_by_slip_ft) return `${feet(heightFt - reach.highest_by_slip_ft)} ft above what a slip still spends`;
  if (reach.margin_ft < 0) return `${feet(-reach.margin_ft)} ft off: too low with the landing flap, too high without it`;
  const need = heightFt <= reach.highest_by_path_ft ? 'the path alone' : heightFt <= reach.highest_by_flaps_ft ? 'flaps' : 'a slip';
  return `in reach by ${need}: ${feet(heightFt - reach.lowest_ft)} ft above the lowest, ${feet(reach.highest_by_slip_ft - heightFt)} ft below the highest`;
}

/** The moment flown nearest to a place on the ground. */
export function nearestTo(flown: FlownMoment[], alongFt: number, crossFt: number): number {
  let best = { t: flown[0]?.t_s ?? 0, ft: Number.POSITIVE_INFINITY };
  for (const one of flown) {
    const ft = Math.hypot(one.along_ft - alongFt, one.cross_ft - crossFt);
    if (ft < best.ft) best = { t: one.t_s, ft };
  }
  return best.t;
}

/** The moment with so far to go: the way to go only falls. */
export function timeToGo(flown: FlownMoment[], toGoFt: number): number {
  const at = flown.findIndex((one) => one.to_go_ft <= toGoFt);
  const after = flown[at < 0 ? flown.length - 1 : at] as FlownMoment;
  const before = flown[at - 1];
  if (!before || before.to_go_ft <= after.to_go_ft) return after.t_s;
  return mixed(before.t_s, after.t_s, (before.to_go_ft - toGoFt) / (before.to_go_ft - after.to_go_ft));
}

/** Stretches of a path that positions carry, and those where the log leaves a hole: drawn dotted. */
export function stretches(flown: FlownMoment[]): { sure: boolean; places: FlownMoment[] }[] {
  const UNSURE_FT = 60; // beside it a line of the sketch would lie: some pixels
  const all: { sure: boolean; places: FlownMoment[] }[] = [];
  flown.forEach((one, i) => {
    const gap = i > 0 && one.t_s - (flown[i - 1] as FlownMoment).t_s > 1.5;
    const sure = one.place_sd_ft <= UNSURE_FT && !gap;
    const last = all.at(-1);
    if (last?.sure === sure) last.places.push(one);
    else all.push({ sure, places: last ? [last.places.at(-1) as FlownMoment, one] : [one] });
  });
  return all;
}
