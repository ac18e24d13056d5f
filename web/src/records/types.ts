import type { Energy, KeptAnswer, Place } from '../engine/drill';

// What the server answers (docs/schema/server.json, roster.json, student.json, jobs.json, people.json).

export interface Person { number: number; name: string; sign_in?: string; role: 'student' | 'instructor' | 'administrator'; closed?: boolean; has_password?: boolean; student?: number }
export interface Here { records: boolean; sign_in?: boolean; person?: Person; now?: string }
export interface Due { on: string; what: string }
/** not_alone: said before the kinds were told apart. */
export type FlownBy = 'student' | 'student_prompted' | 'instructor' | 'controls_taken' | 'not_alone';
/** `otherwise_limited`: the texts of this id whose limits are others, by their SHA-256; what they judged does not count. */
export interface StandardLine { id: string; name: string; version?: string; set_by?: string; low_ft?: number; high_ft?: number; otherwise_limited?: string[] }
export interface StandardText { name: string; version?: string; set_by?: string; edition?: string; box: { low_ft: number; high_ft: number } | null }
export interface KeptStandard { id: string; sha256: string; added: string; added_by: string; standard: StandardText }
export interface Standards { standards: KeptStandard[] }
export interface Landing {
  attempt: number; flown: string; went_around: boolean; alone: boolean; flown_by: FlownBy; forced: boolean; probability_in_box: number;
  along_ft?: number; low95_ft?: number; high95_ft?: number;
}
export interface Met { made: number; of: number; at_least: number; next_mean: number; next_low90: number; next_high90: number }
export interface RosterRow {
  number: number; name: string; instructor?: number; instructor_name?: string; due?: Due; last_flown?: string; landings: Landing[]; met: Met;
  largest_cause?: { cause: string; mean_ft: number; attempts: number }; next?: string;
}
export interface Roster { standard: StandardLine; students: RosterRow[]; next_after?: number }
export interface Share { made: number; of: number }
export interface Assessment {
  by: string; at: string; standard: string; standard_sha256?: string; end: 'landed' | 'went-around'; probability_met: number; probability_in_box: number; student_alone: boolean; flown_by: FlownBy; forced: boolean;
  sound_go_around: boolean; said: { flown_by?: FlownBy; forced?: boolean; met?: boolean; in_box?: boolean }; runway: string; height_unit?: 'ft' | 'm'; airplane: string; along_ft: number | null;
  along_low95_ft: number | null; along_high95_ft: number | null; wind_kt: number | null; wind_from_true_deg: number | null; largest_cause: string;
  largest_cause_ft: number | null; reason: string;
}
export interface Attempt { number: number; log: string; log_name: string; index: number; time: string; in_trash: boolean; assessments: Assessment[] }
export interface Note { number: number; uid: string; attempt: number | null; text: string; by: string; at: string; in_trash: boolean }
export interface SignOff { number: number; uid: string; what: string; signed_by: string; signed_on: string; withdraws: string; by: string; at: string }
export interface Group { group: string; met: Share; low90: number; high90: number }
export interface StudentRecord {
  number: number;
  student: { uid: string; name: string; attempts: Attempt[]; notes: Note[]; sign_offs: SignOff[] };
  readiness: {
    standard: string; window: number; wanted: number; at_least: number; met: Share; in_box_of_landed: Share; go_around_decisions: Share; first_of_days: Share;
    next: { probability: number; low90: number; high90: number }; more_without_a_miss: number; left_out: { not_alone: number; forced: number; flown_by: Partial<Record<FlownBy, number>> };
    attempts: { time: string; end: string; probability_met: number; student_alone: boolean; forced: boolean; first_of_day: boolean }[];
  };
  progress: {
    causes: { cause: string; attempts: number; mean_ft: number; low90_ft: number; high90_ft: number; spread_ft: number }[];
    learning: { earlier: Share; later: Share; probability_better: number } | null;
    by_wind: Group[]; by_airplane: Group[]; by_instructor: Group[];
    practise: { what: string; reason: string }[];
  };
  judged_by_other_limits: number;
  standards: KeptStandard[];
  drill_score: { all: Share; words?: string[] };
  drill_over_time: { first: string; last: string; words: string }[];
}
export interface StudentShown { record: StudentRecord; standard: StandardLine; may_change: boolean; due?: Due; instructor?: number }
export interface FleetVersion { reason: string; by: string; at: string; sha256: string }
export interface FleetItem { number: number; uid: string; name: string; in_trash: boolean; versions: FleetVersion[] }
export interface Fleet { kind: 'airplane' | 'airfield'; items: FleetItem[] }
/** `before` the logs and with them; where it lies 95 times in 100. */
export interface Estimated { value: number; low95: number; high95: number }
export interface Fit {
  airplane: { id: string; name: string; weight_lb: number };
  logs: { glides_used: number; airspeed_error_kt: number; airspeed_error_sd_kt: number }[];
  estimates: { what: string; words: string; unit: string; before: Estimated; after: Estimated }[];
  drag_sd_relative: { before: number; after: number };
  noise_scale: number;
  glides: { trust: number }[];
  written: string | null;
  assumed: string[];
}
export interface OwnSituation {
  number: number; attempt: number; time: string; log_name: string; index: number; setting: string; leg: string; words: string;
  runway: { designator: string; true_bearing_deg: number }; threshold_along_ft: number; runway_end_along_ft: number; traffic: 'left' | 'right'; box: { low_ft: number; high_ft: number };
  flown: Place[]; now: Place; seat: { heading_true_deg: number; bank_deg: number; calibrated_airspeed_kt: number };
  answer: {
    energy: Energy; chance: number; words: string; touchdown_ft: number; low95_ft: number; high95_ft: number; in_20_s: Place; in_20_s_heading_true_deg: number; to_come: Place[];
    lowest_ft: number | null; highest_by_slip_ft: number | null; remedy_words: string;
  };
}
export interface OwnDrill { seed: number; situations: OwnSituation[]; left_out: { reason: string; attempts: number }[]; score: { all: Share; words: string[] } }
export interface Answered { answer: KeptAnswer; score: { all: Share; words: string[] } }
export interface Job { number: number; student: number; log: string; state: 'waiting' | 'taken' | 'done' | 'failed'; new_attempts?: number; judged_anew?: number; reason?: string }
