// The page in the real browser: how soon the first plan is there, with and without the engine kept, how large it is, how long
// a slider's picture and its odds take, how soon a long log is open, how many frames a replay draws, and how long the page
// ever keeps the browser from answering.

import { spawn } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import { planned } from '../web/e2e/planned.mjs';
import { fourHoursAtTenHertz } from './four_hours.mjs';

const root = fileURLToPath(new URL('..', import.meta.url));
const { chromium } = createRequire(`${root}web/package.json`)('playwright-core');
const page_folder = `${root}build/page/`;
const compressed_kb = (paths) => paths.reduce((sum, path) => sum + gzipSync(readFileSync(path), { level: 9 }).length, 0) / 1000;
const assets = readdirSync(`${page_folder}assets`).map((name) => `${page_folder}assets/${name}`);
const median = (values) => values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)];
const largest = (values) => Math.max(0, ...values);

const server = spawn(`${root}build/release/glidewright`, ['serve', '--page', page_folder]);
const address = await new Promise((resolve) => server.stdout.once('data', (text) => resolve(String(text).split('\n')[0])));
const browser = await chromium.launch({
  executablePath: '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking'],
});

/** A page that notes every task of its main thread that took more than 50 ms, which is what a browser tells of them. */
async function opened() {
  const context = await browser.newContext();
  const page = await context.newPage();
  await page.addInitScript(() => {
    window.long_tasks_ms = [];
    new PerformanceObserver((list) => window.long_tasks_ms.push(...list.getEntries().map((one) => one.duration))).observe({ type: 'longtask', buffered: true });
  });
  await page.goto(address);
  return { context, page };
}
const longTasks = (page) => page.evaluate(() => window.long_tasks_ms.splice(0));

async function firstPicture(page) {
  await page.locator('.six').waitFor();
  const first = await page.evaluate(() => performance.now());
  await planned(page);
  return first;
}

/**
 * From the slider's input event to the frame that shows the picture (path, band and cue drawn), and to the frame that shows
 * the odds of it, by the page's own clock: each press of a key when the answers to the one before are there.
 */
async function redraws(page, times) {
  await page.evaluate(() => {
    window.drawn = { picture: [], odds: [], engine: [] };
    let since, odds_since;
    const whenShown = (note) =>
      requestAnimationFrame(() => {
        const after_frame = new MessageChannel();
        after_frame.port1.onmessage = () => note(performance.now());
        after_frame.port2.postMessage(0);
      });
    document.addEventListener('input', (event) => { since = odds_since = event.timeStamp; }, true);
    new MutationObserver(() => {
      if (since === undefined) return;
      const began = since;
      since = undefined;
      window.drawn.engine.push(Number(document.querySelector('.tools .note').textContent.match(/in (\d+) ms/)[1]));
      whenShown((now) => window.drawn.picture.push(now - began));
    }).observe(document.querySelector('.drawings'), { subtree: true, childList: true, attributes: true, characterData: true });
    new MutationObserver(() => {
      if (odds_since === undefined || since !== undefined || document.querySelector('[aria-labelledby=land]').ariaBusy === 'true') return;
      const began = odds_since;
      odds_since = undefined;
      whenShown((now) => {
        window.drawn.odds.push(now - began);
        window.odds_shown();
      });
    }).observe(document.querySelector('[aria-labelledby=land]'), { subtree: true, childList: true, attributes: true, characterData: true });
  });
  await page.getByLabel(/^Wind \d/).focus();
  for (let k = 1; k <= times; k++) {
    // Nothing looks again and again whether they are there: that would keep the browser drawing.
    await page.evaluate(() => { window.answered = new Promise((resolve) => (window.odds_shown = resolve)); });
    await page.keyboard.press(k % 12 < 6 ? 'ArrowRight' : 'ArrowLeft');
    await page.evaluate(() => window.answered);
  }
  return page.evaluate(() => window.drawn);
}

const cold = [], warm = [], pictures = [], odds = [], engine = [], start_tasks = [], plan_tasks = [];
for (let i = 0; i < 5; i++) {
  const { context, page } = await opened();
  cold.push(await firstPicture(page));
  start_tasks.push(...(await longTasks(page)));
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  await page.reload();
  warm.push(await firstPicture(page));
  start_tasks.push(...(await longTasks(page)));
  const drawn = await redraws(page, 12);
  pictures.push(...drawn.picture);
  odds.push(...drawn.odds);
  engine.push(...drawn.engine);
  plan_tasks.push(...(await longTasks(page)));
  await context.close();
}

/** From the choice of the file to the frame that shows the debrief. */
async function openLog(page, file) {
  await page.evaluate(() => {
    document.querySelector('input[type=file]').addEventListener('change', (event) => {
      window.opened = new Promise((resolve) => requestAnimationFrame(function look(now) {
        if (document.querySelector('iframe')?.contentDocument?.querySelector('svg')) resolve(now - event.timeStamp);
        else requestAnimationFrame(look);
      }));
    }, true);
  });
  await page.locator('input[type=file]').setInputFiles(file);
  return page.evaluate(() => window.opened);
}
const folder = mkdtempSync(join(tmpdir(), 'glidewright-'));
const day = join(folder, 'day.csv');
writeFileSync(day, fourHoursAtTenHertz(`${root}tests/data/flights/F22/F22.csv`));
const day_ms = [], day_tasks = [];
for (let i = 0; i < 3; i++) {
  const { context, page } = await opened();
  await firstPicture(page);
  await page.getByRole('link', { name: 'Debrief' }).click();
  await longTasks(page);
  day_ms.push(await openLog(page, day));
  await page.waitForTimeout(1000); // the report is still being laid out
  day_tasks.push(...(await longTasks(page)));
  await context.close();
}
rmSync(folder, { recursive: true });

/** Frames of three seconds of replay in which the airplane was drawn at another place, by the second. */
async function replayed() {
  const { context, page } = await opened();
  await page.getByRole('link', { name: 'Debrief' }).click();
  await page.getByRole('button', { name: 'Demonstration' }).and(page.locator(':visible')).click();
  await page.locator('iframe').waitFor();
  await page.getByText('Replay', { exact: false }).and(page.locator('summary')).click();
  await page.getByRole('button', { name: 'Play', exact: true }).click();
  await longTasks(page);
  const frames_per_s = await page.evaluate(() => new Promise((resolve) => {
    const airplane = document.querySelector('.replay g[transform]');
    let began, last = '', frames = 0;
    requestAnimationFrame(function frame(now) {
      began ??= now;
      const place = airplane.getAttribute('transform');
      if (place !== last) frames++;
      last = place;
      if (now - began < 3000) requestAnimationFrame(frame);
      else resolve((1000 * frames) / (now - began));
    });
  }));
  const tasks = await longTasks(page);
  await context.close();
  return { frames_per_s, tasks };
}
const replay = await replayed();
await browser.close();
server.kill('SIGTERM');

console.log(JSON.stringify({
  schema: 'glidewright.measure/1',
  what: 'page',
  machine: { cores: cpus().length, isa: 'wasm simd128' },
  figures: {
    first_picture_warm_ms: Math.round(median(warm)),
    first_picture_cold_ms: Math.round(median(cold)),
    code_kb_compressed: Math.round(compressed_kb(assets)),
    engine_kb: Math.round(readFileSync(`${page_folder}glidewright.wasm`).length / 1000),
    engine_kb_compressed: Math.round(compressed_kb([`${page_folder}glidewright.wasm`, `${page_folder}glidewright.mjs`])),
    redraw_median_ms: Math.round(median(pictures)),
    engine_picture_median_ms: median(engine),
    odds_median_ms: Math.round(median(odds)),
    log_4h_10hz_open_ms: Math.round(median(day_ms)),
    replay_frames_per_s: Math.round(replay.frames_per_s),
    longest_task_start_ms: Math.round(largest(start_tasks)),
    longest_task_plan_ms: Math.round(largest(plan_tasks)),
    longest_task_log_ms: Math.round(largest(day_tasks)),
    longest_task_replay_ms: Math.round(largest(replay.tasks)),
  },
}, null, 2));
