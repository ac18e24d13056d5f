// Playing an attempt back: the engine's own numbers at every moment, the look-ahead asked before it is shown, the
// user's own video beside it.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { demonstrated, flight, json, noBarrier, open, shot } from './browser.mjs';

const log = `${flight}touch-and-goes.gpx`;
const asked = ['--runway', `${flight}runway.json`, '--touchdown-point-ft', '600', '--wind', '210/9'];
const attempts = () => json('debrief', log, ...asked, '--with-path').attempts;
const feet = (value) => `${(Math.round(value / 10) * 10).toLocaleString('en-US')}`;
const stage = (page) => page.getByRole('application', { name: /^Replay of attempt/ });
const value = (page, name) => page.locator('.replay dl div').filter({ hasText: name }).locator('dd').innerText();
const time = (page) => page.getByRole('slider', { name: 'Time' }).inputValue().then(Number);
async function replayed(options = {}) {
  const opened = await open('#debrief', options);
  await demonstrated(opened.page);
  await opened.page.locator('.replays summary').click();
  await stage(opened.page).waitFor();
  return opened;
}

test('every moment shown is the command line\'s, and its marks are gone to by key and by button', async () => {
  const { page, context, faults } = await replayed();
  const [attempt] = attempts();
  const second = (point) => (Date.parse(point.time) - Date.parse(attempt.flown_from)) / 1000;
  await stage(page).focus();
  await page.keyboard.press('Home');
  for (const name of ['abeam', 'base_turn', 'final_turn', 'gate', 'touchdown']) {
    await page.keyboard.press('PageDown');
    assert.ok(Math.abs((await time(page)) - second(attempt[name])) < 0.06, `${name} at ${await time(page)}`);
  }
  await page.getByRole('group', { name: 'Moments to go to' }).getByRole('button', { name: 'Gate' }).click();
  // The same point of the track, which has no more than a foot of curve between two samples there.
  assert.equal((await value(page, 'Height above')).split(' ft')[0], feet(attempt.gate.height_ft));
  assert.equal(await value(page, 'Ground speed'), `${Math.round(attempt.gate.groundspeed_kt)} kt`);
  await stage(page).focus();
  await page.keyboard.press('Home');
  for (let i = 0; i < 26; i++) await page.keyboard.press('ArrowRight');
  const there = attempt.flown.find((one) => one.t_s === 20);
  assert.equal(await time(page), 20);
  assert.equal((await value(page, 'Height above')).split(' ft')[0], feet(there.height_ft));
  assert.ok((await value(page, 'Height and the box')).includes(`${feet(there.height_ft - there.in_reach.lowest_ft)} ft`));
  assert.deepEqual(faults, []);
  await context.close();
});

test('it plays at any rate, stops at the end, and begins anew', async () => {
  const { page, context } = await replayed();
  await stage(page).focus();
  for (let i = 0; i < 4; i++) await page.keyboard.press('+');
  assert.equal(await page.getByRole('combobox', { name: 'Rate' }).inputValue(), '16');
  await page.keyboard.press(' ');
  const last = attempts()[0].flown.at(-1).t_s;
  await page.waitForFunction((end) => Number(document.querySelector('.replay input[type=range]').value) === end, last);
  await page.getByRole('button', { name: 'Play', exact: true }).click();
  await page.getByRole('button', { name: 'Pause' }).click();
  assert.ok((await time(page)) < last);
  await context.close();
});

test('another attempt is replayed from its beginning', async () => {
  const { page, context } = await replayed();
  await page.getByRole('combobox', { name: 'Attempt' }).selectOption('2');
  await page.getByRole('application', { name: /^Replay of attempt 3/ }).waitFor();
  assert.equal(await time(page), attempts()[2].flown[0].t_s);
  await context.close();
});

test('the look-ahead is asked first: what comes is hidden until the answer', async () => {
  const { page, context } = await replayed();
  const [attempt] = attempts();
  const now = attempt.flown.find((one) => one.t_s === 30);
  const later = attempt.flown.find((one) => one.t_s === 50);
  await stage(page).focus();
  await page.keyboard.press('Home');
  for (let i = 0; i < 36; i++) await page.keyboard.press('ArrowRight');
  assert.equal(await page.locator('.replay .whole').count() > 0, true);
  await page.keyboard.press('l');
  await page.getByText('Where will it be in 20 seconds?').waitFor();
  assert.equal(await page.locator('.replay .whole, .replay .planned, .replay .ribbon, .replay .ring').count(), 0);
  assert.equal(await value(page, 'Height and the box'), 'hidden');
  await page.keyboard.press('Shift+ArrowRight');
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('Enter');
  const told = await page.locator('.replay .answer').innerText();
  const off = (along, cross) => Math.hypot(later.along_ft - along, later.cross_ft - cross);
  const number = (pattern) => Number(told.match(pattern)[1].replace(',', ''));
  const down = attempt.traffic === 'left' ? 100 : -100; // the runway is below in the sketch
  const mine = off(now.along_ft + 500, now.cross_ft + down);
  assert.ok(Math.abs(number(/mark was ([\d,]+) ft/) - mine) <= 5.1, `${told}, reckoned ${mine}`);
  const led = off(now.in_20_s.along_ft, now.in_20_s.cross_ft);
  assert.ok(Math.abs(number(/high, ([\d,]+) ft from there/) - led) <= 5.1, `${told}, reckoned ${led}`);
  assert.ok(told.includes(`Going on like this: ${feet(now.in_20_s.height_ft)} ft high`), told);
  assert.ok(told.includes(`Where it was: ${feet(later.height_ft)} ft high`), told);
  assert.equal(await page.locator('.replay .ring').count(), 2);
  await shot(page.locator('.replay'), 'replay-look-ahead');
  await context.close();
});

test('a finger goes to the moment under it, on the sketch and on the strip', async () => {
  const { page, context } = await replayed({ viewport: { width: 390, height: 844 }, hasTouch: true });
  for (const drawing of ['From above', 'Height above the point']) {
    const before = await time(page);
    const picture = page.getByRole('img', { name: new RegExp(`^${drawing}`) }).and(page.locator('.replay svg'));
    const { width, height } = await picture.boundingBox();
    await picture.tap({ position: { x: 0.5 * width, y: 0.6 * height } });
    await page.waitForFunction((was) => Number(document.querySelector('.replay input[type=range]').value) !== was, before);
  }
  await context.close();
});

/** Half a minute of silence, which a video element plays as it plays a video. */
function recording() {
  const rate = 8000;
  const bytes = Buffer.alloc(44 + 30 * rate, 128);
  bytes.write('RIFF', 0);
  bytes.writeUInt32LE(bytes.length - 8, 4);
  bytes.write('WAVEfmt ', 8);
  bytes.writeUInt32LE(16, 16);
  bytes.writeUInt16LE(1, 20);
  bytes.writeUInt16LE(1, 22);
  bytes.writeUInt32LE(rate, 24);
  bytes.writeUInt32LE(rate, 28);
  bytes.writeUInt16LE(1, 32);
  bytes.writeUInt16LE(8, 34);
  bytes.write('data', 36);
  bytes.writeUInt32LE(bytes.length - 44, 40);
  return bytes;
}
const videoTime = (page) => page.locator('video').evaluate((video) => video.currentTime);
const videoAt = (page, seconds) =>
  page.waitForFunction((at) => Math.abs(document.querySelector('video').currentTime - at) < 0.05, seconds);

test('one mark plays an own video together with the replay, and it stays on the device', async () => {
  const { page, context, faults } = await replayed();
  await page.getByLabel(/Choose one/).setInputFiles({ name: 'cockpit.wav', mimeType: 'audio/wav', buffer: recording() });
  await page.getByRole('button', { name: 'Play them together' }).and(page.locator(':enabled')).waitFor();
  // The touchdown is 20 s into the video.
  await page.getByRole('button', { name: 'Video one picture on' }).focus();
  for (let i = 0; i < 20; i++) {
    await page.keyboard.press('Shift+>');
    await videoAt(page, i + 1);
  }
  await page.getByLabel('The video shows').selectOption('touchdown');
  await page.getByRole('button', { name: 'Play them together' }).click();
  await page.getByRole('group', { name: 'Moments to go to' }).getByRole('button', { name: 'Touchdown' }).click();
  await videoAt(page, 20);
  // A video that is slow to find a place is not lost to the places asked for meanwhile.
  await page.evaluate(() => Object.defineProperty(document.querySelector('video'), 'seeking', { value: true, configurable: true }));
  await stage(page).focus();
  for (let i = 0; i < 5; i++) await page.keyboard.press('ArrowLeft');
  await page.evaluate(() => {
    const video = document.querySelector('video');
    delete video.seeking;
    video.dispatchEvent(new Event('seeked'));
  });
  await videoAt(page, 15);
  await page.keyboard.press(' ');
  await page.waitForFunction(() => document.querySelector('video').currentTime > 15.5);
  await page.keyboard.press(' ');
  await page.waitForFunction(() => document.querySelector('video').paused);
  assert.ok((await videoTime(page)) < 30);
  await page.keyboard.press('Home');
  await page.getByText(/The video begins \d+ s later/).waitFor();
  // Chosen again after a reload, it needs no second mark.
  await page.reload();
  await demonstrated(page);
  await page.locator('.replays summary').click();
  await page.getByLabel(/Choose one/).setInputFiles({ name: 'cockpit.wav', mimeType: 'audio/wav', buffer: recording() });
  await page.getByText(/The video begins \d+ s later/).waitFor();
  assert.deepEqual(faults, []);
  await context.close();
});

test('a file that is no video is refused in a sentence', async () => {
  const { page, context } = await replayed();
  await page.getByLabel(/Choose one/).setInputFiles({ name: 'notes.txt', mimeType: 'text/plain', buffer: Buffer.from('left turn') });
  await page.getByRole('alert').waitFor();
  assert.match(await page.getByRole('alert').innerText(), /notes\.txt cannot be played by this browser/);
  await context.close();
});

for (const [name, options] of [
  ['light', {}],
  ['dark', { colorScheme: 'dark' }],
  ['phone', { viewport: { width: 390, height: 844 }, hasTouch: true }],
  ['phone-dark', { colorScheme: 'dark', viewport: { width: 390, height: 844 }, hasTouch: true }],
])
  test(`no barrier in a replay: ${name}`, async () => {
    const { page, context } = await replayed(options);
    await page.getByRole('group', { name: 'Moments to go to' }).getByRole('button', { name: 'Base turn' }).click();
    await page.getByLabel('show it all along').check();
    await noBarrier(page);
    assert.ok((await page.evaluate(() => document.documentElement.scrollWidth)) <= (options.viewport?.width ?? 1440), 'too wide');
    await shot(page.locator('.replay'), `replay-${name}`);
    await context.close();
  });
