// Runways of one's own, and units: what is entered is what the command line reads, and Plan and Debrief fly it.

import assert from 'node:assert/strict';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { test } from 'node:test';
import { flight, json, noBarrier, open, root, shot } from './browser.mjs';
import { planned } from './planned.mjs';

/** Invented airfields in the open table's columns. */
const TABLE = Buffer.from(
  'id,airport_ref,airport_ident,length_ft,width_ft,surface,lighted,closed,le_ident,le_latitude_deg,le_longitude_deg,le_elevation_ft,' +
    'le_heading_degT,le_displaced_threshold_ft,he_ident,he_latitude_deg,he_longitude_deg,he_elevation_ft,he_heading_degT,he_displaced_threshold_ft\n' +
    '1,1,"ZZAA",3628,75,"ASPH",0,0,"18",0.01,20,500,180,,"36",0,20,540,360,\n' +
    '2,2,"ZZAB",3628,75,"ASPH",0,0,"18",0.01,21,500,180,300,"36",0,21,540,360,\n',
);
const demo = JSON.parse(readFileSync(`${root}data/demo/harrow-fen-24.json`, 'utf8'));
const visible = (page, locator) => locator.and(page.locator(':visible'));

async function entered(page, values) {
  await page.getByRole('button', { name: 'New runway' }).click();
  for (const [label, value] of values) await page.getByLabel(label).fill(String(value));
  await page.keyboard.press('Tab');
}
const harrowFen = [
  [/^Airfield\s*$/, demo.airfield], [/^Runway\s*$/, demo.designator], [/^Latitude/, demo.threshold_latitude_deg], [/^Longitude/, demo.threshold_longitude_deg],
  [/^Bearing, true/, demo.true_bearing_deg], [/^Elevation/, demo.elevation_ft], [/^Length/, demo.length_ft], [/^Threshold displaced/, 300],
];

test('a runway entered by hand is read as the command line reads it, and survives a reload', async () => {
  const { page, context, faults } = await open('#airfield');
  await page.getByText('None yet. Enter one by hand').waitFor();
  await entered(page, harrowFen);
  await page.getByLabel(/^Latitude/).fill('');
  await page.getByLabel(/^Latitude/).pressSequentially(String(demo.threshold_latitude_deg));
  assert.equal(await page.getByLabel(/^Latitude/).inputValue(), String(demo.threshold_latitude_deg));
  await page.locator('.landed').waitFor();
  const [download] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: 'Save the runway' }).click()]);
  const folder = mkdtempSync(`${tmpdir()}/glidewright-`);
  await download.saveAs(`${folder}/own.json`);
  const [end] = json('runways', 'show', `${folder}/own.json`).runways;
  assert.equal(end.length_ft, demo.length_ft - 300);
  const landed = await page.locator('.landed').innerText();
  for (const one of [`${end.length_ft.toLocaleString('en-US')} ft`, end.threshold_latitude_deg.toFixed(5), end.threshold_longitude_deg.toFixed(5), `${Math.round(end.true_bearing_deg)}° true`])
    assert.ok(landed.includes(one), `${landed} has ${one}`);
  await page.reload();
  await page.locator('.landed').waitFor();
  assert.equal(await page.locator('.landed').innerText(), landed);
  await page.getByRole('button', { name: 'Delete' }).click();
  await page.getByText('None yet.').waitFor();
  await page.getByLabel('Bring in a runway').setInputFiles(`${folder}/own.json`);
  await page.locator('.landed').waitFor();
  rmSync(folder, { recursive: true });
  assert.deepEqual(faults, []);
  await context.close();
});

test('a number that no runway has is told under it, in the engine\'s words', async () => {
  const { page, context } = await open('#airfield');
  await entered(page, harrowFen);
  await page.locator('.landed').waitFor();
  await page.getByLabel(/^Bearing, true/).fill('400');
  await page.getByText(/true bearing 400 deg; expected 0 to 360/).first().waitFor();
  assert.equal(await page.getByLabel(/^Bearing, true/).getAttribute('aria-invalid'), 'true');
  await page.getByLabel(/^Bearing, true/).press('Tab');
  await page.getByRole('button', { name: 'Undo' }).click();
  await page.locator('.landed').waitFor();
  assert.equal(await page.getByLabel(/^Bearing, true/).inputValue(), String(demo.true_bearing_deg));
  await context.close();
});

test('an obstacle is entered, told where it is wrong, kept, and the plan passes it or says that it does not', async () => {
  const { page, context, faults } = await open('#airfield');
  await entered(page, [[/^Airfield\s*$/, 'Ours'], ...harrowFen.slice(1, -1)]);
  await page.getByRole('button', { name: 'Add an obstacle' }).click();
  const one = page.getByRole('group', { name: 'Obstacle 1' });
  await one.getByLabel(/^What/).fill('row of poplars');
  await one.getByLabel(/^Before the landing/).fill('700');
  await one.getByLabel(/^Top above/).fill('5000');
  await page.keyboard.press('Tab');
  await one.getByText('top above threshold 5000 ft; expected -500 to 3000').waitFor();
  await noBarrier(page);
  await one.getByLabel(/^Top above/).fill('230');
  await one.getByLabel(/^Right of/).fill('-40');
  await page.keyboard.press('Tab');
  await page.locator('.landed').waitFor();
  await shot(page, 'airfield-obstacle');
  await page.reload();
  assert.equal(await page.getByLabel(/^Top above/).inputValue(), '230');
  await page.getByRole('link', { name: 'Plan', exact: true }).click();
  await planned(page);
  await visible(page, page.getByRole('combobox', { name: 'Runway', exact: true })).selectOption({ label: `Ours ${demo.designator}` });
  await page.getByText(/The planned path (clears the row of poplars|leads \d+ ft below the top of the row of poplars)/).waitFor();
  await page.locator('svg text', { hasText: 'row of poplars 230 ft' }).waitFor();
  await shot(page, 'plan-obstacle');
  assert.deepEqual(faults, []);
  await context.close();
});

test('a table that is dropped is searched, kept for the next visit, and a runway of it becomes one\'s own', async () => {
  const { page, context, faults } = await open('#airfield');
  const drop = page.getByLabel(/runways\.csv/);
  await drop.setInputFiles({ name: 'notes.csv', mimeType: 'text/csv', buffer: Buffer.from('a,b\n1,2\n') });
  await page.getByRole('alert').waitFor();
  assert.match(await page.getByRole('alert').innerText(), /notes\.csv was not taken: .*no column/);
  await drop.setInputFiles({ name: 'runways.csv', mimeType: 'text/csv', buffer: TABLE });
  await page.getByText('runways.csv is kept on this device.').waitFor();
  await page.reload();
  await page.getByText('Another runways.csv').waitFor();
  await page.getByLabel('Airfield begins with').fill('zz');
  await page.getByRole('button', { name: 'ZZAB' }).click();
  const row = page.getByRole('list', { name: 'Runways found' }).getByRole('listitem').first();
  assert.match(await row.innerText(), /Take ZZAB 18[\s\S]*180° true, \d+° magnetic; 3,328 ft; elevation \d+ ft/);
  await page.getByRole('button', { name: 'Take ZZAB 18' }).click();
  await page.locator('.landed').waitFor();
  assert.match(await page.locator('.landed').innerText(), /3,328 ft/);
  await page.getByLabel('Airfield begins with').fill('QQ');
  await page.getByRole('alert').waitFor();
  assert.match(await page.getByRole('alert').innerText(), /begins with 'QQ'/);
  assert.deepEqual(faults, []);
  await context.close();
});

test('a plan and a debrief use the own runway', async () => {
  const field = JSON.parse(readFileSync(`${flight}runway.json`, 'utf8'));
  const { page, context, faults } = await open('#airfield');
  await entered(page, [[/^Airfield\s*$/, 'Ours'], [/^Runway\s*$/, field.designator], [/^Latitude/, field.threshold_latitude_deg], [/^Longitude/, field.threshold_longitude_deg],
    [/^Bearing, true/, field.true_bearing_deg], [/^Elevation/, field.elevation_ft], [/^Length/, field.length_ft]]);
  await page.locator('.landed').waitFor();
  await page.getByRole('link', { name: 'Plan', exact: true }).click();
  await planned(page);
  await visible(page, page.getByRole('combobox', { name: 'Runway', exact: true })).selectOption({ label: `Ours ${field.designator}` });
  await page.waitForFunction(() => /^Ours /.test(document.querySelector('summary')?.textContent ?? ''));
  await page.getByRole('link', { name: 'Debrief' }).click();
  await page.getByLabel(/Runway: five numbers, or the name/).fill(`Ours ${field.designator}`);
  await visible(page, page.getByLabel(/Point, ft/)).fill('600');
  await page.getByLabel(/Track log/).setInputFiles(`${flight}touch-and-goes.gpx`);
  await page.locator('iframe').waitFor();
  const debrief = json('debrief', `${flight}touch-and-goes.gpx`, '--runway', `${flight}runway.json`, '--touchdown-point-ft', '600', '--airplane', 'generic-trainer');
  const list = await page.locator('.seen li').allInnerTexts();
  debrief.attempts.forEach((attempt, i) => {
    const along = Math.round(attempt.touchdown.along_ft / 10) * 10;
    assert.ok(list[i].includes(`${along < 0 ? '−' : '+'}${Math.abs(along).toLocaleString('en-US')} ft`), list[i]);
  });
  assert.deepEqual(faults, []);
  await context.close();
});

test('an altimeter in inches and a runway in metres, kept for the next visit', async () => {
  const { page, context } = await open('');
  await planned(page);
  await page.getByRole('combobox', { name: 'Altimeter' }).selectOption('inhg');
  await page.getByLabel('Runway lengths').selectOption('m');
  await page.getByLabel('Altimeter, inHg').fill('30.20');
  await page.getByLabel('Altimeter, inHg').press('Tab');
  const brief = json('brief', '--runway', 'data/demo/harrow-fen-24.json', '--airplane', 'demo-trainer', '--wind', '270/10', '--altimeter-inhg', '30.20', '--flights', '24000');
  const gate = `${(Math.round(brief.gate_altimeter_ft / 10) * 10).toLocaleString('en-US')}ft`;
  await page.waitForFunction((wanted) => [...document.querySelectorAll('.six dd')].some((one) => one.textContent.replace(/\s/g, '') === wanted), gate);
  assert.match(page.url(), /altimeter-inhg=30\.20/);
  await page.reload();
  assert.equal(await page.getByLabel('Altimeter, inHg').inputValue(), '30.20');
  await page.getByRole('combobox', { name: 'Altimeter' }).selectOption('hpa');
  assert.equal(await page.getByLabel('Altimeter, hPa').inputValue(), '1022.7');
  await page.getByRole('link', { name: 'Airfield' }).click();
  // Both lengths are typed in metres: 1,000 of pavement, the threshold 300 up.
  await entered(page, harrowFen.map(([label, value]) => [label, /Length/.test(String(label)) ? 1000 : value]));
  await page.locator('.landed').waitFor();
  assert.match(await page.locator('.landed').innerText(), /700 m \(2,297 ft\)/);
  await context.close();
});

for (const scheme of ['light', 'dark'])
  for (const [name, viewport] of [['desk', { width: 1440, height: 900 }], ['tablet', { width: 820, height: 1180 }], ['phone', { width: 390, height: 844 }]])
    test(`no barrier on the airfield's page in ${scheme} on a ${name}: empty, searched, wrong`, async () => {
      const { page, context } = await open('#airfield', { colorScheme: scheme, viewport, hasTouch: name !== 'desk' });
      await shot(page, `airfield-${name}-${scheme}-empty`);
      await noBarrier(page);
      await page.getByLabel(/runways\.csv/).setInputFiles({ name: 'runways.csv', mimeType: 'text/csv', buffer: TABLE });
      await page.getByLabel('Airfield begins with').fill('ZZAB');
      await page.getByRole('button', { name: 'Take ZZAB 18' }).click();
      await page.locator('.landed').waitFor();
      await shot(page, `airfield-${name}-${scheme}`);
      await noBarrier(page);
      await page.getByLabel(/^Bearing, true/).fill('400');
      await page.getByRole('alert').waitFor();
      await noBarrier(page);
      assert.ok((await page.evaluate(() => document.documentElement.scrollWidth)) <= viewport.width, 'too wide');
      await context.close();
    });
