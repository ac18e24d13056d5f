// What `glidewright polar --json` prints (docs/schema/polar.json).

export interface Glide {
  speed_kcas: number;
  glide_ratio: number;
  sink_fpm: number;
}
export interface Turn {
  bank_deg: number;
  lost_ft: number;
  seconds: number;
  radius_ft: number;
  over_stall: number;
}
export interface FlapGlides {
  setting_deg: number;
  stall_kcas: number;
  maximum_speed_kcas: number | null;
  flattest: Glide;
  flown: Glide;
  lost_ft_per_nm_by_wind: (number | null)[];
  slipping: (Glide & { lost_ft_per_nm_by_wind: (number | null)[] }) | null;
  lost_ft_per_nm_by_speed: (number | null)[];
  turns: Turn[];
  curve: Glide[];
}
export interface Polar {
  schema: string;
  airplane: { id: string; name: string };
  problems: { field: string; sentence: string }[];
  weight_lb: number;
  density_altitude_ft: number;
  drag_sd_relative: number | null;
  headwinds_kt: number[];
  speeds_kcas: number[];
  turned_deg: number;
  flaps: FlapGlides[];
  assumed: string[];
}
