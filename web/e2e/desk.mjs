// The desk flight: flown with keys and with touch, judged by the debrief, and counted nowhere.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { readFileSync } from 'node:fs';
import { json, noBarrier, open, root, shot } from './browser.mjs';

const cell = (page, label) => page.locator('.desk .cells > div', { hasText: label }).innerText();
const seconds = async (page) => Number(/(−?\d+) s/.exec(await cell(page, 'Past abeam'))[1].replace('−', '-'));

test('keys fly the airplane, space stops it, and Escape puts it back on downwind', async () => {
  const { page, context, faults } = await open('#desk');
  await page.getByText('Ready on downwind').waitFor();
  assert.equal(await seconds(page), -15);
  await shot(page, 'desk-ready');
  await noBarrier(page);
  await page.keyboard.press('f');
  assert.match(await cell(page, 'Flaps'), /lever 0°/, 'nothing before it flies');
  await page.keyboard.press('Space');
  await page.locator('.state').getByText('On downwind', { exact: true }).waitFor();
  for (const key of ['ArrowLeft', 'ArrowLeft', 'ArrowLeft', 'f', 's', 'ArrowDown']) await page.keyboard.press(key);
  await page.waitForFunction(() => /1[3-5]° left/.test(document.querySelector('.desk .cells').innerText));
  await page.keyboard.press('Space');
  await page.getByText('Paused').waitFor();
  const flown = await page.locator('.desk .cells').innerText();
  assert.match(flown, /wanted 15° left/);
  assert.match(flown, /lever 10°/);
  const at = await seconds(page);
  await page.waitForTimeout(600);
  assert.equal(await seconds(page), at, 'a pause is one');
  await noBarrier(page);
  await page.keyboard.press('Escape');
  await page.getByText('Ready on downwind').waitFor();
  assert.match(await cell(page, 'Flaps'), /lever 0°/);
  assert.deepEqual(faults, []);
  await context.close();
});

test('a go-around by touch, on a phone in the dark, is debriefed as a desk flight', async () => {
  const { page, context, faults } = await open('#desk', { viewport: { width: 390, height: 844 }, hasTouch: true, colorScheme: 'dark' });
  await page.getByRole('button', { name: /^Fly/ }).click();
  await page.getByRole('button', { name: /Bank left/ }).click();
  await page.getByText(/wanted 5° left/).waitFor();
  await page.getByRole('button', { name: /Wings level/ }).click();
  assert.ok(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth), 'nothing sticks out');
  await page.locator('.state').getByText(/Throttle closed|Gliding/).waitFor();
  await shot(page, 'desk-phone');
  await noBarrier(page);
  await page.getByRole('button', { name: /Go around/ }).click();
  await page.locator('.state').getByText('Gone around').waitFor();
  await page.getByText('This was a desk flight.').waitFor();
  await noBarrier(page);
  await page.getByRole('button', { name: 'Fly again' }).click();
  await page.getByText('Ready on downwind').waitFor();
  assert.deepEqual(faults, []);
  await context.close();
});

/** By a clock that the story moves: a tick of the engine at a time, and the keys between two of them. */
async function flown(page, ticks) {
  const time = () => page.locator('section.desk').getAttribute('data-time-s');
  for (let i = 0; i < ticks; i++) {
    const before = await time();
    for (let turns = 0; (await time()) === before; turns++) {
      assert.ok(turns < 2000, 'the engine does not answer');
      if (turns < 4 || turns % 50 === 0) await page.clock.runFor(50);
      else await new Promise((resolve) => setTimeout(resolve, 5));
    }
    if ((await page.locator('.desk .hands').count()) === 0) return;
  }
}

test('the same hands land where the command line says, and the debrief has that touchdown', async () => {
  const told = json('desk', '--runway', 'data/demo/harrow-fen-24.json', '--airplane', 'demo-trainer', '--wind', 'calm', '--hands', 'data/demo/hands.json');
  const { page, context, faults } = await open('#plan');
  await page.getByLabel(/^Wind \d/).fill('0');
  await page.clock.install();
  await page.getByRole('link', { name: 'Desk flight' }).click();
  await page.getByText('Ready on downwind').waitFor();
  await page.clock.pauseAt(Date.now() + 3600_000);
  await page.keyboard.press('Space');
  let hands = { bank_deg: 0, airspeed_kcas: 70, flap_deg: 0 };
  for (const hold of JSON.parse(readFileSync(`${root}data/demo/hands.json`, 'utf8')).holds) {
    const bank = (hold.bank_deg - hands.bank_deg) / 5;
    for (let i = 0; i < Math.abs(bank); i++) await page.keyboard.press(bank < 0 ? 'ArrowLeft' : 'ArrowRight');
    for (let kt = hands.airspeed_kcas; kt > hold.airspeed_kcas; kt--) await page.keyboard.press('ArrowUp');
    for (let flap = hands.flap_deg; flap < hold.flap_deg; flap += 10) await page.keyboard.press('f');
    hands = hold;
    await flown(page, hold.ticks);
    if (hold.flap_deg === 10 && hold.bank_deg === 0) await shot(page, 'desk-base');
  }
  const along = told.touchdown.along_ft;
  await page.locator('.state').getByText('Down on the runway').waitFor();
  assert.ok((await page.locator('.state').innerText()).includes(`+${Math.round(along / 10) * 10} ft past the point`), await page.locator('.state').innerText());
  await page.getByText('records do not take it').waitFor();
  const report = page.frameLocator('iframe[title="Debrief"]').last();
  await report.getByText(/a desk flight, flown at a screen/).first().waitFor();
  await report.getByText(new RegExp(`\\+${Math.round(along / 10) * 10}\\b`)).first().waitFor();
  await page.clock.resume();
  await page.waitForTimeout(500);
  await shot(page, 'desk-landed');
  await noBarrier(page);
  // The story's own clock wants a script in the report's frame, which lets none in.
  assert.deepEqual(faults.filter((one) => !one.includes('about:srcdoc')), []);
  await context.close();
});
