// What a debrief is asked with, and as arguments of the command line.

import { MARKS_FILE } from './marks';

export interface DebriefAsked {
  runway: string;
  pointFt: string;
  airplane: string;
  wind: string;
  metar: string;
  traffic: string;
  heights: '' | 'ft' | 'm'; // of the log that is open, where its own word for their unit is not believed
  withPlan: boolean; // measured against the plan that stands on the Plan side
}

export function emptyAsked(): DebriefAsked {
  return { runway: '', pointFt: '', airplane: 'generic-trainer', wind: '', metar: '', traffic: '', heights: '', withPlan: false };
}

/** What stands in the runway's box for the demonstration's own field. */
export const DEMO_FIELD = 'demonstration';
const DEMO_FIELD_FILE = '/data/demo/reference-flight/runway.json';

export const PLAN_FILE = '/plan.json';
export const PROFILE_FILE = '/airplane.json';

/** A plan brings its own runway, point and airplane, and its wind where none was reported since. */
export function arguments_of(asked: DebriefAsked, log: string, marked: boolean, plan?: { profile: string }): string[] {
  const args = ['debrief', log];
  const own: [string, string][] = [
    ['--runway', asked.runway.trim() === DEMO_FIELD ? DEMO_FIELD_FILE : asked.runway],
    ['--touchdown-point-ft', asked.pointFt],
    ['--airplane', asked.airplane],
  ];
  const planned: [string, string][] = [['--plan', PLAN_FILE], ['--airplane', plan?.profile ? PROFILE_FILE : '']];
  const given: [string, string][] = [...(plan ? planned : own), ['--traffic', asked.traffic]];
  for (const [option, value] of given) if (value.trim()) args.push(option, value.trim());
  if (asked.metar.trim()) args.push('--metar', asked.metar.trim().replace(/\s+/g, ' '));
  else if (asked.wind.trim()) args.push('--wind', asked.wind.trim());
  if (asked.heights) args.push('--height-unit', asked.heights);
  if (marked) args.push('--marks', MARKS_FILE);
  return args;
}
