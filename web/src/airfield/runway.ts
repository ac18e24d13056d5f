// A runway's file as the page edits it, one number a line, so that the line an error names is the field.

import type { RunwayEnd } from '../engine/runways';

export interface RunwayFile {
  schema: string;
  airfield: string;
  designator: string;
  [field: string]: unknown;
}
export interface ObstacleEntry {
  what?: string;
  before_threshold_ft: number | null;
  right_of_centreline_ft?: number;
  top_above_threshold_ft: number | null;
}
export interface RunwayField {
  key: string;
  name: string;
  unit: string;
  hint?: string;
  optional?: boolean;
  length?: boolean; // in the unit that runway lengths are read in
}

export const FIELDS: RunwayField[] = [
  { key: 'threshold_latitude_deg', name: 'Latitude', unit: '° N', hint: 'of the beginning of the pavement; south negative' },
  { key: 'threshold_longitude_deg', name: 'Longitude', unit: '° E', hint: 'west negative' },
  { key: 'true_bearing_deg', name: 'Bearing, true', unit: '°', hint: 'in the landing direction' },
  { key: 'elevation_ft', name: 'Elevation', unit: 'ft', hint: 'of that place' },
  { key: 'length_ft', name: 'Length', unit: '', hint: 'all of the pavement', length: true },
  { key: 'displaced_ft', name: 'Threshold displaced by', unit: '', hint: 'left empty: not at all', optional: true, length: true },
  { key: 'slope_percent', name: 'Slope', unit: '%', hint: 'up in the landing direction positive; left empty: level', optional: true },
  { key: 'position_sd_ft', name: 'Place known to', unit: 'ft', hint: 'left empty: 5, surveyed; from a map 60', optional: true },
];

export const OBSTACLE_FIELDS: { key: keyof Omit<ObstacleEntry, 'what'>; name: string; optional?: boolean; signed?: boolean }[] = [
  { key: 'before_threshold_ft', name: 'Before the landing threshold, ft', signed: true },
  { key: 'right_of_centreline_ft', name: 'Right of the centreline, ft; left negative', optional: true, signed: true },
  { key: 'top_above_threshold_ft', name: 'Top above the threshold, ft' },
];

export function obstaclesOf(runway: RunwayFile): ObstacleEntry[] {
  return Array.isArray(runway.obstacles) ? (runway.obstacles as ObstacleEntry[]) : [];
}

export function newRunway(): RunwayFile {
  return { schema: 'glidewright.runway/1', airfield: '', designator: '', threshold_latitude_deg: null, threshold_longitude_deg: null, true_bearing_deg: null, elevation_ft: null, length_ft: null };
}

/** As a search found it; its threshold is the landing threshold already. */
export function runwayOf(end: RunwayEnd): RunwayFile {
  const { airfield, designator, threshold_latitude_deg, threshold_longitude_deg, true_bearing_deg, elevation_ft, length_ft, position_sd_ft } = end;
  return { schema: 'glidewright.runway/1', airfield, designator, threshold_latitude_deg, threshold_longitude_deg, true_bearing_deg, elevation_ft, length_ft, position_sd_ft };
}

export function runwayIn(text: string): RunwayFile | undefined {
  try {
    const value = JSON.parse(text) as Partial<RunwayFile> | null;
    const shown = value !== null && typeof value === 'object' && typeof value.airfield === 'string' && typeof value.designator === 'string';
    return shown ? (value as RunwayFile) : undefined;
  } catch {
    return undefined;
  }
}

/** Each number on its line, and each obstacle. */
export function written(runway: RunwayFile): { text: string; fieldAt: Map<number, string> } {
  const fieldAt = new Map<number, string>();
  const lines = ['{'];
  const entries = Object.entries(runway).filter(([, value]) => value !== undefined);
  entries.forEach(([key, value], i) => {
    const comma = i + 1 === entries.length ? '' : ',';
    const listed = key === 'obstacles' && Array.isArray(value) && value.length > 0;
    fieldAt.set(lines.length + 1, key);
    lines.push(`  ${JSON.stringify(key)}: ${listed ? '[' : JSON.stringify(value) + comma}`);
    if (!listed) return;
    value.forEach((one, at) => {
      fieldAt.set(lines.length + 1, `${key}[${at}]`);
      lines.push(`    ${JSON.stringify(one)}${at + 1 === value.length ? '' : ','}`);
    });
    lines.push(`  ]${comma}`);
  });
  return { text: `${lines.join('\n')}\n}\n`, fieldAt };
}
