// What `glidewright brief --json` prints (docs/schema/brief.json), as far as the page shows it.

export interface Edges {
  lowest_ft: number;
  highest_by_path_ft: number;
  highest_by_flaps_ft: number;
  highest_by_slip_ft: number;
}

export interface BandPlace {
  time_s: number;
  along_ft: number;
  cross_ft: number;
  height_ft: number;
  nine_in_ten: Edges;
  mean: Edges;
}

export interface Obstacle {
  what: string;
  along_ft: number; // past the point
  right_of_centreline_ft: number;
  top_above_threshold_ft: number;
}

export interface Brief {
  schema: string;
  runway: { airfield: string; designator: string; length_ft: number; touchdown_point_ft: number; obstacles: Obstacle[] };
  airplane: { id: string; name: string; weight_lb: number };
  wind: { from_true_deg: number; speed_kt: number; gust_kt: number };
  air: { temperature_c: number; altimeter_hpa: number; density_altitude_ft: number };
  pattern: { height_ft: number; spacing_nm: number; speed_kcas: number; traffic: 'left' | 'right' };
  cue: {
    seconds_past_abeam: number;
    distance_past_abeam_ft: number;
    angle_past_abeam_deg: number;
    angle_behind_wing_deg: number;
  } | null;
  key_points: {
    at: string;
    height_ft: number;
    low_ft: number;
    high_ft: number;
    reach_low_ft: number | null;
    reach_high_ft: number | null;
  }[];
  rules: {
    at: string;
    when: string;
    rule: string;
    in_box_followed: number;
    in_box_not_followed: number;
    gain_low95: number;
  }[];
  slip_rule: string | null;
  flaps: { at: string; setting_deg: number; rule: string }[];
  speeds: { final_kcas: number; gust_addition_kt: number } | null;
  looking_spot_ft: number | null;
  gate_altimeter_ft: number | null;
  planned_touchdown_ft: number | null;
  success: {
    probability: number;
    low95: number;
    high95: number;
    probability_second_early: number;
    probability_second_late: number;
    go_around: number;
    low80_ft: number;
    high80_ft: number;
    flights: number;
  } | null;
  sensitivities: { change: string; touchdown_ft: number; cue_s: number | null }[];
  band: { empty_because: string; places: BandPlace[] } | null;
  refusals: string[];
  cautions: string[];
  assumed: string[];
}
