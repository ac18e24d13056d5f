// What `glidewright runways search --json` and `runways show --json` print (docs/schema/runways.json).

export interface RunwayEnd {
  airfield: string;
  designator: string;
  threshold_latitude_deg: number;
  threshold_longitude_deg: number;
  true_bearing_deg: number;
  elevation_ft: number;
  length_ft: number;
  position_sd_ft: number;
  magnetic_variation_deg: number | null;
  magnetic_bearing_deg: number | null;
  notes: string[];
}
export interface Runways {
  schema: string;
  runways: RunwayEnd[];
  airfields: string[];
}
