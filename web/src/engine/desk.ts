// What `glidewright desk --json` prints (docs/schema/desk.json), and the hands that it takes (docs/schema/hands.json).

import type { Place } from './drill';

export interface Hands {
  bank_deg: number;
  airspeed_kcas: number;
  flap_deg: number;
  slip: boolean;
  go_around: boolean;
}
export interface Hold extends Hands {
  ticks: number;
}
export interface DeskMoment extends Place {
  calibrated_airspeed_kt: number;
  sink_fpm: number;
  bank_deg: number;
  heading_true_deg: number;
  flap_deg: number;
  slip: number;
}
export interface Desk {
  runway: { airfield: string; designator: string; true_bearing_deg: number };
  airplane: { id: string; name: string; weight_lb: number };
  threshold_along_ft: number;
  runway_end_along_ft: number;
  traffic: 'left' | 'right';
  box: { low_ft: number; high_ft: number };
  gate_height_ft: number;
  spacing_ft: number;
  pattern_height_ft: number;
  glide_speed_kcas: number;
  flap_settings_deg: number[];
  tick_s: number;
  phase: 'downwind' | 'slowing' | 'gliding' | 'flaring' | 'going-around' | 'down';
  end: 'under-way' | 'landed' | 'off-the-runway' | 'went-around' | 'out-of-time';
  now: DeskMoment;
  slowest_kcas: number;
  fastest_kcas: number;
  slip_forbidden: boolean;
  way: Place[];
  touchdown: DeskMoment | null;
  assumed: string[];
}
