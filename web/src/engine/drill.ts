// What the drill page reads of `glidewright drill --json` (docs/schema/drill.json).

export type Energy = 'low' | 'on' | 'high';
export type Sureness = 'guess' | 'fairly' | 'sure';

export interface Place {
  time_s: number;
  along_ft: number;
  cross_ft: number;
  height_ft: number;
}

export interface Situation {
  number: number;
  leg: string;
  words: string;
  flown: Place[];
  now: Place & { heading_true_deg: number; bank_deg: number; calibrated_airspeed_kt: number; flap_deg: number };
  answer: {
    energy: Energy;
    words: string;
    touchdown_ft: number;
    beyond_box_ft: number;
    in_20_s: Place & { heading_true_deg: number };
    to_come: Place[];
    planned_height_ft: number;
    lowest_ft: number;
    highest_by_slip_ft: number;
    remedy: string;
    remedy_words: string;
  };
}

export interface KeptAnswer {
  uid: string;
  setting: string;
  at: string; // ISO 8601, UTC
  seed: number;
  number: number;
  said: Energy;
  truth: Energy;
  mark_ahead_ft: number | null;
  mark_right_ft: number | null;
}

export interface Drill {
  seed: number;
  runway: { designator: string; true_bearing_deg: number };
  threshold_along_ft: number;
  runway_end_along_ft: number;
  traffic: 'left' | 'right';
  box: { low_ft: number; high_ft: number };
  setting: string;
  planned: Place[];
  situations: Situation[];
  answers: KeptAnswer[];
  score: { all: { right: number; of: number }; words: string[] };
}
