// The page in a real browser, served by the real program, against the command line's own numbers.

import assert from 'node:assert/strict';
import { execFileSync, spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { after, before, test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import { chromium } from 'playwright-core';
import { FLIGHTS, planned } from './planned.mjs';
import { zipped } from './zipped.mjs';

const root = fileURLToPath(new URL('../..', import.meta.url));
const program = `${root}build/dev/glidewright`;
const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const flight = `${root}data/demo/reference-flight/`;
let server;
let browser;
let address;

const json = (...args) => JSON.parse(execFileSync(program, [...args, '--json'], { cwd: root, encoding: 'utf8' }));

before(async () => {
  server = spawn(program, ['serve', '--page', `${root}build/page`], { stdio: ['ignore', 'pipe', 'inherit'] });
  address = await new Promise((resolve, reject) => {
    server.stdout.once('data', (text) => resolve(String(text).split('\n')[0]));
    server.once('exit', (code) => reject(new Error(`glidewright serve ended with ${code}`)));
  });
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

async function open(where = '', options = {}) {
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 }, ...options });
  const page = await context.newPage();
  page.setDefaultTimeout(60000);
  const faults = [];
  page.on('pageerror', (error) => faults.push(error.message));
  page.on('console', (message) => message.type() === 'error' && faults.push(message.text()));
  page.on('request', (request) => {
    const url = new URL(request.url());
    if (url.protocol.startsWith('http') && !request.url().startsWith(address)) faults.push(`asked ${request.url()}`);
  });
  await page.goto(address + where);
  return { context, page, faults };
}
const sixNumbers = (page) => page.locator('.six dd').allInnerTexts().then((all) => all.map((one) => one.replace(/\s/g, '')));
async function demonstrated(page) {
  await page.getByRole('button', { name: 'Demonstration' }).and(page.locator(':visible')).click();
  await page.locator('iframe').waitFor();
}
async function seeFirstAt90(page) {
  await page.getByLabel(/^Attempt 1/).fill('+90');
  await page.getByLabel(/^Attempt 1/).press('Tab');
  await page.waitForFunction(() => document.querySelector('.seen li')?.textContent?.includes('now +90 ft'));
}
async function dropPicture(page) {
  const buffer = Buffer.from([255, 216, 255, 224, 0, 16]);
  await page.getByLabel(/Track log/).setInputFiles({ name: 'holiday.jpg', mimeType: 'image/jpeg', buffer });
}
async function noBarrier(page) {
  await page.evaluate(axe);
  const found = await page.evaluate(() => window.axe.run(document, { resultTypes: ['violations'] }));
  assert.deepEqual(found.violations.map((one) => `${one.id}: ${one.nodes[0]?.html.slice(0, 160)} ${one.nodes[0]?.failureSummary ?? ''}`), []);
}
const feet = (value) => `${(Math.round(value / 10) * 10).toLocaleString('en-US')}`;

test('the plan shows the command line\'s numbers at once', async () => {
  const { page, context, faults } = await open();
  await planned(page);
  const brief = json('brief', '--runway', 'data/demo/harrow-fen-24.json', '--airplane', 'demo-trainer', '--wind', '270/10',
    '--flights', FLIGHTS);
  const at = (name) => brief.key_points.find((one) => one.at === name).height_ft;
  assert.deepEqual(await sixNumbers(page), [
    `${Math.round(brief.cue.seconds_past_abeam)}s`,
    `${Math.round(brief.cue.angle_behind_wing_deg)}°`,
    `${feet(at('base turn'))}ft`,
    `${feet(at('final turn'))}ft`,
    `${Math.round(brief.speeds.final_kcas)}kt`,
    `${feet(brief.gate_altimeter_ft)}ft`,
  ]);
  assert.ok((await page.locator('svg polygon').count()) >= 2, 'the band is on the strip');
  assert.deepEqual(faults, []);
  await context.close();
});

test('more headwind turns base sooner, and undo brings it back', async () => {
  const { page, context } = await open();
  await planned(page);
  const first = await sixNumbers(page);
  const wind = page.getByLabel(/^Wind \d/);
  await wind.focus();
  for (let i = 0; i < 4; i++) await page.keyboard.press('ArrowRight');
  await page.waitForFunction((before) => document.querySelector('.six dd')?.textContent !== before, first[0]);
  await planned(page);
  const later = await sixNumbers(page);
  assert.ok(parseInt(later[0], 10) < parseInt(first[0], 10), `${later[0]} after ${first[0]}`);
  await page.keyboard.press('Tab');
  for (let i = 0; i < 6 && (await page.getByRole('button', { name: 'Undo' }).isEnabled()); i++)
    await page.getByRole('button', { name: 'Undo' }).click();
  await page.waitForFunction((before) => document.querySelector('.six dd')?.textContent === before, first[0]);
  await planned(page);
  assert.deepEqual(await sixNumbers(page), first);
  await context.close();
});

test('a weather report is read, a bad one is refused in words, and the plan before stays', async () => {
  const { page, context } = await open();
  await planned(page);
  const report = page.getByLabel(/Weather report/);
  await report.fill('XHFN 140850Z 24012KT 9999 12/05 Q1019');
  await page.waitForFunction(() => document.querySelector('summary')?.textContent?.includes('240° 12 kt'));
  await report.fill('XHFN 140850Z 24x12KT');
  await page.getByRole('alert').waitFor();
  assert.match(await page.getByRole('alert').innerText(), /cannot be planned/);
  assert.equal(await page.locator('.six').count(), 1);
  await context.close();
});

test('where no plan is offered there is a reason and no number', async () => {
  const { page, context } = await open();
  await planned(page);
  await page.getByLabel(/Weather report/).fill('XHFN 140850Z 33030KT 9999 12/05 Q1019');
  await page.getByText('No plan is offered').waitFor();
  assert.equal(await page.locator('.six').count(), 0);
  assert.match(await page.locator('section.error').innerText(), /Crosswind/);
  await context.close();
});

test('a reload keeps what was entered, and works without a network', async () => {
  const { page, context } = await open();
  await planned(page);
  await page.getByLabel('Traffic').selectOption('right');
  await page.waitForFunction(() => document.querySelector('summary')?.textContent?.includes('right-hand'));
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  await page.reload();
  await planned(page);
  await context.setOffline(true);
  await page.reload();
  await planned(page);
  assert.match(await page.locator('summary').innerText(), /right-hand/);
  assert.match(await page.locator('.where').innerText(), /Offline/);
  await context.close();
});

test('a dropped log is debriefed as the command line does it', async () => {
  const { page, context, faults } = await open('#debrief');
  await page.getByLabel(/Runway: five numbers/).fill('demonstration');
  await page.getByLabel(/Point, ft/).and(page.locator(':visible')).fill('600');
  await page.getByLabel('Wind reported before the flight').fill('210/9');
  await page.getByLabel(/Track log/).setInputFiles(`${flight}touch-and-goes.gpx`);
  await page.locator('iframe').waitFor();
  const debrief = json('debrief', `${flight}touch-and-goes.gpx`, '--runway', `${flight}runway.json`, '--touchdown-point-ft', '600',
    '--wind', '210/9', '--airplane', 'generic-trainer');
  const list = await page.locator('.seen li').allInnerTexts();
  assert.equal(list.length, debrief.attempts.length);
  debrief.attempts.forEach((attempt, i) => {
    const along = attempt.touchdown.along_ft;
    const shown = `${along < 0 ? '−' : '+'}${feet(Math.abs(along))} ft`;
    assert.ok(list[i].includes(shown), `${list[i]} has ${shown}`);
  });
  const report = page.frameLocator('iframe');
  assert.match(await report.locator('body').innerText(), /Safety first/);
  assert.ok((await report.locator('.ribbon').count()) > 0);
  assert.deepEqual(faults, []);
  await context.close();
});

test('a packed log is debriefed as the log in it, whatever it is called', async () => {
  const { page, context, faults } = await open('#debrief');
  const gpx = readFileSync(`${flight}touch-and-goes.gpx`);
  for (const [name, buffer] of [['lesson.gpx.gz', gzipSync(gpx)], ['lesson.zip', zipped([['touch-and-goes.gpx', gpx]])], ['lesson', gzipSync(gpx)]]) {
    await page.getByLabel(/Track log/).setInputFiles({ name, mimeType: 'application/octet-stream', buffer });
    await page.waitForFunction((title) => document.querySelector('[role=status].note')?.textContent?.includes(`${title}: 3 attempts`), name);
  }
  assert.deepEqual(faults, []);
  await context.close();
});

test('a packed file that would burst is refused in a sentence', async () => {
  const { page, context } = await open('#debrief');
  await page.getByLabel(/Track log/).setInputFiles({ name: 'zeros.gz', mimeType: 'application/gzip', buffer: gzipSync(Buffer.alloc(32 << 20)) });
  await page.getByRole('alert').waitFor();
  assert.match(await page.getByRole('alert').innerText(), /zeros\.gz: unpacks to more than 200 times its size/);
  await context.close();
});

test('what the instructor saw counts, and the log\'s own stays beside it', async () => {
  const { page, context } = await open('#debrief');
  await demonstrated(page);
  await seeFirstAt90(page);
  assert.match(await page.frameLocator('iframe').locator('#attempt-1').innerText(), /seen/i);
  await context.close();
});

test('a file that is no track log is refused in a sentence', async () => {
  const { page, context } = await open('#debrief');
  await dropPicture(page);
  await page.getByRole('alert').waitFor();
  assert.match(await page.getByRole('alert').innerText(), /was not debriefed\. holiday\.jpg/);
  await context.close();
});

test('a refused file leaves the debrief before it, under its own name', async () => {
  const { page, context } = await open('#debrief');
  await demonstrated(page);
  await seeFirstAt90(page);
  await dropPicture(page);
  await page.getByRole('alert').waitFor();
  assert.match(await page.getByRole('status').innerText(), /^touch-and-goes\.gpx: 3 attempts/);
  assert.match(await page.getByRole('alert').innerText(), /CSV\. What stands below is touch-and-goes\.gpx\.$/);
  assert.equal(await page.getByLabel(/^Attempt 1/).inputValue(), '+90');
  // And it is still the log that is debriefed again.
  await page.getByRole('button', { name: 'Debrief', exact: true }).and(page.locator(':visible')).click();
  await page.getByRole('alert').waitFor({ state: 'detached' });
  assert.match(await page.getByRole('status').innerText(), /^touch-and-goes\.gpx: 3 attempts/);
  await context.close();
});

const drillArguments = ['drill', '--runway', 'data/demo/harrow-fen-24.json', '--airplane', 'demo-trainer', '--wind', '270/10'];
/** A drill whose pictures are known beforehand. */
async function drilled(options = {}) {
  const opened = await open('', options);
  await opened.page.evaluate(() => localStorage.setItem('glidewright.drill', JSON.stringify({ seed: 4711 })));
  await opened.page.goto(`${address}#drill`);
  await opened.page.reload();
  await opened.page.getByRole('button', { name: 'Show me' }).waitFor();
  return { ...opened, truth: json(...drillArguments, '--seed', '4711').situations };
}
const NAMES = { low: 'Low', on: 'On', high: 'High' };
async function answered(page, energy) {
  await page.getByRole('button', { name: NAMES[energy] }).click();
  await page.getByRole('button', { name: 'Show me' }).click();
  await page.waitForFunction(() => / right/.test(document.querySelector('.words')?.textContent ?? ''));
}

test('a drill hides the answer, then tells what the command line tells', async () => {
  const { page, context, truth, faults } = await drilled();
  const hidden = await page.locator('.drill').innerText();
  assert.ok(!/lands at|What mends it/.test(hidden), hidden);
  assert.equal(await page.locator('.drill .verdict').count(), 0);
  await answered(page, 'high');
  const text = await page.locator('.drill').innerText();
  const lands = truth[0].answer.words.replace(/^\w+: /, '');
  assert.ok(text.toLowerCase().includes(lands.toLowerCase()), `${text} has ${lands}`);
  assert.ok(text.includes(truth[0].answer.remedy_words));
  assert.ok(text.includes(`${truth[0].answer.energy === 'high' ? 1 : 0} of 1 right`));
  assert.deepEqual(faults, []);
  await context.close();
});

test('ten right answers by keyboard, a reload between them, and the file is filed as it is', async () => {
  const { page, context, truth } = await drilled();
  for (const [i, one] of truth.entries()) {
    await page.keyboard.press(one.answer.energy[0]);
    await page.keyboard.press('s');
    await page.keyboard.press('Enter');
    await page.waitForFunction(() => / right/.test(document.querySelector('.words')?.textContent ?? ''));
    if (i === 4) {
      await page.reload();
      await page.getByText('picture 6 of 10').waitFor();
    } else {
      await page.keyboard.press('Enter');
    }
  }
  await page.getByText('10 of 10 right', { exact: true }).waitFor();
  assert.match(await page.locator('.drill').innerText(), /when sure, 10 of 10/);
  const [download] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: 'Save the answers' }).click()]);
  const folder = mkdtempSync(`${tmpdir()}/glidewright-`);
  await download.saveAs(`${folder}/answers.json`);
  const record = (...args) => execFileSync(program, ['record', ...args, '--records', `${folder}/records`], { cwd: root, encoding: 'utf8' });
  record('add', 'Demo Student', '--by', 'Demo Instructor');
  assert.match(record('drills', 'Demo Student', `${folder}/answers.json`, '--by', 'Demo Instructor'), /10 new answers/);
  rmSync(folder, { recursive: true });
  await context.close();
});

test('a mark on the sketch is measured, by tap and by keyboard', async () => {
  const { page, context, truth } = await drilled();
  const sketch = page.getByRole('application');
  await sketch.focus();
  const { now } = truth[0];
  for (let i = 0; i < 3; i++) await page.keyboard.press('ArrowRight');
  await answered(page, 'on');
  const later = truth[0].answer.in_20_s;
  const off = Math.hypot(now.along_ft + 300 - later.along_ft, now.cross_ft - later.cross_ft);
  const told = Number((await page.locator('.words').innerText()).match(/your mark was ([\d,]+) ft off/)[1].replace(',', ''));
  assert.ok(Math.abs(told - off) <= 10, `${told} ft, reckoned ${off}`);
  await context.close();
});

test('a drill works without a network', async () => {
  const { page, context } = await drilled();
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  await context.setOffline(true);
  await page.reload();
  await page.getByRole('button', { name: 'Show me' }).waitFor();
  await answered(page, 'low');
  await context.close();
});

for (const scheme of ['light', 'dark'])
  test(`no barrier in a drill in ${scheme}, before and after the answer`, async () => {
    const { page, context } = await drilled({ colorScheme: scheme, viewport: { width: 390, height: 844 }, hasTouch: true });
    await noBarrier(page);
    await answered(page, 'on');
    await noBarrier(page);
    assert.ok((await page.evaluate(() => document.documentElement.scrollWidth)) <= 390, 'too wide');
    await context.close();
  });

for (const scheme of ['light', 'dark'])
  for (const where of ['', '#debrief'])
    test(`no barrier on ${where || '#plan'} in ${scheme}`, async () => {
      const { page, context } = await open(where, { colorScheme: scheme });
      if (where) await demonstrated(page);
      else await planned(page);
      await noBarrier(page);
      await context.close();
    });

test('on a phone the answer comes first and nothing scrolls sideways', async () => {
  for (const where of ['', '#debrief']) {
    const { page, context } = await open(where, { viewport: { width: 390, height: 844 }, hasTouch: true });
    if (where) await demonstrated(page);
    else await planned(page);
    assert.ok((await page.evaluate(() => document.documentElement.scrollWidth)) <= 390, `${where} is too wide`);
    if (!where) assert.ok((await page.locator('.six dd').first().boundingBox()).y < 500);
    await context.close();
  }
});
