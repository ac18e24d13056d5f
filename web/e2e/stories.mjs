// The page in a real browser, served by the real program, against the command line's own numbers.

import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { test } from 'node:test';
import { gzipSync } from 'node:zlib';
import { address, demonstrated, flight, json, noBarrier, open, program, root, shot } from './browser.mjs';
import { FLIGHTS, planned } from './planned.mjs';
import { zipped } from './zipped.mjs';

const sixNumbers = (page) => page.locator('.six dd').allInnerTexts().then((all) => all.map((one) => one.replace(/\s/g, '')));
async function seeFirstAt90(page) {
  await page.getByLabel(/^Attempt 1/).fill('+90');
  await page.getByLabel(/^Attempt 1/).press('Tab');
  await page.waitForFunction(() => document.querySelector('.seen li')?.textContent?.includes('now +90 ft'));
}
async function dropPicture(page) {
  const buffer = Buffer.from([255, 216, 255, 224, 0, 16]);
  await page.getByLabel(/Track log/).setInputFiles({ name: 'holiday.jpg', mimeType: 'image/jpeg', buffer });
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

test('a link holds the conditions, the plan before it comes back by undo, and a reload keeps it', async () => {
  const { page, context } = await open('#plan?wind=200/14G20&traffic=right&pattern-height-ft=1200&weight-lb=2200');
  await planned(page);
  assert.match(await page.locator('summary').innerText(), /right-hand; 200° 14 kt, gusts to 20; .* 2,200 lb; 1,200 ft/);
  assert.match(page.url(), /wind=200\/14G20&since=/);
  await page.reload();
  await planned(page);
  assert.match(await page.locator('summary').innerText(), /right-hand; 200° 14 kt/);
  // Followed on an open page; and what was there before is one undo away.
  await page.evaluate(() => { location.hash = '#plan?wind=calm'; });
  await page.waitForFunction(() => /left-hand; calm/.test(document.querySelector('summary')?.textContent ?? ''));
  await page.getByRole('button', { name: 'Undo' }).click();
  await page.waitForFunction(() => /right-hand; 200° 14 kt/.test(document.querySelector('summary')?.textContent ?? ''));
  // The other pages have addresses of their own, and the plan's comes back with it.
  await page.getByRole('link', { name: 'Debrief' }).click();
  await page.getByRole('link', { name: 'Plan', exact: true }).click();
  await page.waitForURL(/wind=200\/14G20/);
  await context.close();
});

test('two tabs keep each its own plan over a reload; a new one begins with the last', async () => {
  const { page, context } = await open();
  await planned(page);
  const other = await context.newPage();
  await other.goto(address);
  await planned(other);
  await page.getByLabel('Traffic').selectOption('right');
  await other.getByLabel(/Weight, lb/).fill('2300');
  await other.getByLabel(/Weight, lb/).press('Tab');
  for (const [tab, its, not] of [[page, /right-hand.*2,500 lb/, /2,300/], [other, /left-hand.*2,300 lb/, /right-hand/]]) {
    await tab.goto('about:blank');
    await tab.goto(address);
    await planned(tab);
    assert.match(await tab.locator('summary').innerText(), its);
    assert.doesNotMatch(await tab.locator('summary').innerText(), not);
  }
  const third = await context.newPage();
  await third.goto(address);
  await planned(third);
  assert.match(await third.locator('summary').innerText(), /2,300 lb/);
  await context.close();
});

test('the rules shown to help stand by the heights, and when to slip', async () => {
  const { page, context } = await open();
  await planned(page);
  const brief = json('brief', '--runway', 'data/demo/harrow-fen-24.json', '--airplane', 'demo-trainer', '--wind', '270/10',
    '--flights', FLIGHTS);
  const helping = brief.rules.filter((one) => one.gain_low95 > 0 && one.when !== 'always');
  assert.ok(helping.length > 0 && brief.slip_rule, 'the demonstration has both');
  const shown = await page.getByRole('list', { name: 'Rules at the key points' }).getByRole('listitem').allInnerTexts();
  assert.equal(shown.length, helping.length);
  helping.forEach((one, i) => assert.ok(shown[i].toLowerCase().startsWith(`${one.at} ${one.when}: ${one.rule}`), shown[i]));
  assert.ok((await page.locator('.answer .flaps').innerText()).includes(brief.slip_rule));
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

test('heights in the wrong unit are doubted, mended by a word, and the word is not said of the next log', async () => {
  const { page, context, faults } = await open('#debrief');
  await page.getByLabel(/Runway: five numbers/).fill('demonstration');
  await page.getByLabel(/Point, ft/).and(page.locator(':visible')).fill('600');
  const log = (name, factor) => ({ name, mimeType: 'application/gpx+xml', buffer: Buffer.from(readFileSync(`${flight}touch-and-goes.gpx`, 'utf8')
    .replace(/<ele>([^<]+)<\/ele>/g, (_, metres) => `<ele>${(Number(metres) * factor).toFixed(2)}</ele>`)) });
  const heights = page.getByLabel(/heights of this log/);
  const told = (name) => page.waitForFunction((title) => document.querySelector('[role=status].note')?.textContent?.startsWith(`${title}: 3 attempts`), name);
  await page.getByLabel(/Track log/).setInputFiles(log('whole.gpx', 1));
  await told('whole.gpx');
  assert.equal(await heights.count(), 0);
  const whole = await page.locator('.seen li').allInnerTexts();
  await page.getByLabel(/Track log/).setInputFiles(log('feet.gpx', 1 / 0.3048));
  await heights.waitFor();
  await noBarrier(page);
  await shot(page, 'debrief-heights');
  await heights.selectOption({ label: 'feet' });
  await told('feet.gpx');
  assert.deepEqual(await page.locator('.seen li').allInnerTexts(), whole);
  await page.getByLabel(/Track log/).setInputFiles(log('whole.gpx', 1));
  await told('whole.gpx');
  assert.equal(await heights.count(), 0);
  assert.deepEqual(await page.locator('.seen li').allInnerTexts(), whole);
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

test('idle, flaps and a slip marked in the replay, or typed, become causes of their own, and are kept as a file', async () => {
  const { page, context, faults } = await open('#debrief');
  await demonstrated(page);
  const report = () => page.frameLocator('iframe').locator('#attempt-1');
  assert.ok(!/Slipped|No slip/.test(await report().locator('.ledger').innerText()), 'no slip is known yet');
  const first = page.locator('.seen li').first();
  await first.getByText('Idle, flaps, slip, ticks').click();
  await page.locator('.replays summary').click();
  const drawings = page.getByRole('application');
  await drawings.focus();
  const slider = page.getByLabel('Time', { exact: true });
  await slider.fill('60');
  await page.getByRole('button', { name: 'Slip in' }).click();
  await first.locator('summary .note', { hasText: 'a slip' }).waitFor();
  assert.equal(await slider.inputValue(), '60', 'the replay stays where it was');
  await slider.fill('66');
  await page.getByRole('button', { name: 'Slip out' }).click();
  await report().getByText(/Slipped from/).waitFor();
  await first.getByRole('button', { name: 'Add a flap' }).click();
  await first.getByLabel(/^Flap/).fill('20');
  await first.getByLabel(/^at/).fill('30');
  await page.keyboard.press('Tab');
  await report().getByText(/Flap 20° at/).waitFor();
  await first.getByLabel('Nose along the centreline at touchdown?').selectOption('yes');
  const [download] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: 'Save the marks' }).click()]);
  const folder = mkdtempSync(`${tmpdir()}/glidewright-`);
  await download.saveAs(`${folder}/marks.json`);
  const told = json('debrief', `${flight}touch-and-goes.gpx`, '--runway', `${flight}runway.json`, '--touchdown-point-ft', '600', '--airplane', 'generic-trainer',
    '--wind', '210/9', '--marks', `${folder}/marks.json`).attempts[0].causes.find((one) => one.cause === 'slip');
  await report().getByText(told.sentence).waitFor();
  await noBarrier(page);
  await shot(page, 'debrief-marked');
  await page.getByLabel('Bring in marks').setInputFiles(`${folder}/marks.json`);
  await page.getByText('marks.json is read.').waitFor();
  rmSync(folder, { recursive: true });
  assert.deepEqual(faults, []);
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

test('a debrief is measured against the plan on the Plan side, says so, and can do without again', async () => {
  // A plan for the field of the log: its conditions stand in the address.
  const { runway } = json('debrief', `${flight}touch-and-goes.gpx`, '--runway', `${flight}runway.json`, '--touchdown-point-ft', '600');
  const five = [runway.threshold_latitude_deg, runway.threshold_longitude_deg, runway.true_bearing_deg, runway.elevation_ft, runway.length_ft];
  const { page, context, faults } = await open(`#plan?runway=${five.join(',')}&airplane=generic-trainer&wind=210/9&touchdown-point-ft=1000`);
  await planned(page);
  await page.getByRole('link', { name: 'Debrief' }).click();
  await page.getByLabel(/Measure against the plan/).check();
  assert.ok(await page.getByLabel(/Runway: five numbers/).isDisabled());
  await page.getByLabel(/Track log/).setInputFiles(`${flight}touch-and-goes.gpx`);
  await page.locator('iframe').waitFor();
  const measured = page.locator('.measured');
  assert.match(await measured.innerText(), /Measured against your plan: base turn \d+ s past abeam; .*210° 9 kt/);
  assert.match(await page.frameLocator('iframe').locator('#attempt-1').innerText(), /the saved plan: base turn/);
  await page.getByRole('button', { name: 'Not against the plan' }).click();
  await measured.waitFor({ state: 'detached' });
  assert.equal(await page.getByLabel(/Measure against the plan/).isChecked(), false);
  assert.deepEqual(faults, []);
  await context.close();
});

test('where no plan is offered a debrief is not quietly measured against none', async () => {
  const { page, context } = await open();
  await planned(page);
  await page.getByLabel(/Weather report/).fill('XHFN 140850Z 33030KT 9999 12/05 Q1019');
  await page.getByText('No plan is offered').waitFor();
  await page.goto(`${page.url().split('#')[0]}#debrief`);
  await page.getByText('none is offered there').waitFor();
  await page.getByLabel(/Measure against the plan/).check();
  await page.getByLabel(/Track log/).setInputFiles(`${flight}touch-and-goes.gpx`);
  await page.getByRole('alert').waitFor();
  assert.match(await page.getByRole('alert').innerText(), /No plan stands on the Plan side/);
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

test('two tabs drill side by side, and no answer of either is lost', async () => {
  const { page, context } = await drilled();
  await answered(page, 'on');
  const other = await context.newPage();
  other.setDefaultTimeout(60000);
  await other.goto(`${address}#drill`);
  await other.getByRole('button', { name: 'Show me' }).waitFor();
  // The first tab's drill is its own: this one began another, and knows the answer before it.
  assert.match(await other.locator('.drill').innerText(), /picture 1 of 10/);
  await answered(other, 'on');
  await page.getByRole('button', { name: 'Next picture' }).click();
  await answered(page, 'on');
  const kept = (tab) => tab.evaluate(() => JSON.parse(localStorage.getItem('glidewright.drill-answers')).answers);
  const answers = await kept(page);
  assert.equal(answers.length, 3);
  assert.equal(new Set(answers.map((one) => one.seed)).size, 2);
  for (const [tab, picture] of [[page, 3], [other, 2]]) {
    await tab.reload();
    await tab.getByText(`picture ${picture} of 10`).waitFor();
  }
  assert.deepEqual(await kept(other), answers);
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
