// Where things stand in the pictures of the records. No reckoning of ours: values come from the server.
import type { Assessment, Attempt, FlownBy, KeptStandard, Landing, StandardLine } from './types';

/** Feet past the point that the rulers show; beyond, a mark stands at the end. */
export const LOW_FT = -500;
export const HIGH_FT = 1000;

export function along(ft: number, left: number, width: number): number {
  const inside = Math.min(Math.max(ft, LOW_FT), HIGH_FT);
  return left + (width * (inside - LOW_FT)) / (HIGH_FT - LOW_FT);
}

export type Mark = 'in' | 'long' | 'short' | 'around' | 'unsure';

/** By where it touched; by what somebody saw where that decides it. */
export function markOf(one: { went_around: boolean; probability_in_box: number; along_ft?: number | null }, low = 0, high = 200): Mark {
  if (one.went_around) return 'around';
  const SEEN = 0.999;
  if (one.probability_in_box >= SEEN) return 'in';
  if (one.along_ft == null) return 'unsure';
  const inside = one.along_ft >= low && one.along_ft <= high;
  if (inside && one.probability_in_box > 1 - SEEN) return 'in';
  return one.along_ft > (low + high) / 2 ? 'long' : 'short';
}

/** The one that counts: by this standard, with these limits. */
export function newestBy(attempt: Attempt, standard: Pick<StandardLine, 'id' | 'otherwise_limited'>): Assessment | undefined {
  return attempt.assessments.findLast((one) => one.standard === standard.id && !standard.otherwise_limited?.includes(one.standard_sha256 ?? ''));
}

/** "house, version 2", or a published standard's id. */
export function standardWords(one: Pick<Assessment, 'standard' | 'standard_sha256'>, kept: KeptStandard[]): string {
  const version = kept.find((text) => text.sha256 === one.standard_sha256)?.standard.version;
  return version ? `${one.standard}, version ${version},` : one.standard;
}

export function landingOf(attempt: Attempt, now: Assessment): Landing {
  return {
    attempt: attempt.number, flown: attempt.time, went_around: now.end === 'went-around', alone: now.student_alone, flown_by: now.flown_by, forced: now.forced,
    probability_in_box: now.probability_in_box, along_ft: now.along_ft ?? undefined, low95_ft: now.along_low95_ft ?? undefined, high95_ft: now.along_high95_ft ?? undefined,
  };
}

/** Who flew: as a choice, in a list, and what stands at a touchdown that does not count. */
export const FLOWN_BY: Record<FlownBy, { choice: string; short: string; mark: string }> = {
  student: { choice: 'the student alone', short: 'alone', mark: '' },
  student_prompted: { choice: 'the student, prompted', short: 'prompted', mark: 'p' },
  instructor: { choice: 'the instructor', short: 'by the instructor', mark: 'i' },
  controls_taken: { choice: 'the student, controls taken', short: 'controls taken', mark: 'c' },
  not_alone: { choice: 'not the student alone', short: 'not alone', mark: 'n' },
};
/** What may be said now: whoever says it knows which of the four it was. */
export const FLOWN_BY_CHOICES = (Object.keys(FLOWN_BY) as FlownBy[]).filter((one) => one !== 'not_alone');

/** "2 prompted, 1 controls taken". */
export function notAloneWords(by: Partial<Record<FlownBy, number>>): string {
  return Object.entries(by).map(([who, count]) => `${count} ${FLOWN_BY[who as FlownBy].short}`).join(', ');
}

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];
const DAYS = ['Sun', 'Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat'];

/** "14 May", with the year where it is not this one; days are UTC, as the logs are. */
export function day(iso: string, now: string): string {
  const year = iso.slice(0, 4) === now.slice(0, 4) ? '' : ` ${iso.slice(0, 4)}`;
  return `${Number(iso.slice(8, 10))} ${MONTHS[Number(iso.slice(5, 7)) - 1]}${year}`;
}
export function weekday(iso: string): string {
  return DAYS[new Date(`${iso.slice(0, 10)}T00:00:00Z`).getUTCDay()] as string;
}
export function daysBetween(from: string, to: string): number {
  return Math.round((Date.parse(`${to.slice(0, 10)}T00:00:00Z`) - Date.parse(`${from.slice(0, 10)}T00:00:00Z`)) / 86400000);
}
export function ago(from: string, now: string): string {
  const days = daysBetween(from, now);
  return days === 0 ? 'today' : days === 1 ? 'yesterday' : days < 0 ? `in ${-days} days` : `${days} days ago`;
}

/** Attempts by the day flown, oldest first. */
export function byDay<T extends { flown: string }>(landings: T[]): { day: string; landings: T[] }[] {
  const days = new Map<string, T[]>();
  for (const one of landings) days.set(one.flown.slice(0, 10), [...(days.get(one.flown.slice(0, 10)) ?? []), one]);
  return [...days].map(([key, list]) => ({ day: key, landings: list }));
}

/** "6" or "5.8" of 20: a probability counts in parts. */
export function counted(made: number): string {
  return Math.abs(made - Math.round(made)) < 0.05 ? String(Math.round(made)) : made.toFixed(1);
}
