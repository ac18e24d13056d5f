// States that a page is seldom in: nothing there yet, refused, at work, out of date; on paper, in strong contrast, on a
// tablet. Each without a barrier, nothing cut off, and a picture in build/shots.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { demonstrated, noBarrier, open, root, shot } from './browser.mjs';
import { planned } from './planned.mjs';

/** Neither the page nor any text in it is wider than what is seen. */
async function fits(page) {
  const wide = await page.evaluate(() => {
    const out = document.documentElement.clientWidth + 1;
    return [...document.querySelectorAll('main *')]
      .filter((one) => one.checkVisibility() && !one.closest('.offscreen, svg') && one.getBoundingClientRect().right > out)
      .map((one) => one.outerHTML.slice(0, 120));
  });
  assert.deepEqual(wide, []);
}
/** On a phone the conditions are folded away. */
async function unfolded(page) {
  await planned(page);
  const report = page.getByLabel(/Weather report/);
  if (!(await report.isVisible())) await page.locator('summary').click();
  await report.waitFor();
}
const refused = async (page) => {
  await unfolded(page);
  await page.getByLabel(/Weather report/).fill('XHFN 140850Z 24x12KT');
  await page.getByRole('alert').waitFor();
};
const noPlan = async (page) => {
  await unfolded(page);
  await page.getByLabel(/Weather report/).fill('XHFN 140850Z 33030KT 9999 12/05 Q1019');
  await page.getByText('No plan is offered').waitFor();
};
const dropText = async (page) => {
  const buffer = Buffer.from('Dear diary, today we flew.\n');
  await page.getByLabel(/Track log/).setInputFiles({ name: 'diary.txt', mimeType: 'text/plain', buffer });
  await page.getByRole('alert').waitFor();
};
const nothing = async () => undefined;
const oldWind = async (page) => {
  const since = new Date(Date.now() - 245 * 60000).toISOString().slice(0, 16);
  await page.goto(`${page.url().split('#')[0]}#plan?wind=240/12&since=${since}Z`);
  await page.getByText(/The wind is 4 h old/).waitFor();
};
/** The engine's answers held back, as those of a long log are. */
async function held(page) {
  await page.addInitScript(() => {
    const Original = window.Worker;
    window.Worker = class extends Original {
      postMessage(asked, ...more) {
        if (!window.held) super.postMessage(asked, ...more);
      }
    };
  });
  await page.reload();
  await page.evaluate(() => { window.held = true; });
}
const working = async (page) => {
  await held(page);
  await page.getByRole('button', { name: 'Demonstration' }).and(page.locator(':visible')).click();
  await page.getByRole('button', { name: 'Cancel' }).waitFor();
};

const states = [
  ['plan-refused', '', refused],
  ['plan-none', '', noPlan],
  ['plan-old-wind', '', oldWind],
  ['debrief-empty', '#debrief', nothing],
  ['debrief-refused', '#debrief', dropText],
  ['debrief-working', '#debrief', working],
];
for (const [name, where, bring] of states)
  test(`no barrier where it is ${name}`, async () => {
    for (const options of [{}, { colorScheme: 'dark', viewport: { width: 390, height: 844 }, hasTouch: true }]) {
      const { page, context } = await open(where, options);
      await bring(page);
      await noBarrier(page);
      await fits(page);
      await shot(page, `${name}${options.colorScheme ? '-phone-dark' : ''}`);
      await context.close();
    }
  });

test('while the odds of a move are reckoned, none of other conditions stand there', async () => {
  const { page, context, faults } = await open();
  await planned(page);
  const land = page.getByRole('region', { name: 'Where it would land' });
  const before = await land.innerText();
  assert.match(before, /\d+ in 20/);
  await page.evaluate(() => {
    window.seen = [];
    const land = document.querySelector('[aria-labelledby=land]');
    new MutationObserver(() => window.seen.push({ busy: land.ariaBusy, text: land.innerText, cue: document.querySelector('.six dd').textContent }))
      .observe(land, { subtree: true, childList: true, attributes: true, characterData: true });
  });
  await page.getByLabel(/^Wind \d/).focus();
  for (let i = 0; i < 4; i++) await page.keyboard.press('ArrowRight');
  await page.waitForFunction(() => document.querySelector('summary').textContent.includes('14 kt'));
  await planned(page);
  const seen = await page.evaluate(() => window.seen);
  const reckoning = seen.filter((one) => one.busy === 'true');
  assert.ok(reckoning.length > 0, 'the picture came before its odds');
  for (const one of reckoning) assert.doesNotMatch(one.text.replaceAll('in 20', ''), /\d/, 'no number while they are reckoned');
  assert.equal(seen.at(-1).busy, 'false');
  assert.match(await land.innerText(), /2,000 flights/);
  assert.deepEqual(faults, []);
  await context.close();
});

test('long work can be cancelled, and what was there before stays', async () => {
  const { page, context } = await open('#debrief');
  await demonstrated(page);
  await page.getByLabel(/^Attempt 1/).fill('+70');
  await page.getByLabel(/^Attempt 1/).press('Tab');
  await page.waitForFunction(() => document.querySelector('.seen li')?.textContent?.includes('now +70 ft'));
  await page.getByRole('button', { name: 'Debrief', exact: true }).and(page.locator(':visible')).click();
  const cancel = page.getByRole('button', { name: 'Cancel' });
  await cancel.click();
  await page.getByRole('alert').waitFor();
  assert.match(await page.getByRole('alert').innerText(), /Cancelled\. What stands below is touch-and-goes\.gpx\./);
  assert.match(await page.getByRole('status').innerText(), /^touch-and-goes\.gpx: 3 attempts/);
  await page.getByRole('button', { name: 'Debrief', exact: true }).and(page.locator(':visible')).click();
  await page.getByRole('alert').waitFor({ state: 'detached' });
  await context.close();
});

test('an old wind hides what is said by it, until somebody says that it is still so', async () => {
  const { page, context } = await open();
  await oldWind(page);
  assert.equal(await page.locator('.six').count(), 0);
  assert.equal(await page.getByText('behind the wing').count(), 0);
  await page.getByRole('button', { name: 'It is still so' }).click();
  await page.locator('.six').waitFor();
  // The address follows a moment after the last change.
  const then = 'since=' + new Date(Date.now() - 245 * 60000).toISOString().slice(0, 13);
  await page.waitForURL((url) => url.hash.includes('since=') && !url.hash.includes(then));
  await context.close();
});

for (const where of ['', '#debrief', '#drill']) {
  const name = where.slice(1) || 'plan';
  const ready = async (page) => {
    if (where === '#debrief') await demonstrated(page);
    else if (where === '#drill') await page.getByRole('button', { name: 'Show me' }).waitFor();
    else await planned(page);
  };
  for (const colorScheme of ['light', 'dark'])
    test(`strong contrast: ${name} in ${colorScheme}`, async () => {
      const { page, context } = await open(where, { contrast: 'more', colorScheme });
      await ready(page);
      // Seven to one, which WCAG 2.2 asks of enhanced contrast (1.4.6), and not only the 4.5 of its level AA.
      await noBarrier(page, { rules: { 'color-contrast-enhanced': { enabled: true } } });
      await shot(page, `${name}-contrast-${colorScheme}`);
      await context.close();
    });
  test(`on a tablet held upright: ${name}`, async () => {
    const { page, context } = await open(where, { viewport: { width: 820, height: 1180 }, hasTouch: true });
    await ready(page);
    await noBarrier(page);
    await fits(page);
    // What a finger is to meet is a finger wide: 44 px, as touch guidelines commonly ask.
    const small = await page.evaluate(() => [...document.querySelectorAll('main button, main select')]
      .filter((one) => one.checkVisibility() && one.getBoundingClientRect().height < 43.5).map((one) => one.outerHTML.slice(0, 100)));
    assert.deepEqual(small, []);
    await shot(page, `${name}-tablet`);
    await context.close();
  });
}

test('the plan on paper: black on white, no controls, all on one sheet', async () => {
  const { page, context } = await open('', { colorScheme: 'dark' });
  await planned(page);
  await page.emulateMedia({ media: 'print', colorScheme: 'dark' });
  assert.equal(await page.locator('button:visible, input:visible, nav:visible').count(), 0);
  assert.match(await page.locator('.on-paper').innerText(), /UTC, wind \d+ min old/);
  const [paper, ink] = await page.evaluate(() => {
    const style = getComputedStyle(document.body);
    return [style.backgroundColor, style.color];
  });
  assert.deepEqual([paper, ink], ['rgb(255, 255, 255)', 'rgb(0, 0, 0)']);
  const pdf = await page.pdf({ format: 'A4', path: `${root}build/shots/plan.pdf`, margin: { top: '12mm', bottom: '12mm', left: '12mm', right: '12mm' } });
  assert.equal(String(pdf.toString('latin1').match(/\/Type\s*\/Page\b(?!s)/g)?.length), '1');
  await shot(page, 'plan-paper');
  await context.close();
});

/** Black on white and no controls, whatever the screen's theme was; the text of the sheets. */
async function onPaper(page, name) {
  await page.emulateMedia({ media: 'print', colorScheme: 'dark' });
  assert.equal(await page.locator('button:visible, input:visible, select:visible, nav:visible').count(), 0);
  const [paper, ink] = await page.evaluate(() => {
    const style = getComputedStyle(document.body);
    return [style.backgroundColor, style.color];
  });
  assert.deepEqual([paper, ink], ['rgb(255, 255, 255)', 'rgb(0, 0, 0)']);
  const margin = { top: '12mm', bottom: '12mm', left: '12mm', right: '12mm' };
  const pdf = await page.pdf({ format: 'A4', path: `${root}build/shots/${name}.pdf`, margin });
  return pdf.toString('latin1').match(/\/Type\s*\/Page\b(?!s)/g)?.length ?? 0;
}

test('a debrief on paper begins on the first sheet and ends with its last line', async () => {
  const { page, context } = await open('#debrief', { colorScheme: 'dark' });
  await demonstrated(page);
  // What the frame shows on paper is all of the report: nothing of it lies below its edge.
  const frame = await page.locator('iframe').evaluate((shown) => {
    window.dispatchEvent(new Event('beforeprint'));
    return shown.clientHeight;
  });
  await page.emulateMedia({ media: 'print' });
  const report = await page.locator('iframe').evaluate((shown) => {
    shown.style.width = '703px'; // A4 less its margins, at 96 to the inch
    return shown.contentDocument.body.getBoundingClientRect().bottom;
  });
  assert.ok(frame >= report && frame <= 1.5 * report, `${frame} px for ${report}`);
  await page.emulateMedia({ media: 'screen' });
  const sheets = await onPaper(page, 'debrief');
  assert.ok(sheets >= 2 && sheets <= 3, `${sheets} sheets`); // two of the report, and at most one of what stands round it
  await context.close();
});

test('a drill on paper asks with boxes to tick, on one sheet, and does not tell', async () => {
  const { page, context } = await open('#drill', { colorScheme: 'dark' });
  await page.getByRole('button', { name: 'Show me' }).waitFor();
  assert.equal(await onPaper(page, 'drill'), 1);
  const text = await page.locator('.drill').innerText();
  assert.match(text, /☐ low/);
  assert.doesNotMatch(text, /lands at|What mends it/);
  await context.close();
});
