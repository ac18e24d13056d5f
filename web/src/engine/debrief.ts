// What `glidewright debrief --json --with-path` prints (docs/schema/debrief.json), as far as the page itself needs it.

import type { Edges } from './brief';

export interface KeyPoint {
  time: string;
  height_ft: number;
}

/** Seconds count from the attempt's `flown_from`. */
export interface PlannedMoment {
  t_s: number;
  along_ft: number;
  cross_ft: number;
  height_ft: number;
  to_go_ft: number;
}
export interface InReach extends Edges {
  margin_ft: number;
}
export interface FlownMoment extends PlannedMoment {
  groundspeed_kt: number;
  course_true_deg: number;
  bank_deg: number;
  place_sd_ft: number;
  height_sd_ft: number;
  in_20_s: { along_ft: number; cross_ft: number; height_ft: number; covered_ft: number } | null;
  in_reach: InReach | null;
}

export interface Attempt {
  index: number;
  kind: string;
  traffic: 'left' | 'right';
  outcome: string;
  abeam: KeyPoint | null;
  base_turn: KeyPoint | null;
  final_turn: KeyPoint | null;
  gate: KeyPoint | null;
  go_around: KeyPoint | null;
  touchdown: { time: string; along_ft: number; low95_ft: number; high95_ft: number } | null;
  grades: { standard: string; verdict: string; probability_met: number | null; box: { low_ft: number; high_ft: number } | null }[];
  findings: { weight: string; sentence: string }[];
  lesson: string;
  plan_basis: string;
  flown_from: string;
  flown: FlownMoment[];
  planned: PlannedMoment[];
}

export interface Debrief {
  schema: string;
  log: { format: string; fixes: number; quality: { grade: string; notes: string[] } };
  runway: { designator: string; length_ft: number; touchdown_point_ft: number; true_bearing_deg: number };
  attempts: Attempt[];
  cautions: string[];
}
