// The page's engine, without a page: what it prints is what the command line program prints, byte for byte.

import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { after, before, test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import { zipped } from './zipped.mjs';

const root = fileURLToPath(new URL('../..', import.meta.url));
const program = `${root}build/dev/glidewright`;
const text = (path) => readFileSync(join(root, path));
let engine;
let folder;

before(async () => {
  // What emscripten's start for node expects of older modules.
  globalThis.__dirname = `${root}build/page`;
  globalThis.require = createRequire(import.meta.url);
  const { default: create } = await import(`${root}build/page/glidewright.mjs`);
  engine = await create({ wasmBinary: readFileSync(`${root}build/page/glidewright.wasm`) });
  folder = mkdtempSync(`${tmpdir()}/glidewright-`);
});
after(() => folder && rmSync(folder, { recursive: true }));

/** Runs both with the same arguments and files, found under the same names. */
function both(args, files = {}) {
  for (const [name, bytes] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, name)), { recursive: true });
    writeFileSync(join(folder, name), bytes);
    engine.FS.mkdirTree(`/home/${dirname(name)}`);
    engine.FS.writeFile(`/home/${name}`, bytes);
  }
  engine.FS.chdir('/home');
  const code = engine.ccall('glidewright_run', 'number', ['string'], [args.map((one) => `${one}\n`).join('')]);
  const page = { code, out: engine.FS.readFile('/out', { encoding: 'utf8' }), err: engine.FS.readFile('/err', { encoding: 'utf8' }) };
  let command;
  try {
    const out = execFileSync(program, args, { cwd: folder, encoding: 'utf8', stdio: 'pipe', maxBuffer: 1 << 28 });
    command = { code: 0, out, err: '' };
  } catch (failed) {
    command = { code: failed.status, out: failed.stdout, err: failed.stderr };
  }
  return { page, command };
}
/** Not by assert.equal, whose account of two long lines nobody reads: where they part, and how. */
function same(page, command) {
  if (page === command) return;
  let at = 0;
  while (page[at] === command[at]) at++;
  assert.fail(`they part at byte ${at}: page …${page.slice(at - 60, at + 40)}… program …${command.slice(at - 60, at + 40)}…`);
}
function alike(args, files) {
  const { page, command } = both([...args, '--json'], files);
  assert.equal(command.code, 0, command.err);
  assert.equal(page.code, 0, page.err);
  assert.ok(command.out.length > 500, 'there is something to compare');
  same(page.out, command.out);
}

const field = { 'field.json': text('data/demo/harrow-fen-24.json') };
const days = [
  ['a breeze', ['--airplane', 'demo-trainer', '--wind', '270/10']],
  ['a strong gusty headwind', ['--airplane', 'generic-trainer', '--wind', '240/18G26', '--temperature-c', '31']],
  ['calm, right-hand', ['--airplane', 'generic-low-wing', '--wind', 'calm', '--traffic', 'right', '--altimeter-hpa', '998']],
];
for (const [name, day] of days) {
  test(`brief: ${name}`, () => alike(['brief', '--runway', 'field.json', ...day, '--flights', '24000'], field));
  test(`band: ${name}`, () => alike(['band', '--runway', 'field.json', ...day], field));
}

const flight = (path) => text(`tests/data/flights/${path}`);
/** The runway that the flight was simulated on, and the wind at its start. */
function asked(path) {
  const truth = JSON.parse(flight(`${dirname(path)}/truth.json`));
  const { threshold_lat_deg, threshold_lon_deg, true_heading_deg, elevation_ft, length_ft } = truth.runway;
  const wind = truth.wind.at_10m;
  return [
    `--runway=${[threshold_lat_deg, threshold_lon_deg, true_heading_deg, elevation_ft, length_ft].join(',')}`,
    '--touchdown-point-ft', String(truth.touchdown_point.past_threshold_ft),
    '--wind', `${String(Math.round(wind.from_deg_true) || 360).padStart(3, '0')}/${Math.round(wind.speed_kt)}`,
  ];
}
const flown = [
  'F02/F02.gpx', 'F03/F03.csv', 'F03/F03.igc', 'F03/F03_gap7.gpx', 'F08/F08_5s.gpx', 'F11/F11.kml', 'F12/F12.nmea', 'F15/F15.gpx',
  'F18/F18.gpx', 'F20/F20.gpx', 'F22/F22.gpx', 'F24/F24.gpx',
];
for (const path of flown)
  test(`debrief: ${path}`, () => alike(['debrief', 'lesson', ...asked(path)], { lesson: flight(path) }));

test('packed logs, by content and not by name', () => {
  const gpx = flight('F15/F15.gpx');
  const with15 = asked('F15/F15.gpx');
  alike(['debrief', 'lesson', ...with15], { lesson: gzipSync(gpx) });
  alike(['debrief', 'lesson', ...with15], { lesson: zipped([['logs/one.gpx', gpx]]) });
  const kml = flight('F11/F11.kml');
  alike(['debrief', 'lesson', ...asked('F11/F11.kml')], { lesson: zipped([['files/photo.jpg', Buffer.alloc(9)], ['doc.kml', kml]]) });
  alike(['debrief', 'lesson', ...with15], { lesson: gzipSync(gpx).subarray(0, 15000) });
});

test('what cannot be unpacked is refused in the same words', () => {
  const gpx = flight('F15/F15.gpx');
  const damaged = gzipSync(gpx);
  damaged[damaged.length - 6] ^= 1;
  for (const bytes of [
    gzipSync(Buffer.alloc(16 << 20)),
    zipped([['doc.kml', Buffer.alloc(16 << 20)]]),
    zipped([['a.gpx', gpx], ['b.gpx', gpx]]),
    zipped([['a.gpx', gpx]]).subarray(0, 2000),
    gzipSync(gzipSync(gpx)),
    damaged,
  ]) {
    const { page, command } = both(['debrief', 'lesson', ...asked('F15/F15.gpx')], { lesson: bytes });
    assert.equal(command.code, 1);
    assert.equal(page.code, 1);
    assert.ok(command.err.includes('lesson'), command.err);
    same(page.err, command.err);
  }
});
