// A lesson day of four hours, ten positions a second, as bench/four_hours.hpp writes it: a reference flight again and again,
// between its fixes a straight line.

import { readFileSync } from 'node:fs';

const ALL_S = 4 * 3600;
const PAUSE_S = 60;
const STEP_S = 0.1;

/** The text of a CSV with time_utc,lat_deg,lon_deg,alt_gnss_ft, made of another one. */
export function fourHoursAtTenHertz(file) {
  const [head, ...rows] = readFileSync(file, 'utf8').trim().split('\n');
  const columns = ['time_utc', 'lat_deg', 'lon_deg', 'alt_gnss_ft'].map((name) => head.split(',').indexOf(name));
  const fixes = rows.map((row) => row.split(',')).map((cells) => columns.map((at, i) => (i === 0 ? Date.parse(cells[at]) / 1000 : Number(cells[at]))));
  const beginsS = fixes[0][0];
  const lastsS = fixes.at(-1)[0] - beginsS;
  const lines = ['time_utc,lat_deg,lon_deg,alt_gnss_ft'];
  for (let againS = 0; againS < ALL_S; againS += lastsS + PAUSE_S) {
    let i = 0;
    for (let step = 0; step * STEP_S < lastsS && againS + step * STEP_S < ALL_S; step++) {
      const t = step * STEP_S;
      while (i + 2 < fixes.length && fixes[i + 1][0] - beginsS <= t) i++;
      const [a, b] = [fixes[i], fixes[i + 1]];
      const share = (beginsS + t - a[0]) / (b[0] - a[0]);
      const [latitude, longitude, height] = [1, 2, 3].map((k) => a[k] + share * (b[k] - a[k]));
      const time = new Date(Math.round(10 * (beginsS + againS + t)) * 100).toISOString();
      lines.push(`${time},${latitude.toFixed(8)},${longitude.toFixed(8)},${height.toFixed(1)}`);
    }
  }
  return `${lines.join('\n')}\n`;
}
