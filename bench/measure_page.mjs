// The page in the real browser: how soon the first plan is there, with and without the engine kept, how large it is, and how
// long a slider's plan takes.

import { spawn } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { cpus } from 'node:os';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import { planned } from '../web/e2e/planned.mjs';

const root = fileURLToPath(new URL('..', import.meta.url));
const { chromium } = createRequire(`${root}web/package.json`)('playwright-core');
const page_folder = `${root}build/page/`;
const compressed_kb = (paths) => paths.reduce((sum, path) => sum + gzipSync(readFileSync(path), { level: 9 }).length, 0) / 1000;
const assets = readdirSync(`${page_folder}assets`).map((name) => `${page_folder}assets/${name}`);
const median = (values) => values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)];

const server = spawn(`${root}build/release/glidewright`, ['serve', '--page', page_folder]);
const address = await new Promise((resolve) => server.stdout.once('data', (text) => resolve(String(text).split('\n')[0])));
const browser = await chromium.launch({
  executablePath: '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking'],
});

const firstPicture = async (page) => {
  await page.locator('.six').waitFor();
  const first = await page.evaluate(() => performance.now());
  await planned(page);
  return first;
};
const cold = [], warm = [], redraws = [], engine = [];
for (let i = 0; i < 5; i++) {
  const context = await browser.newContext();
  const page = await context.newPage();
  await page.goto(address);
  cold.push(await firstPicture(page));
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  await page.reload();
  warm.push(await firstPicture(page));
  const summary = () => page.locator('summary').innerText();
  await page.getByLabel(/^Wind \d/).focus();
  for (let k = 0; k < 6; k++) {
    const before = await summary();
    const began = await page.evaluate(() => performance.now());
    await page.keyboard.press('ArrowRight');
    await page.waitForFunction((text) => document.querySelector('summary').innerText !== text, before, { polling: 'raf' });
    redraws.push((await page.evaluate(() => performance.now())) - began);
    engine.push(Number((await page.locator('.tools .note').first().innerText()).match(/in (\d+) ms/)[1]));
  }
  await context.close();
}
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
    redraw_median_ms: Math.round(median(redraws)),
    engine_plan_median_ms: median(engine),
  },
}, null, 2));
