// The airplane's page: its numbers are the command line's, wrong ones are told where they stand, and a plan flies it.

import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { test } from 'node:test';
import { address, flight, json, noBarrier, open, program, root, shot } from './browser.mjs';
import { planned } from './planned.mjs';

const tenFeet = (value) => (value === null ? '–' : (Math.round(value / 10) * 10).toLocaleString('en-US'));
const tableAfter = (page, title) => page.locator('.tables section', { hasText: title }).locator('tbody tr');
async function drawn(page) {
  await page.locator('.picture polyline').first().waitFor();
}
/** The demonstration's airplane as one's own, open on its page. */
async function ownAirplane(options = {}) {
  const opened = await open('#airplane', options);
  await drawn(opened.page);
  await opened.page.getByRole('button', { name: 'Make it your own' }).click();
  await opened.page.getByLabel('Name', { exact: true }).waitFor();
  await drawn(opened.page);
  return opened;
}
const rest = (page) => page.evaluate(() => new Promise((done) => setTimeout(done, 100)));

test('an airplane of the program shows the command line\'s tables, and cannot be changed', async () => {
  const { page, context, faults } = await open('#airplane/demo-trainer');
  await drawn(page);
  const polar = json('polar', '--airplane', 'demo-trainer');
  assert.equal(await page.locator('.picture polyline').count(), polar.flaps.length);
  const byWind = await tableAfter(page, 'Height lost by wind').allInnerTexts();
  const wanted = polar.flaps.flatMap((flap) => [flap, ...(flap.slipping ? [flap.slipping] : [])]).map((one) => one.lost_ft_per_nm_by_wind.map(tenFeet));
  assert.equal(byWind.length, wanted.length);
  byWind.forEach((row, i) => assert.deepEqual(row.split(/\s*\t\s*/).slice(2), wanted[i], row));
  const bySpeed = await tableAfter(page, 'Height lost by speed').allInnerTexts();
  bySpeed.forEach((row, i) => assert.deepEqual(row.split(/\s*\t\s*/), [String(polar.speeds_kcas[i]), ...polar.flaps.map((flap) => tenFeet(flap.lost_ft_per_nm_by_speed[i]))]));
  const turns = await tableAfter(page, 'A turn of').allInnerTexts();
  assert.ok(turns[0].includes(tenFeet(polar.flaps[0].turns[1].lost_ft)), turns[0]);
  assert.ok(await page.getByLabel(/Best glide ratio, to 1$/).isDisabled());
  assert.deepEqual(faults, []);
  await context.close();
});

test('a number typed anew redraws the picture, undo brings it back, and a reload keeps it', async () => {
  const { page, context, faults } = await ownAirplane();
  const ratio = page.getByLabel(/Best glide ratio, to 1$/);
  const line = () => page.locator('.picture polyline').first().getAttribute('points');
  const before = await line();
  await ratio.fill('11,5');
  await page.waitForFunction((old) => document.querySelector('.picture polyline')?.getAttribute('points') !== old, before);
  await ratio.press('Tab');
  await page.reload();
  await drawn(page);
  assert.equal(await ratio.inputValue(), '11.5');
  assert.match(await page.locator('.row', { has: ratio }).locator('.source').innerText(), /^handbook$/);
  await ratio.fill('12');
  await ratio.press('Tab');
  await page.getByRole('button', { name: 'Undo' }).click();
  assert.equal(await ratio.inputValue(), '11.5');
  assert.deepEqual(faults, []);
  await context.close();
});

test('numbers that do not go together are told under the number, in the engine\'s words, and by keyboard one gets there', async () => {
  const { page, context } = await ownAirplane();
  for (const [label, value, back, words] of [
    [/Best glide speed, kt CAS$/, '45', '70', /best glide 45 kt lies below the stall at 50 kt; expected \d+ to \d+ kt/],
    [/Best glide ratio, to 1$/, '40', '9.1', /glide ratio 40\.0.*expected 5\.0 to 20\.0/],
    [/Flap 30°: Flap limit, kt$/, '40', '85', /flap limit 40 kt at flap 30 lies below the stall with it at/],
    [/Best glide ratio, to 1$/, '400', '9.1', /400; expected 3 to 40/],
    [/Best glide ratio, to 1$/, 'nine', '9.1', /best_glide_ratio|value/],
  ]) {
    const input = page.getByLabel(label);
    await input.fill(value);
    await page.getByRole('alert').waitFor();
    await page.waitForFunction((text) => new RegExp(text).test(document.querySelector('.problem')?.textContent ?? ''), words.source);
    assert.equal(await input.getAttribute('aria-invalid'), 'true');
    await input.press('Tab');
    await page.getByRole('alert').getByRole('button').first().press('Enter');
    assert.ok(await input.evaluate((one) => one === document.activeElement), `${label} has the focus`);
    await input.fill(back);
    await page.getByRole('alert').waitFor({ state: 'detached' });
  }
  await context.close();
});

test('the profile that is saved is the command line\'s, and comes back from its file', async () => {
  const { page, context } = await ownAirplane();
  await page.getByLabel('Name', { exact: true }).fill('Club trainer (invented)');
  await page.getByLabel(/Best glide speed, kt CAS$/).fill('72');
  await page.getByLabel(/Best glide speed, kt CAS$/).press('Tab');
  const [download] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: 'Save the profile' }).click()]);
  assert.equal(download.suggestedFilename(), 'club-trainer-invented.json');
  const folder = mkdtempSync(`${tmpdir()}/glidewright-`);
  await download.saveAs(`${folder}/club.json`);
  const polar = json('polar', '--airplane', `${folder}/club.json`);
  assert.deepEqual(polar.problems, []);
  assert.equal(polar.flaps[0].flown.speed_kcas, 72);
  await page.getByRole('button', { name: 'Delete' }).click();
  await page.getByText('Deleted here; Undo brings it back.').waitFor();
  await page.getByLabel('Bring in a profile').setInputFiles(`${folder}/club.json`);
  await page.getByText('club.json is read.').waitFor();
  assert.equal(await page.getByLabel(/Best glide speed, kt CAS$/).inputValue(), '72');
  writeFileSync(`${folder}/club.json`, '{"name": "no flaps"}');
  await page.getByLabel('Bring in a profile').setInputFiles(`${folder}/club.json`);
  await page.getByRole('alert').waitFor();
  assert.match(await page.getByRole('alert').innerText(), /club\.json is no airplane profile .* Nothing was changed/s);
  rmSync(folder, { recursive: true });
  await context.close();
});

test('a plan and a debrief fly the own airplane as the command line does', async () => {
  const { page, context, faults } = await ownAirplane();
  await page.getByLabel('Name', { exact: true }).fill('Club trainer (invented)');
  await page.getByLabel('Approach speed, kt CAS', { exact: false }).first().fill('70');
  await page.getByLabel('Approach speed, kt CAS', { exact: false }).first().press('Tab');
  await page.getByRole('link', { name: 'Plan', exact: true }).click();
  await planned(page);
  await page.getByRole('combobox', { name: 'Airplane', exact: true }).and(page.locator(':visible')).selectOption({ label: 'Club trainer (invented)' });
  await page.waitForFunction(() => /Club trainer/.test(document.querySelector('summary')?.textContent ?? ''));
  await planned(page);
  assert.match(await page.locator('.six').innerText(), /70\s*kt/);
  // A change on its page is planned with when one comes back.
  await page.getByRole('link', { name: 'Airplane' }).click();
  await page.getByLabel('Approach speed, kt CAS', { exact: false }).first().fill('72');
  await page.getByLabel('Approach speed, kt CAS', { exact: false }).first().press('Tab');
  await page.getByRole('link', { name: 'Plan', exact: true }).click();
  await page.waitForFunction(() => /72\s*kt/.test(document.querySelector('.six')?.textContent ?? ''));
  await page.getByRole('link', { name: 'Debrief' }).click();
  await page.getByRole('combobox', { name: 'Airplane', exact: true }).and(page.locator(':visible')).selectOption({ label: 'Club trainer (invented)' });
  await page.getByLabel(/Track log/).setInputFiles(`${flight}touch-and-goes.gpx`);
  await page.locator('iframe').waitFor();
  assert.match(await page.frameLocator('iframe').locator('body').innerText(), /Club trainer \(invented\)/);
  assert.deepEqual(faults, []);
  await context.close();
});

test('two tabs keep both airplanes, and the same one is the same in both', async () => {
  const { page, context } = await ownAirplane();
  await page.getByLabel('Name', { exact: true }).fill('First');
  await page.getByLabel('Name', { exact: true }).press('Tab');
  const other = await context.newPage();
  other.setDefaultTimeout(60000);
  await other.goto(`${address}#airplane/demo-trainer`);
  await drawn(other);
  await other.getByRole('button', { name: 'Make it your own' }).click();
  await other.getByLabel('Name', { exact: true }).fill('Second');
  await page.waitForFunction(() => [...document.querySelectorAll('.chosen option')].some((one) => one.textContent === 'Second'));
  await other.locator('.chosen select').selectOption({ label: 'First' });
  await other.getByLabel(/Best glide speed, kt CAS$/).fill('74');
  await page.waitForFunction(() => document.getElementById('best_glide_speed_kcas')?.value === '74');
  await context.close();
});

test('it works without a network', async () => {
  const { page, context } = await open('#airplane');
  await drawn(page);
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  await context.setOffline(true);
  await page.reload();
  await drawn(page);
  await context.close();
});

test('a browser that keeps nothing says so, and the airplane can still be looked at', async () => {
  const { page, context } = await open('#airplane');
  await drawn(page);
  await page.evaluate(() => { Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError'); }; });
  await page.getByRole('button', { name: 'Make it your own' }).click();
  await page.getByText('This browser keeps nothing: save the profile as a file').waitFor();
  await page.getByLabel(/Best glide speed, kt CAS$/).fill('74');
  await rest(page);
  assert.equal(await page.getByLabel(/Best glide speed, kt CAS$/).inputValue(), '74');
  await context.close();
});

for (const scheme of ['light', 'dark'])
  for (const [name, viewport] of [['desk', { width: 1440, height: 900 }], ['tablet', { width: 820, height: 1180 }], ['phone', { width: 390, height: 844 }]])
    test(`no barrier on the airplane's page in ${scheme} on a ${name}, also with wrong numbers`, async () => {
      const { page, context } = await ownAirplane({ colorScheme: scheme, viewport, hasTouch: name !== 'desk' });
      await shot(page, `airplane-${name}-${scheme}`);
      await noBarrier(page);
      await page.getByLabel(/Best glide speed, kt CAS$/).fill('45');
      await page.getByRole('alert').waitFor();
      await shot(page, `airplane-${name}-${scheme}-wrong`);
      await noBarrier(page);
      assert.ok((await page.evaluate(() => document.documentElement.scrollWidth)) <= viewport.width, 'too wide');
      await context.close();
    });
