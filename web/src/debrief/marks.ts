// What the user marks on an attempt, as typed, and as the file that the command line reads (docs/schema/marks.json).

export interface FlapMark {
  deg: string;
  at: string; // seconds past abeam
}
export interface SlipMark {
  in: string;
  out: string;
}
export interface AttemptMarks {
  touchdown: string; // feet past the point
  idle: string;
  flaps: FlapMark[];
  noFlap: boolean;
  slips: SlipMark[];
  noSlip: boolean;
  ticks: Record<string, boolean>;
}
export type Marks = Record<number, AttemptMarks>;

export const MARKS_FILE = '/marks.json';

/** What no log sees, in the order in which it comes up in flight. */
export const CHECKLIST: [name: string, asked: string][] = [
  ['powerplant_warmed', 'Engine warmed on the way down?'],
  ['checks_done', 'Checks done before the landing?'],
  ['extended_for_traffic', 'Downwind or base extended for traffic?'],
  ['stall_warner', 'Stall warner heard before the wheels touched?'],
  ['floated', 'Floated before the wheels touched?'],
  ['aligned', 'Nose along the centreline at touchdown?'],
  ['drifting', 'Drifting sideways at touchdown?'],
];

export const noMarks = (): AttemptMarks => ({ touchdown: '', idle: '', flaps: [], noFlap: false, slips: [], noSlip: false, ticks: {} });

/** "−3,5" is -3.5; what is no number stays as it is typed, for the reader to say so. */
const numberIn = (text: string): number | string => {
  const plain = text.trim().replace('−', '-').replace(',', '.').replace(/^\+/, '');
  return plain !== '' && Number.isFinite(Number(plain)) ? Number(plain) : text.trim();
};
const moment = (text: string) => ({ after_abeam_s: numberIn(text) });
const filled = (...texts: string[]) => texts.every((text) => text.trim() !== '');

/** Nothing where nothing is marked. What is half entered, a slip without its end, waits for the rest. */
export function marksFile(marks: Marks): string | undefined {
  const attempts = Object.entries(marks).flatMap(([index, one]) => {
    const marked: Record<string, unknown> = {};
    const flaps = one.flaps.filter((flap) => filled(flap.deg, flap.at)).map((flap) => ({ setting_deg: numberIn(flap.deg), ...moment(flap.at) }));
    const slips = one.slips.filter((slip) => filled(slip.in, slip.out)).map((slip) => ({ in: moment(slip.in), out: moment(slip.out) }));
    if (filled(one.touchdown)) marked.touchdown_ft = numberIn(one.touchdown);
    if (filled(one.idle)) marked.idle = moment(one.idle);
    if (flaps.length || one.noFlap) marked.flaps = flaps;
    if (slips.length || one.noSlip) marked.slips = slips;
    if (Object.keys(one.ticks).length) marked.checklist = one.ticks;
    return Object.keys(marked).length ? [{ attempt: Number(index), ...marked }] : [];
  });
  return attempts.length ? JSON.stringify({ schema: 'glidewright.marks/1', attempts }, undefined, 1) : undefined;
}

interface MarkedInFile {
  attempt: number;
  touchdown_ft?: number;
  idle?: { after_abeam_s?: number };
  flaps?: { setting_deg: number; after_abeam_s?: number }[];
  slips?: { in: { after_abeam_s?: number }; out: { after_abeam_s?: number } }[];
  checklist?: Record<string, boolean>;
}

/** A file that was saved here; undefined where it holds what these fields cannot show, moments by the clock for example. */
export function marksIn(text: string): Marks | undefined {
  try {
    const file = JSON.parse(text) as { attempts?: MarkedInFile[] };
    if (!Array.isArray(file.attempts)) return undefined;
    const marks: Marks = {};
    const shown = (value: number | undefined): string => {
      if (typeof value !== 'number') throw new Error('not by seconds past abeam');
      return String(value);
    };
    for (const one of file.attempts) {
      marks[one.attempt] = {
        touchdown: one.touchdown_ft === undefined ? '' : shown(one.touchdown_ft),
        idle: one.idle ? shown(one.idle.after_abeam_s) : '',
        flaps: (one.flaps ?? []).map((flap) => ({ deg: shown(flap.setting_deg), at: shown(flap.after_abeam_s) })),
        noFlap: one.flaps?.length === 0,
        slips: (one.slips ?? []).map((slip) => ({ in: shown(slip.in.after_abeam_s), out: shown(slip.out.after_abeam_s) })),
        noSlip: one.slips?.length === 0,
        ticks: one.checklist ?? {},
      };
    }
    return marks;
  } catch {
    return undefined;
  }
}

export type MarkedHere = 'idle' | 'flap' | 'slip in' | 'slip out';

/** With what was just marked in the replay. A flap's setting is for the user to enter; a slip out closes the last one in. */
export function withMark(one: AttemptMarks, what: MarkedHere, afterAbeamS: number): AttemptMarks {
  const at = afterAbeamS.toFixed(1);
  if (what === 'idle') return { ...one, idle: at };
  if (what === 'flap') return { ...one, noFlap: false, flaps: [...one.flaps, { deg: '', at }] };
  if (what === 'slip in') return { ...one, noSlip: false, slips: [...one.slips, { in: at, out: '' }] };
  const open = one.slips.findLastIndex((slip) => !slip.out);
  return { ...one, slips: one.slips.map((slip, i) => (i === open ? { ...slip, out: at } : slip)) };
}
