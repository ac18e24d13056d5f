// What the drill page reads of `glidewright drill --json` (docs/schema/drill.json).

export type Energy = 'low' | 'on' | 'high';
export type Sureness = 'guess' | 'fairly' | 'sure';

export interface Place {
  time_s: number;
  along_ft: number;
  cross_ft: number;
  height_ft: number;
}

/** What a picture needs of a frozen moment, whether the engine flew it or somebody did. */
export interface Frozen {
  number: number;
  leg: string;
  words: string;
  flown: Place[];
  now: Place & { heading_true_deg: number; bank_deg: number };
  answer: {
    energy: Energy;
    words: string;
    touchdown_ft: number;
    in_20_s: Place;
    to_come: Place[];
    planned_height_ft?: number;
    lowest_ft: number | null;
    highest_by_slip_ft: number | null;
    remedy_words: string;
  };
}
export interface Situation extends Frozen {
  now: Frozen['now'] & { calibrated_airspeed_kt: number; flap_deg: number };
  answer: Frozen['answer'] & { beyond_box_ft: number; in_20_s: Place & { heading_true_deg: number }; planned_height_ft: number; remedy: string };
}
/** The ground under the pictures. */
export interface Under {
  runway: { designator: string; true_bearing_deg: number };
  threshold_along_ft: number;
  runway_end_along_ft: number;
  traffic: 'left' | 'right';
  box: { low_ft: number; high_ft: number };
  planned: Place[];
  situations: Frozen[];
}
/** What somebody says of a picture. */
export interface Given {
  said: Energy;
  sureness: Sureness;
  mark?: { alongFt: number; crossFt: number };
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

export interface Drill extends Under {
  seed: number;
  setting: string;
  situations: Situation[];
  answers: KeptAnswer[];
  score: { all: { right: number; of: number }; words: string[] };
}
