// What public parsers of other people read from the same bytes, against what the program reads: two readers that share
// no code agree, or one of them is wrong.

import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { gpx, kml } from '@tmcw/togeojson';
import { DOMParser } from '@xmldom/xmldom';
import { parseMetar } from 'metar-taf-parser';

const require = createRequire(import.meta.url);
const geomagnetism = require('geomagnetism');
const IGCParser = require('igc-parser');
const { parseNmeaSentence } = require('nmea-simple');

const root = fileURLToPath(new URL('../..', import.meta.url));
const program = process.env.GLIDEWRIGHT_PROGRAM || `${root}build/dev/glidewright`;
const k_knots_per_metre_per_second = 3600 / 1852;
let folder;

before(() => {
  folder = mkdtempSync(`${tmpdir()}/glidewright-oracles-`);
});
after(() => rmSync(folder, { recursive: true }));

function run(args, environment = {}) {
  return execFileSync(program, args, { cwd: root, encoding: 'utf8', stdio: 'pipe', maxBuffer: 1 << 28, env: { ...process.env, ...environment } });
}

/** Files with this ending, of the project and of whatever folders were named. */
function logs(ending) {
  const found = [];
  const search = (path) => {
    if (!statSync(path).isDirectory()) {
      if (path.toLowerCase().endsWith(ending)) found.push(path);
      return;
    }
    for (const name of readdirSync(path).sort()) search(join(path, name));
  };
  for (const path of [`${root}tests/data/flights`, `${root}data/demo`, ...(process.env.GLIDEWRIGHT_ORACLE_LOGS || '').split(':').filter(Boolean)])
    search(path);
  return found;
}

/** The log as the program reads it, from the GeoJSON that it writes: {time, latitude, longitude, metres}, and its notes. */
function fixesOf(log) {
  const written = join(folder, 'written.geojson');
  const report = JSON.parse(run(['convert', log, '--to', written, '--force', '--json']));
  const fixes = JSON.parse(readFileSync(written, 'utf8')).features.flatMap((feature) => fixesIn(feature));
  assert.equal(fixes.length, report.fixes, log);
  return { fixes, notes: report.notes };
}

/** Lines of one or several parts, with the times beside them. */
function fixesIn({ geometry, properties }) {
  if (geometry.type !== 'LineString' && geometry.type !== 'MultiLineString') return [];
  const parts = geometry.type === 'LineString' ? [geometry.coordinates] : geometry.coordinates;
  const beside = properties.coordinateProperties?.times ?? properties.time_utc;
  const times = geometry.type === 'LineString' ? [beside] : beside;
  return parts.flatMap((places, part) =>
    places.map(([longitude, latitude, metres], i) => ({ time: Date.parse(times[part][i]), latitude, longitude, metres })),
  );
}

/** What the repairs leave of a list: times strictly rising, the first of repeats kept. The logs here run forwards. */
const rising = (fixes) => fixes.filter((fix, i) => i === 0 || fix.time > fixes[i - 1].time);

/** The same moments, places and heights. GeoJSON is written to 1e-8 degrees and a millimetre. */
function assertSame(ours, theirs, log, metresApart = 0.0015) {
  assert.ok(theirs.length > 10, `${log}: the other parser reads ${theirs.length} fixes`);
  assert.equal(ours.length, theirs.length, `${log}: number of fixes`);
  ours.forEach((fix, i) => {
    const other = theirs[i];
    assert.equal(fix.time, other.time, `${log}: time of fix ${i}`);
    assert.ok(Math.abs(fix.latitude - other.latitude) < 2e-8, `${log}: latitude of fix ${i}: ${fix.latitude} ${other.latitude}`);
    assert.ok(Math.abs(fix.longitude - other.longitude) < 2e-8, `${log}: longitude of fix ${i}: ${fix.longitude} ${other.longitude}`);
    if (other.metres !== undefined && other.metres !== null)
      assert.ok(Math.abs(fix.metres - other.metres) < metresApart, `${log}: height of fix ${i}: ${fix.metres} ${other.metres}`);
  });
}

test('GPX tracks, against @tmcw/togeojson', () => {
  const found = logs('.gpx');
  assert.ok(found.length >= 12, `${found.length} logs`);
  for (const log of found) {
    const document = new DOMParser().parseFromString(readFileSync(log, 'utf8'), 'text/xml');
    assertSame(fixesOf(log).fixes, rising(gpx(document).features.flatMap(fixesIn)), log);
  }
});

test('KML tracks, against @tmcw/togeojson', () => {
  const found = logs('.kml');
  assert.ok(found.length >= 2, `${found.length} logs`);
  for (const log of found) {
    const document = new DOMParser().parseFromString(readFileSync(log, 'utf8'), 'text/xml');
    assertSame(fixesOf(log).fixes, rising(kml(document).features.flatMap(fixesIn)), log);
  }
});

test('the GPX that the program writes, against @tmcw/togeojson', () => {
  for (const log of logs('.csv').filter((name) => !name.includes('avionics') && /\/F\d\d\.csv$/.test(name))) {
    const written = join(folder, 'written.gpx');
    run(['convert', log, '--to', written, '--force']);
    const document = new DOMParser().parseFromString(readFileSync(written, 'utf8'), 'text/xml');
    assertSame(fixesOf(log).fixes, rising(gpx(document).features.flatMap(fixesIn)), log);
  }
});

test('IGC records, against igc-parser', () => {
  const found = logs('.igc');
  assert.ok(found.length >= 1, `${found.length} logs`);
  for (const log of found) {
    const parsed = IGCParser.parse(readFileSync(log, 'utf8'), { lenient: true });
    const satellites = parsed.fixes.some((fix) => fix.gpsAltitude);
    const theirs = parsed.fixes
      // Nowhere yet: the program drops what a receiver writes before it knows its place.
      .filter((fix) => fix.latitude !== 0 || fix.longitude !== 0)
      .map((fix) => ({
        time: fix.timestamp,
        latitude: fix.latitude,
        longitude: fix.longitude,
        // A fix of two dimensions has no height of its own.
        metres: satellites ? (fix.valid ? fix.gpsAltitude : undefined) : fix.pressureAltitude,
      }));
    assertSame(fixesOf(log).fixes, rising(theirs), log);
  }
});

/** An IGC log of a GPX flight as a recorder would write it, over midnight where the flight is moved there. */
function igcOf(fixes, shift_s) {
  const two = (value) => String(value).padStart(2, '0');
  const angle = (value, digits, positive, negative) => {
    const thousandths = Math.round(Math.abs(value) * 60000);
    const minutes = String(thousandths % 60000).padStart(5, '0');
    return String(Math.floor(thousandths / 60000)).padStart(digits, '0') + minutes + (value < 0 ? negative : positive);
  };
  const first = new Date(fixes[0].time + 1000 * shift_s);
  const lines = ['AXXX001', `HFDTEDATE:${two(first.getUTCDate())}${two(first.getUTCMonth() + 1)}${two(first.getUTCFullYear() % 100)},01`];
  for (const fix of fixes) {
    const at = new Date(fix.time + 1000 * shift_s);
    lines.push(
      `B${two(at.getUTCHours())}${two(at.getUTCMinutes())}${two(at.getUTCSeconds())}` +
        angle(fix.latitude, 2, 'N', 'S') + angle(fix.longitude, 3, 'E', 'W') +
        `A00000${String(Math.round(fix.metres)).padStart(5, '0')}`,
    );
  }
  return `${lines.join('\r\n')}\r\n`;
}

test('IGC records over midnight, against igc-parser', () => {
  for (const log of logs('.gpx').slice(0, 4)) {
    const { fixes } = fixesOf(log);
    const midnight = 86400000;
    // The middle of the flight falls on midnight.
    const shift_s = (midnight - (fixes[Math.floor(fixes.length / 2)].time % midnight)) / 1000;
    const written = join(folder, 'midnight.igc');
    writeFileSync(written, igcOf(fixes, shift_s));
    const theirs = IGCParser.parse(readFileSync(written, 'utf8')).fixes.map((fix) => ({
      time: fix.timestamp, latitude: fix.latitude, longitude: fix.longitude, metres: fix.gpsAltitude,
    }));
    assert.ok(new Date(theirs[0].time).getUTCDate() !== new Date(theirs.at(-1).time).getUTCDate());
    assertSame(fixesOf(written).fixes, rising(theirs), log);
  }
});

/** Position, height and motion of each moment, from GGA and RMC as the other parser decodes them. */
function momentsOf(text) {
  const moments = new Map();
  let day;
  for (const line of text.split(/\r?\n/)) {
    const dollar = line.indexOf('$');
    if (dollar < 0) continue;
    const packet = parseNmeaSentence(line.slice(dollar));
    if (packet.sentenceId !== 'GGA' && packet.sentenceId !== 'RMC') continue;
    // GGA has a time of day only: of the day on which the parser runs.
    const when = packet.sentenceId === 'RMC' ? packet.datetime : packet.time;
    const time_of_day = when.getTime() % 86400000;
    if (packet.sentenceId === 'RMC') day = when.getTime() - time_of_day;
    const moment = moments.get(time_of_day) ?? {};
    moments.set(time_of_day, moment);
    if (packet.sentenceId === 'RMC') {
      moment.time = when.getTime();
      moment.knots = packet.speedKnots;
      moment.course = packet.trackTrue;
      moment.latitude ??= packet.latitude;
      moment.longitude ??= packet.longitude;
    } else {
      moment.time ??= day === undefined ? undefined : day + time_of_day;
      moment.latitude = packet.latitude;
      moment.longitude = packet.longitude;
      moment.metres = packet.altitudeMeters;
    }
  }
  return [...moments.values()];
}

test('NMEA sentences, against nmea-simple', () => {
  const found = logs('.nmea');
  assert.ok(found.length >= 1, `${found.length} logs`);
  for (const log of found) {
    const theirs = momentsOf(readFileSync(log, 'utf8'));
    assertSame(fixesOf(log).fixes, theirs, log);
    const written = join(folder, 'written.csv');
    run(['convert', log, '--to', written, '--force']);
    const [header, ...rows] = readFileSync(written, 'utf8').trim().split('\n').filter((line) => !line.startsWith('#'));
    const at = (name) => header.split(',').indexOf(name);
    rows.forEach((row, i) => {
      const cells = row.split(',');
      assert.ok(Math.abs(Number(cells[at('groundspeed_kt')]) - theirs[i].knots) < 0.0006, `${log}: speed of fix ${i}`);
      const apart = Math.abs(Number(cells[at('track_deg')]) - theirs[i].course);
      assert.ok(Math.min(apart, 360 - apart) < 0.006, `${log}: course of fix ${i}`);
    });
  }
});

/** Numbers that are the same on every run (a linear congruence; Knuth's constants). */
function drawn(seed) {
  let state = BigInt(seed);
  return (below) => {
    state = (state * 6364136223846793005n + 1442695040888963407n) & 0xffffffffffffffffn;
    return Number(state >> 33n) % below;
  };
}

function report(pick) {
  const padded = (value, digits) => String(value).padStart(digits, '0');
  const celsius = (value) => (value < 0 ? 'M' : '') + padded(Math.abs(value), 2);
  const metric = pick(3) === 0;
  const speed = 2 + pick(metric ? 12 : 25);
  const gust = pick(3) === 0 ? `G${padded(speed + 3 + pick(10), 2)}` : '';
  const wind = [
    () => `00000${metric ? 'MPS' : 'KT'}`,
    () => `VRB${padded(1 + pick(5), 2)}${metric ? 'MPS' : 'KT'}`,
    () => `${padded(10 * (1 + pick(36)), 3)}${padded(speed, 2)}${gust}${metric ? 'MPS' : 'KT'}`,
  ][Math.min(pick(8), 2)]();
  const varies = /^\d{3}[1-9]/.test(wind) && pick(4) === 0 ? ` ${padded(10 * pick(18), 3)}V${padded(10 * (18 + pick(18)), 3)}` : '';
  const sky = ['CAVOK', '9999 FEW030', '4000 -RA BKN008 OVC015', '10SM SCT025', '0800 FG VV001', '9999 SCT012CB'][pick(6)];
  const temperature = pick(70) - 35;
  const pressure = pick(2) === 0 ? `Q${padded(950 + pick(100), 4)}` : `A${2800 + pick(250)}`;
  return `${['', 'METAR ', 'SPECI '][pick(3)]}XHFN ${padded(1 + pick(28), 2)}${padded(pick(24), 2)}${padded(pick(60), 2)}Z ` +
    `${['', 'AUTO '][pick(2)]}${wind}${varies} ${sky} ${celsius(temperature)}/${celsius(temperature - pick(10))} ${pressure}` +
    ['', ' NOSIG', ' RMK AO2'][pick(3)];
}

test('weather reports, against metar-taf-parser', () => {
  const pick = drawn(20260514);
  const kinds = { calm: 0, variable: 0, gusts: 0, metric: 0 };
  for (let i = 0; i < 40; i++) {
    const text = report(pick);
    const theirs = parseMetar(text);
    const ours = JSON.parse(plan(text));
    const knots = theirs.wind.unit === 'MPS' ? k_knots_per_metre_per_second : 1;
    if (theirs.wind.unit === 'MPS') kinds.metric++;
    if (theirs.wind.degrees === undefined) {
      kinds.variable++;
      // A wind without direction is no wind for a plan; its speed is said.
      assert.equal(ours.wind.speed_kt, 0, text);
      const said = ours.assumed.join(' ').match(/variable ([\d.]+) kt/);
      assert.ok(said && Math.abs(Number(said[1]) - theirs.wind.speed * knots) <= 0.5, text);
    } else {
      if (theirs.wind.speed === 0) kinds.calm++;
      else assert.equal(ours.wind.from_true_deg, theirs.wind.degrees % 360, text);
      // Written to a tenth of a knot.
      assert.ok(Math.abs(ours.wind.speed_kt - theirs.wind.speed * knots) <= 0.0501, text);
      const gust = theirs.wind.gust ? (theirs.wind.gust - theirs.wind.speed) * knots : 0;
      if (gust) kinds.gusts++;
      assert.ok(Math.abs(ours.wind.gust_kt - gust) <= 0.0501, `${text}: ${ours.wind.gust_kt} ${gust}`);
    }
    assert.equal(ours.air.temperature_c, theirs.temperature, text);
    // An inch of mercury is 33.8639 hPa (ICAO Annex 5: 3.38639 kPa).
    const hpa = theirs.altimeter.value * (theirs.altimeter.unit === 'hPa' ? 1 : 33.8639);
    assert.ok(Math.abs(ours.air.altimeter_hpa - hpa) <= 0.0101, `${text}: ${ours.air.altimeter_hpa} ${hpa}`);
  }
  for (const [kind, count] of Object.entries(kinds)) assert.ok(count > 0, `no report was ${kind}`);
});

/** A plan answers with the wind and air that it was made in, and with 1 where they leave no cue. */
function plan(metar) {
  const args = ['brief', '--quick', '--runway', '54.5,2.5,243,82,4100', '--metar', metar, '--json'];
  try {
    return run(args);
  } catch (refused) {
    assert.equal(refused.status, 1, `${metar}: ${refused.stderr}`);
    return refused.stdout;
  }
}

test('magnetic variation today, against geomagnetism', (t) => {
  const now = new Date();
  let model;
  try {
    model = geomagnetism.model(now);
  } catch {
    t.skip(`geomagnetism has no model for ${now.toISOString().slice(0, 10)}`);
    return;
  }
  const places = [];
  for (let latitude = -80; latitude <= 80; latitude += 20)
    for (let longitude = -170; longitude < 180; longitude += 50) places.push([latitude + 0.5, longitude + 0.25]);
  const columns =
    'airport_ident,length_ft,width_ft,closed,le_ident,le_latitude_deg,le_longitude_deg,le_elevation_ft,le_heading_degT,' +
    'le_displaced_threshold_ft,he_ident,he_latitude_deg,he_longitude_deg,he_elevation_ft,he_heading_degT,he_displaced_threshold_ft';
  const rows = places.map(([latitude, longitude], i) => `ZZ${100 + i},3000,75,0,01,${latitude},${longitude},0,10,,19,,,,,`);
  const table = join(folder, 'runways.csv');
  writeFileSync(table, `${[columns, ...rows].join('\n')}\n`);
  let compared = 0, near_a_pole = 0;
  places.forEach((place, i) => {
    const search = JSON.parse(run(['runways', 'search', `ZZ${100 + i}`, '--json'], { GLIDEWRIGHT_RUNWAYS: table }));
    const ours = search.runways.find((one) => one.designator === '01').magnetic_variation_deg;
    const theirs = model.point(place);
    if (ours === null) {
      // Where the horizontal field is weak, nothing is said (caution zone of the model's report: 6,000 nT).
      assert.ok(theirs.h < 6000, `${place}: nothing said at ${theirs.h} nT`);
      near_a_pole++;
      return;
    }
    // Written to a tenth of a degree. The two count the year's part from midnight of slightly different calendars: a day is
    // worth less than a thousandth of a degree away from the poles.
    assert.ok(theirs.h >= 5990 && Math.abs(ours - theirs.decl) <= 0.055, `${place}: ${ours} ${theirs.decl}`);
    compared++;
  });
  assert.ok(compared > 50 && near_a_pole > 0, `${compared} compared, ${near_a_pole} near a pole`);
});
