// What all stories share: the page, served by the real program, in a real browser.

import assert from 'node:assert/strict';
import { execFileSync, spawn } from 'node:child_process';
import { mkdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { after, before } from 'node:test';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright-core';

export const root = fileURLToPath(new URL('../..', import.meta.url));
export const program = `${root}build/dev/glidewright`;
const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
export const flight = `${root}data/demo/reference-flight/`;
let server;
let browser;
export let address;

export const json = (...args) => JSON.parse(execFileSync(program, [...args, '--json'], { cwd: root, encoding: 'utf8' }));

/** The real program serving the built page; says where. */
export async function serve(...args) {
  const started = spawn(program, ['serve', '--page', `${root}build/page`, ...args], { stdio: ['ignore', 'pipe', 'inherit'] });
  const where = await new Promise((resolve, reject) => {
    started.stdout.once('data', (text) => resolve(String(text).split('\n')[0]));
    started.once('exit', (code) => reject(new Error(`glidewright serve ended with ${code}`)));
  });
  return { started, where };
}

before(async () => {
  ({ started: server, where: address } = await serve());
  browser = await chromium.launch({
    executablePath: '/usr/bin/chromium',
    args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking',
      '--disable-component-update', '--disable-sync'],
  });
});
after(async () => {
  await browser?.close();
  server?.kill('SIGTERM');
});

export async function open(where = '', options = {}) {
  const { address: elsewhere, ...how } = options;
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 }, ...how });
  const page = await context.newPage();
  page.setDefaultTimeout(60000);
  const faults = [];
  page.on('pageerror', (error) => faults.push(error.message));
  page.on('console', (message) => message.type() === 'error' && faults.push(message.text()));
  page.on('request', (request) => {
    const url = new URL(request.url());
    if (url.protocol.startsWith('http') && !request.url().startsWith(options.address ?? address)) faults.push(`asked ${request.url()}`);
  });
  await page.goto((elsewhere ?? address) + where);
  return { context, page, faults };
}
export async function demonstrated(page) {
  await page.getByRole('button', { name: 'Demonstration' }).and(page.locator(':visible')).click();
  await page.locator('iframe').waitFor();
}
/** axe-core finds nothing; `more` switches further rules of it on. */
export async function noBarrier(page, more = {}) {
  await page.evaluate(axe);
  const found = await page.evaluate((options) => window.axe.run(document, { resultTypes: ['violations'], ...options }), more);
  assert.deepEqual(found.violations.map((one) => `${one.id}: ${one.nodes[0]?.html.slice(0, 160)} ${one.nodes[0]?.failureSummary ?? ''}`), []);
}
/** A picture of the page or a part of it for whoever wants to look, in build/shots. */
export async function shot(page, name) {
  mkdirSync(`${root}build/shots`, { recursive: true });
  await page.screenshot({ path: `${root}build/shots/${name}.png`, fullPage: true });
}
