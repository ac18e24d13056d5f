// An airplane's profile as the page edits it, and as the file that every command reads: one number a line, so that the
// line an error names is the field.

export interface Sourced {
  value: number | null; // null: typed, but no number yet
  sd?: number | null;
  source: string;
}
export type Flap = { setting_deg: number | null } & Record<string, Sourced | number | null | undefined>;
export interface Profile {
  schema: string;
  name: string;
  flaps: Flap[];
  [field: string]: unknown;
}

export interface Field {
  key: string;
  name: string;
  unit: string;
  hint?: string;
  optional?: boolean;
  spread?: boolean; // a spread counts, and can be entered
}
export interface Group {
  title: string;
  fields: Field[];
}

export const GROUPS: Group[] = [
  {
    title: 'Glide, flaps up',
    fields: [
      { key: 'maximum_weight_lb', name: 'Maximum weight', unit: 'lb', hint: 'the handbook’s speeds hold at it', spread: true },
      { key: 'best_glide_speed_kcas', name: 'Best glide speed', unit: 'kt CAS', spread: true },
      { key: 'best_glide_ratio', name: 'Best glide ratio', unit: 'to 1', spread: true },
    ],
  },
  {
    title: 'Approach and landing',
    fields: [
      { key: 'approach_speed_kcas', name: 'Approach speed', unit: 'kt CAS', hint: 'landing flap', spread: true },
      { key: 'landing_flap_deg', name: 'Landing flap', unit: '°', hint: 'one of the settings below' },
      { key: 'ground_roll_ft', name: 'Landing ground roll', unit: 'ft', hint: 'sea level, standard day', spread: true },
    ],
  },
  {
    title: 'Forward slip',
    fields: [
      { key: 'slip_flap_limit_deg', name: 'No slip with more flap than', unit: '°', hint: '0: no slip at all; left empty: no limit', optional: true },
      { key: 'slip_drag_ratio', name: 'Glide ratio slipping over not', unit: '', hint: 'left empty: 0.72 ± 0.1', optional: true, spread: true },
    ],
  },
  {
    title: 'Limits',
    fields: [
      { key: 'maximum_crosswind_kt', name: 'Crosswind', unit: 'kt', hint: 'left empty: 15', optional: true },
      { key: 'maximum_tailwind_kt', name: 'Tailwind', unit: 'kt', hint: 'left empty: 5', optional: true },
    ],
  },
  {
    title: 'Wing',
    fields: [
      { key: 'wing_span_ft', name: 'Span', unit: 'ft', spread: true },
      { key: 'wing_height_ft', name: 'Height above the ground', unit: 'ft', hint: 'parked', spread: true },
      { key: 'antenna_height_ft', name: 'Logger above the ground', unit: 'ft', hint: 'left empty: 4', optional: true },
    ],
  },
];

export const FLAP_FIELDS: (Field & { notClean?: boolean })[] = [
  { key: 'stall_speed_kcas', name: 'Stall', unit: 'kt CAS', spread: true },
  { key: 'maximum_speed_kcas', name: 'Flap limit', unit: 'kt', notClean: true },
  { key: 'glide_speed_kcas', name: 'Glide at', unit: 'kt CAS', optional: true, notClean: true },
  { key: 'glide_ratio', name: 'Glide ratio', unit: 'to 1', optional: true, spread: true, notClean: true },
  { key: 'travel_time_s', name: 'Travel', unit: 's', optional: true, notClean: true },
];

/** The profile's file, and which field stands on each of its lines (counted from 1). */
export function written(profile: Profile): { text: string; fieldAt: Map<number, string> } {
  const lines = ['{'];
  const fieldAt = new Map<number, string>();
  const say = (indent: string, key: string, value: unknown, field: string, last: boolean) => {
    lines.push(`${indent}${JSON.stringify(key)}: ${JSON.stringify(value)}${last ? '' : ','}`);
    fieldAt.set(lines.length, field);
  };
  const entries = (one: object) => Object.entries(one).filter(([, value]) => value !== undefined);
  const all = entries(profile);
  all.forEach(([key, value], i) => {
    const last = i + 1 === all.length;
    if (key !== 'flaps') return say('  ', key, value, key, last);
    lines.push('  "flaps": [');
    fieldAt.set(lines.length, key);
    profile.flaps.forEach((flap, at) => {
      lines.push('    {');
      const its = entries(flap);
      its.forEach(([name, number], j) => say('      ', name, number, `flaps[${at}].${name}`, j + 1 === its.length));
      lines.push(at + 1 === profile.flaps.length ? '    }' : '    },');
    });
    lines.push(last ? '  ]' : '  ],');
  });
  lines.push('}');
  return { text: `${lines.join('\n')}\n`, fieldAt };
}

/** None where the text is no profile that could be shown in the form. */
export function profileIn(text: string): Profile | undefined {
  try {
    const value = JSON.parse(text) as Partial<Profile> | null;
    const shown = value !== null && typeof value === 'object' && typeof value.name === 'string' && Array.isArray(value.flaps);
    return shown && value.flaps?.every((flap) => flap !== null && typeof flap === 'object') ? (value as Profile) : undefined;
  } catch {
    return undefined;
  }
}

/** A number as typed: with a point or a comma, a minus of either kind. Null for what is none. */
export function typedNumber(text: string): number | null {
  const plain = text.trim().replace(',', '.').replace('−', '-');
  return /^-?\d+(\.\d+)?$/.test(plain) ? Number(plain) : null;
}

/** The number with a value typed anew; its source is then the one that new numbers have. None where an optional one is cleared. */
export function withValue(before: Sourced | undefined, text: string, source: string, optional: boolean): Sourced | undefined {
  if (!text.trim() && optional) return undefined;
  return { ...before, value: typedNumber(text), source };
}

/** The field and the sentence of an error of the reader: "/airplane.json:5: best_glide_ratio 45; expected 3 to 40". */
export function readerProblem(sentence: string, fieldAt: Map<number, string>): { field: string; sentence: string } {
  const at = /^(?:glidewright: )?\S*?:(\d+): (.*)$/s.exec(sentence);
  return { field: fieldAt.get(Number(at?.[1])) ?? '', sentence: at?.[2] ?? sentence.replace(/^glidewright: /, '') };
}
