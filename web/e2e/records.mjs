// The records on the page: a student from the first log to the sign-off, two who look at once, a server that goes, and a
// school where everybody signs in.

import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { after, test } from 'node:test';
import { flight, noBarrier, open, program, root, serve, shot } from './browser.mjs';

const folder = mkdtempSync(`${tmpdir()}/glidewright-records-`);
const servers = [];
after(() => {
  for (const one of servers) one.kill('SIGKILL');
  rmSync(folder, { recursive: true });
});
const LOG = `${flight}touch-and-goes.gpx`;
const field = JSON.parse(readFileSync(`${flight}runway.json`, 'utf8'));
const runway = [field.threshold_latitude_deg, field.threshold_longitude_deg, field.true_bearing_deg, field.elevation_ft, field.length_ft].join(',');
const run = (args, input) => execFileSync(program, args, { cwd: root, encoding: 'utf8', input });

async function school(name, ...args) {
  const records = `${folder}/${name}`;
  const { started, where } = await serve('--records', records, ...args);
  servers.push(started);
  return { records, started, address: where };
}
async function named(page) {
  await page.getByLabel(/Your name/).fill('Instructor M');
  await page.getByLabel(/Your name/).press('Tab');
}
async function withStudent(page, name) {
  await named(page);
  await page.getByLabel('New student').fill(name);
  await page.getByRole('button', { name: 'Add', exact: true }).first().click();
  await page.waitForURL(/#student\/\d+/);
  await page.getByRole('heading', { name: 'Readiness' }).waitFor();
}
async function filed(page) {
  const filing = page.getByRole('region', { name: 'File logs' });
  await filing.getByLabel(/^Runway/).fill(runway);
  await filing.getByLabel(/^Point/).fill('600');
  await filing.getByLabel(/^Track logs/).setInputFiles(LOG);
  await page.waitForFunction(() => document.querySelectorAll('[aria-label="Every touchdown"] details').length > 0);
}

test('a student goes from the first log to the sign-off, and the roster shows it', async () => {
  const { records, address } = await school('one.records');
  const { page, context, faults } = await open('#school', { address });
  await page.getByText('No students yet').waitFor();
  await withStudent(page, 'Demo Student');
  await page.getByText('Nothing flown yet').waitFor();
  await filed(page);
  const shown = JSON.parse(run(['record', 'show', 'Demo Student', '--records', records, '--json']));
  await page.getByText('The same as a list').click();
  const rows = await page.locator('[aria-label="Every touchdown"] tbody tr').allInnerTexts();
  assert.equal(rows.length, shown.student.attempts.length);
  const along = shown.student.attempts[0].assessments[0].along_ft;
  const sign = along < 0 ? '−' : '+';
  assert.ok(rows[0].includes(`${sign}${Math.abs(Math.round(along / 10) * 10).toLocaleString('en-US')} ft past the point`), rows[0]);

  await page.getByRole('button', { name: /Choose attempt/ }).first().click();
  await page.getByLabel('In the box, as seen').selectOption('yes');
  await page.getByLabel('Standard met, as seen').selectOption('yes');
  await page.getByLabel('Why').fill('seen from the tower');
  await page.getByRole('button', { name: 'Keep as version 2' }).click();
  await page.waitForFunction(() => !document.querySelector('.assess'));
  await page.getByLabel('A note').fill('Looks at the point too late.');
  await page.getByRole('button', { name: 'Keep the note' }).click();
  await page.getByText('Looks at the point too late.').waitFor();
  await page.getByLabel('What is signed off').fill('Explains a miss in own words');
  await page.getByRole('button', { name: 'Keep the signature' }).click();
  await page.locator('.signed strong', { hasText: 'Explains a miss' }).waitFor();
  await page.getByLabel('Due on').fill('2030-05-21');
  await page.getByLabel('What', { exact: true }).fill('progress check');
  await page.getByRole('button', { name: 'Keep', exact: true }).click();
  await page.getByText('progress check').first().waitFor();
  await shot(page, 'student');
  await noBarrier(page);

  const after = JSON.parse(run(['record', 'show', 'Demo Student', '--records', records, '--json']));
  assert.equal(after.student.attempts[0].assessments.at(-1).said.met, true);
  assert.equal(after.student.attempts[0].assessments.at(-1).by, 'Instructor M');
  assert.equal(after.student.sign_offs[0].signed_by, 'Instructor M');

  await page.getByRole('link', { name: 'School' }).click();
  await page.getByRole('link', { name: 'Demo Student' }).waitFor();
  assert.match(await page.locator('tbody tr', { hasText: 'Demo Student' }).innerText(), /21 May 2030[\s\S]*progress check/);
  await shot(page, 'school');
  await noBarrier(page);
  assert.deepEqual(faults, []);
  await context.close();
});

test('the unit of a log\'s heights is said where it is dropped, and holds when it is dropped again', async () => {
  const { records, address } = await school('heights.records');
  const { page, context, faults } = await open('#school', { address });
  await withStudent(page, 'Demo Student');
  const inFeet = readFileSync(LOG, 'utf8').replace(/<ele>([^<]+)<\/ele>/g, (_, metres) => `<ele>${(Number(metres) / 0.3048).toFixed(3)}</ele>`);
  writeFileSync(`${folder}/feet.gpx`, inFeet);
  const filing = page.getByRole('region', { name: 'File logs' });
  await filing.getByLabel(/^Runway/).fill(runway);
  await filing.getByLabel(/^Point/).fill('600');
  await filing.getByLabel('Heights are in').selectOption('ft');
  await filing.getByLabel(/^Track logs/).setInputFiles(`${folder}/feet.gpx`);
  await page.waitForFunction(() => document.querySelectorAll('[aria-label="Every touchdown"] details').length > 0);
  const newest = () => JSON.parse(run(['record', 'show', 'Demo Student', '--records', records, '--json'])).student.attempts.map((one) => one.assessments.at(-1));
  const told = newest();
  assert.ok(told.length > 0 && told.every((one) => one.height_unit === 'ft'), 'the unit stays with the attempts');
  run(['record', 'file', LOG, '--runway', runway, '--touchdown-point-ft', '600', '--student', 'Right Log', '--add-student', '--by', 'Demo Office', '--records', records]);
  const right = JSON.parse(run(['record', 'show', 'Right Log', '--records', records, '--json'])).student.attempts.map((one) => one.assessments.at(-1));
  assert.equal(told.length, right.length);
  // Written to a thousandth of a foot, shown to a tenth.
  told.forEach((one, i) => assert.ok(Math.abs(one.along_ft - right[i].along_ft) < 1, `${one.along_ft} and ${right[i].along_ft}`));
  // Dropped again for another point, with nothing said of its heights: what was told holds.
  const rows = await page.locator('[aria-label="Every touchdown"] tbody').textContent();
  await filing.getByLabel('Heights are in').selectOption('');
  await filing.getByLabel(/^Point/).fill('700');
  await filing.getByLabel(/^Track logs/).setInputFiles(`${folder}/feet.gpx`);
  await page.waitForFunction((before) => document.querySelector('[aria-label="Every touchdown"] tbody').textContent !== before, rows);
  newest().forEach((one, i) => {
    assert.equal(one.height_unit, 'ft');
    assert.ok(Math.abs(one.along_ft - (told[i].along_ft - 100)) < 1, `${one.along_ft}, from 100 ft nearer ${told[i].along_ft}`);
  });
  await noBarrier(page);
  assert.deepEqual(faults, []);
  await context.close();
});

test('a standard of the house is kept, chosen and counted by; a higher version counts what it judged', async () => {
  const { records, address } = await school('house.records');
  const { page, context, faults } = await open('#school', { address });
  const text = readFileSync(`${root}data/demo/house-standard.json`, 'utf8');
  const file = (version, high) => ({ name: 'house.json', mimeType: 'application/json', buffer: Buffer.from(text.replace('"version": "2"', `"version": "${version}"`).replace('"high_ft": 300', `"high_ft": ${high}`)) });
  await named(page);
  const standards = page.locator('details', { hasText: /^Standards/ });
  const keep = async (one) => {
    await standards.locator('input[type=file]').setInputFiles(one);
    await standards.getByRole('button', { name: 'Keep it' }).click();
  };
  await standards.locator('summary').click();
  await keep(file('2', '300'));
  await standards.getByText('version 2, set by the chief instructor; box −100 to +300 ft').waitFor();
  await keep(file('2', '250'));
  await standards.getByRole('alert').getByText(/a higher version was expected/).waitFor();
  await noBarrier(page);
  await shot(page, 'school-standards');
  await withStudent(page, 'Demo Student');
  await page.getByLabel('By the standard').selectOption({ label: 'Harrow Fen school box before solo (invented), version 2' });
  await page.getByText('by Harrow Fen school box before solo (invented)').waitFor();
  await filed(page);
  const shown = JSON.parse(run(['record', 'show', 'Demo Student', '--standard', 'house', '--records', records, '--json']));
  assert.equal(shown.readiness.met.of, 3, 'the logs were judged by it');
  await page.getByText('The same as a list').click();
  await page.getByRole('button', { name: /Choose attempt/ }).first().click();
  await page.getByLabel('Who flew').selectOption('controls_taken');
  await page.getByLabel('Why').fill('low on final');
  await page.getByRole('button', { name: 'Keep as version 2' }).click();
  await page.getByText('1 controls taken').waitFor();
  assert.match(await page.locator('[aria-label="Every touchdown"] tbody tr').first().innerText(), /controls taken, not counted/);
  await shot(page, 'student-house-standard');
  await noBarrier(page);

  await page.getByRole('link', { name: 'School' }).click();
  await standards.locator('summary').click();
  await keep(file('3', '200'));
  await standards.getByText('version 3, set by').waitFor();
  await page.getByRole('link', { name: 'Demo Student' }).click();
  await page.getByLabel('By the standard').selectOption({ label: 'Harrow Fen school box before solo (invented), version 3' });
  await page.getByText(/3 judged by an earlier version of it/).waitFor();
  await page.getByLabel('By the standard').selectOption({ label: 'Harrow Fen school box before solo (invented), version 2' });
  await page.getByText('1 controls taken').waitFor();
  assert.deepEqual(faults.filter((one) => !one.includes('409')), [], 'but for the changed text');
  await context.close();
});

test('both records pages hold in the dark and on a phone', async () => {
  const { address } = await school('one.records');
  const { page, context, faults } = await open('#student/1', { address, colorScheme: 'dark', viewport: { width: 390, height: 844 }, hasTouch: true });
  await page.getByRole('heading', { name: 'Readiness' }).waitFor();
  assert.ok(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth), 'nothing sticks out');
  await shot(page, 'student-phone');
  await noBarrier(page);
  await page.getByRole('link', { name: 'School' }).click();
  await page.getByRole('link', { name: 'Demo Student' }).waitFor();
  assert.ok(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth), 'nothing sticks out');
  await shot(page, 'school-phone');
  await noBarrier(page);
  assert.deepEqual(faults, []);
  await context.close();
});

test('two who assess one attempt: the second is told, and nothing is lost', async () => {
  const { address } = await school('two.records');
  const first = await open('#school', { address });
  await withStudent(first.page, 'Demo Student');
  await filed(first.page);
  const second = await open('#student/1', { address });
  await named(second.page);
  for (const { page } of [first, second]) {
    await page.getByText('The same as a list').click();
    await page.getByRole('button', { name: /Choose attempt/ }).first().click();
    await page.getByLabel('Who flew').selectOption('student_prompted');
    await page.getByLabel('Why').fill('prompted');
  }
  await first.page.getByRole('button', { name: 'Keep as version 2' }).click();
  await first.page.waitForFunction(() => !document.querySelector('.assess'));
  await second.page.getByRole('button', { name: 'Keep as version 2' }).click();
  await second.page.getByText(/assessed again since you looked/).waitFor();
  assert.equal(await second.page.getByLabel('Why').inputValue(), 'prompted', 'what was typed stays');
  await second.page.getByRole('button', { name: 'Keep as version 3' }).waitFor();
  await first.context.close();
  await second.context.close();
});

test('a bad log says why and waits for another try; a removed student comes back', async () => {
  const { address } = await school('three.records');
  const { page, context } = await open('#school', { address });
  await withStudent(page, 'Demo Student');
  await page.getByRole('region', { name: 'File logs' }).getByLabel(/^Track logs/).setInputFiles({ name: 'holiday.jpg', mimeType: 'image/jpeg', buffer: Buffer.from([255, 216, 255, 224, 0, 16]) });
  await page.getByText('holiday.jpg was not debriefed.').waitFor();
  await noBarrier(page);
  await page.getByRole('button', { name: 'Forget it' }).click();
  await page.waitForFunction(() => !document.body.innerText.includes('holiday.jpg was not'));
  await page.getByRole('button', { name: 'Remove the student' }).click();
  await page.waitForURL(/#school/);
  await page.getByText('No students yet').waitFor();
  await page.getByRole('button', { name: 'Undo the last removal' }).click();
  await page.getByRole('link', { name: 'Demo Student' }).waitFor();
  await context.close();
});

test('a server that goes in the middle: the page says what is safe and keeps what was typed', async () => {
  const { address, started } = await school('four.records');
  const { page, context } = await open('#school', { address });
  await withStudent(page, 'Demo Student');
  started.kill('SIGKILL');
  await new Promise((resolve) => started.once('exit', resolve));
  await page.getByLabel('A note').fill('Typed while the server was away.');
  await page.getByRole('button', { name: 'Keep the note' }).click();
  await page.getByText(/The server does not answer/).waitFor();
  assert.equal(await page.getByLabel('A note').inputValue(), 'Typed while the server was away.');
  await context.close();
});

test('a page without records says how to get them', async () => {
  const { page, context, faults } = await open('#school');
  await page.getByText('No records here').waitFor();
  await noBarrier(page);
  assert.deepEqual(faults, []);
  await context.close();
});

test('in a school everybody signs in, and sees their own', async () => {
  const records = `${folder}/school.records`;
  const by = ['--by', 'Demo Office', '--records', records];
  run(['record', 'add', 'Student of M', ...by]);
  run(['record', 'add', 'Student of K', ...by]);
  for (const [name, role] of [['m', 'instructor'], ['k', 'instructor'], ['a', 'administrator']]) {
    run(['school', 'add', `Person ${name}`, '--sign-in', name, '--role', role, ...by]);
    run(['school', 'password', name, ...by], 'seven quiet gliders\n');
  }
  run(['school', 'hand-over', 'Student of M', '--to', 'm', ...by]);
  run(['school', 'hand-over', 'Student of K', '--to', 'k', ...by]);
  const { address } = await school('school.records', '--sign-in');
  const { page, context } = await open('#school', { address });
  await page.getByRole('heading', { name: 'Sign in to the records' }).waitFor();
  await noBarrier(page);
  const enter = async (name, password) => {
    await page.getByLabel('Name').fill(name);
    await page.getByLabel('Password').fill(password);
    await page.getByRole('button', { name: 'Sign in' }).click();
  };
  await enter('m', 'something else entirely');
  await page.getByText(/do not belong together/).waitFor();
  await enter('m', 'seven quiet gliders');
  await page.getByRole('link', { name: 'Student of M' }).waitFor();
  assert.equal(await page.getByRole('link', { name: 'Student of K' }).count(), 0);
  await page.reload();
  await page.getByRole('link', { name: 'Student of M' }).waitFor();
  await page.getByRole('button', { name: 'Sign out' }).click();
  await page.getByRole('heading', { name: 'Sign in to the records' }).waitFor();
  await enter('a', 'seven quiet gliders');
  await page.getByRole('link', { name: 'Student of K' }).waitFor();
  await page.getByText(/Who may sign in/).click();
  await page.getByRole('button', { name: 'Close Person k' }).click();
  await page.getByText(/Person k can no longer sign in/).waitFor();
  await noBarrier(page);
  await context.close();
});

test('an airplane of the school is kept, a lesson filed under it, and it is removed and taken back', async () => {
  const { records, address } = await school('fleet.records');
  const { page, context, faults } = await open('#school', { address });
  await named(page);
  const fleet = page.locator('details', { hasText: 'Airplanes and airfields' });
  await fleet.locator('summary').click();
  const keep = async (what, name, files) => {
    await fleet.getByLabel(/^What/).selectOption(what);
    await fleet.getByLabel('As you call it').fill(name);
    await fleet.locator('input[type=file]').setInputFiles(files);
    await fleet.getByRole('button', { name: 'Keep it' }).click();
    await fleet.getByRole('status').getByText(name).waitFor();
  };
  const name = '<b>דוגמה 1</b>';
  await keep('airplane', name, `${root}/data/airplanes/demo-trainer.json`);
  await keep('airfield', 'Home', [`${flight}runway.json`, `${root}/data/demo/harrow-fen-24.json`]);
  await fleet.getByLabel('As you call it').fill('No profile');
  await fleet.getByLabel(/^What/).selectOption('airplane');
  await fleet.locator('input[type=file]').setInputFiles(`${flight}runway.json`);
  await fleet.getByRole('button', { name: 'Keep it' }).click();
  await fleet.getByRole('alert').waitFor();
  await shot(page, 'school-fleet');
  await noBarrier(page);
  await fleet.getByRole('button', { name: `Remove ${name}` }).click();
  await fleet.getByText('what was filed under it stays').waitFor();
  await fleet.getByRole('button', { name: 'Undo' }).click();
  await fleet.getByText('Taken back: airplane 1').waitFor();
  await withStudent(page, 'Demo Student');
  await page.getByRole('region', { name: 'File logs' }).getByLabel(/^Airplane/).selectOption(name);
  await filed(page);
  const shown = JSON.parse(run(['record', 'airplane', 'show', '1', '--records', records, '--json']));
  assert.equal(shown.item.name, name);
  assert.equal(shown.filed_last.length, 3);
  assert.equal(JSON.parse(run(['record', 'airfield', 'list', '--records', records, '--json'])).items[0].name, 'Home');
  assert.deepEqual(faults.filter((one) => !one.includes('409')), [], 'but for the profile that was none');
  await context.close();
});

/** One file with what receiver and panel wrote of a simulated flight, a row for each second that both have. */
function withPanel(name) {
  const rows = (file) => new Map(readFileSync(file, 'utf8').trim().split(/\r?\n/).map((line) => [line.slice(0, line.indexOf(',')).replace('.000Z', 'Z'), line.slice(line.indexOf(',') + 1)]));
  const fixes = rows(`${root}tests/data/flights/${name}/${name}.csv`);
  const panel = rows(`${root}tests/data/flights/${name}/${name}_avionics.csv`);
  return [...fixes].filter(([time]) => panel.has(time)).map(([time, columns]) => `${time},${columns},${panel.get(time)}`).join('\n') + '\n';
}

test('an airplane is fitted from the logs filed under it: shown with intervals, then kept', async () => {
  const records = `${folder}/fit.records`;
  const by = ['--by', 'Demo Office', '--records', records];
  run(['record', 'add', 'Demo Student', ...by]);
  run(['record', 'airplane', 'add', 'Demo 1', 'demo-trainer', ...by]);
  const { address } = await school('fit.records');
  const { page, context, faults } = await open('#school', { address });
  await named(page);
  const fleet = page.locator('details', { hasText: 'Airplanes and airfields' });
  await fleet.locator('summary').click();
  await fleet.getByRole('button', { name: /Fit from its logs/ }).click();
  await fleet.getByRole('alert').getByText(/nothing is filed under it/i).waitFor();
  await noBarrier(page);
  for (const name of ['F20', 'F08']) {
    writeFileSync(`${folder}/${name}.csv`, withPanel(name));
    run(['record', 'file', `${folder}/${name}.csv`, '--airplane', 'Demo 1', '--student', 'Demo Student', ...by]);
  }
  const fit = fleet.getByRole('region', { name: 'Fit of Demo 1' });
  await fit.getByLabel(/^Weight/).fill('2200');
  await fit.getByRole('button', { name: 'Look again' }).click();
  await fit.getByRole('button', { name: 'Keep as version 2' }).waitFor();
  assert.equal(JSON.parse(run(['record', 'airplane', 'show', '1', '--records', records, '--json'])).item.versions.length, 1, 'looking keeps nothing');
  const ratio = await fit.locator('tbody tr').first().locator('td').nth(2).innerText();
  await shot(page, 'school-fit');
  await noBarrier(page);
  await fit.getByRole('button', { name: 'Keep as version 2' }).click();
  await fleet.getByText(/Kept: Demo 1, version 2/).waitFor();
  const fitted = JSON.parse(run(['record', 'airplane', 'fit', '1', '--weight-lb', '2200', ...by, '--json']));
  const best = fitted.estimates[0].after;
  assert.equal(ratio.replace(/\s+/g, ' '), `${best.value.toFixed(2)} ${best.low95.toFixed(2)} to ${best.high95.toFixed(2)}`, 'the same as the command line says');
  assert.deepEqual(faults.filter((one) => !one.includes('409')), []);
  await context.close();
});

test('own flights are asked about before anything is told, on a phone, and the answers are filed', async () => {
  const records = `${folder}/own.records`;
  const by = ['--by', 'Demo Office', '--records', records];
  run(['record', 'add', 'Demo Student', ...by]);
  run(['record', 'file', LOG, '--runway', `${flight}runway.json`, '--touchdown-point-ft', '600', '--airplane', 'demo-trainer', '--student', 'Demo Student', ...by]);
  const { address } = await school('own.records');
  const { page, context, faults } = await open('#student/1', { address, viewport: { width: 390, height: 844 }, hasTouch: true, colorScheme: 'dark' });
  await page.getByRole('button', { name: 'Ask about own flights' }).click();
  await page.getByText('Say your name above first').waitFor();
  await named(page);
  await page.getByRole('button', { name: 'Ask about own flights' }).click();
  await page.getByText(/^picture 1 of/).waitFor();
  const pictures = Number(/of (\d+)/.exec(await page.getByText(/^picture 1 of/).innerText())[1]);
  for (const told of ['touched down', 'touch-and-goes', 'mended it']) assert.ok(!(await page.locator('main').innerText()).includes(told), `${told} is told too soon`);
  assert.ok(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth), 'nothing sticks out');
  await shot(page, 'own-drill-phone');
  await noBarrier(page);
  for (let i = 1; i <= pictures; i++) {
    await page.getByRole('application').click({ position: { x: 100, y: 100 } });
    await page.getByRole('button', { name: /Low/ }).click();
    await page.getByRole('button', { name: 'Show me' }).click();
    await page.getByText(/your mark was/).waitFor();
    if (i === 1) {
      await page.getByText(/it touched down at/i).waitFor();
      await shot(page, 'own-drill-told-phone');
      await noBarrier(page);
    }
    await page.getByRole('button', { name: /Next picture|What it says/ }).click();
  }
  await page.getByText(`${pictures} ${pictures === 1 ? 'answer' : 'answers'} filed`).waitFor();
  await noBarrier(page);
  const kept = JSON.parse(run(['record', 'show', 'Demo Student', '--records', records, '--json']));
  assert.equal(kept.student.drills.length, pictures);
  assert.ok(kept.student.drills.every((one) => one.said === 'low' && one.setting.startsWith('own flight')));
  await page.getByRole('button', { name: 'Back to the record' }).click();
  await page.getByRole('heading', { name: 'Drills' }).waitFor();
  await page.getByText(new RegExp(`${kept.drill_score.all.right} of ${pictures} right`)).first().waitFor();
  await shot(page, 'student-drills-phone');
  await noBarrier(page);
  assert.deepEqual(faults, []);
  await context.close();
});
