// The plan that stands on the Plan side, for a debrief to be measured against.

import type { Brief } from '../engine/brief';
import { whole } from '../parts/words';

export interface PlanMade {
  /** The engine's own JSON, which `debrief --plan` reads. */
  text: string;
  /** The profile it was made for, where it is the user's own; else empty. */
  profile: string;
  /** "base turn 12 s past abeam; Harrow Fen 24, left-hand; 270° 10 kt; ...". */
  words: string;
}

/** None until the whole plan is there, and where none is offered. */
export const made = $state<{ plan: PlanMade | undefined }>({ plan: undefined });

export function tellPlan(brief: Brief, text: string, profile: string): void {
  const words = brief.cue ? `base turn ${whole(brief.cue.seconds_past_abeam)} s past abeam; ${conditionsSentence(brief)}` : '';
  made.plan = brief.cue ? { text, profile, words } : undefined;
}

export function conditionsSentence(one: Brief): string {
  const calm = one.wind.speed_kt < 0.5;
  const gust = one.wind.gust_kt >= 0.5 ? `, gusts to ${whole(one.wind.speed_kt + one.wind.gust_kt)}` : '';
  const wind = calm ? 'calm' : `${String(Math.round(one.wind.from_true_deg)).padStart(3, '0')}° ${whole(one.wind.speed_kt)} kt${gust}`;
  const place = one.runway.airfield ? `${one.runway.airfield} ${one.runway.designator}` : `runway ${one.runway.designator}`;
  return `${place}, ${one.pattern.traffic}-hand; ${wind}; ${one.airplane.name}, ${whole(one.airplane.weight_lb)} lb; ${whole(one.pattern.height_ft)} ft at ${one.pattern.spacing_nm.toFixed(2)} NM`;
}
