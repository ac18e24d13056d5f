import { expect, test } from 'vitest';
import { packed, unpacked } from '../src/parts/packed';
import { carriedIn, fragmentOf, packedOf, settingIn } from '../src/plan/link';
import { demoSetting, type Setting } from '../src/plan/setting';

const since = Date.parse('2026-04-05T09:30Z');
const odd: Setting = {
  ...demoSetting(), runway: '54.5012,2.5107,243,82,4100', airplane: 'generic-low-wing', windFrom: 225, windKt: 12, gustKt: 19,
  temperatureC: '-4', altimeter: '998.5', altimeterIn: 'hpa', weightLb: '2200', pointFt: 600, heightFt: 1200, spacingNm: 0.65, traffic: 'right',
  standard: 'ca-complex-competency', windSince: since,
};

test('what a link is made of comes out of it again', () => {
  expect(settingIn(fragmentOf(odd), demoSetting())).toEqual(odd);
  const reported = { ...demoSetting(), metar: 'XHFN 140850Z 27010G18KT 9999 12/05 Q1019', windSince: since };
  expect(settingIn(fragmentOf(reported), demoSetting())).toEqual(reported);
});

test('it can be read aloud and names the options of the command line', () => {
  expect(fragmentOf(odd)).toBe(
    '#plan?runway=54.5012,2.5107,243,82,4100&airplane=generic-low-wing&wind=225/12G19&since=2026-04-05T09:30Z&temperature-c=-4' +
      '&altimeter-hpa=998.5&weight-lb=2200&touchdown-point-ft=600&pattern-height-ft=1200&spacing-nm=0.65&traffic=right' +
      '&standard=ca-complex-competency',
  );
});

test('no link, no setting', () => {
  for (const other of ['', '#plan', '#debrief', '#planet?wind=calm']) expect(settingIn(other, odd)).toBeUndefined();
});

test('a link to the very plan that is open changes nothing', () => {
  expect(settingIn(fragmentOf(odd), odd)).toBeUndefined();
});

test('nonsense is left out and the rest counts', () => {
  const got = settingIn('#plan?wind=north&pattern-height-ft=1e9&spacing-nm=9&airplane=rocket&standard=x&weight-lb=heavy&since=2199-01-01T00:00Z&traffic=right', demoSetting());
  expect(got).toEqual({ ...demoSetting(), traffic: 'right', spacingNm: 1, windSince: got?.windSince });
  expect(got?.windSince).toBeLessThanOrEqual(Date.now());
});

test('an own airplane and an own runway go with the link', async () => {
  const mine: Setting = { ...demoSetting(), airplane: 'own', ownAirplane: '{"name": "Ours", "flaps": []}', runway: 'own', ownRunway: '{"airfield": "Wöhr"}', windSince: since };
  const link = fragmentOf(mine, await packedOf(mine));
  expect(settingIn(link, demoSetting(), await carriedIn(link))).toEqual(mine);
});

test('one that cannot be read is not taken for another', async () => {
  const mine: Setting = { ...demoSetting(), airplane: 'own', ownAirplane: '{"name": "Ours"}' };
  const link = fragmentOf(mine, await packedOf(mine)).replace(/own-airplane=[\w-]{8}/, 'own-airplane=AAAAAAAA');
  expect((await carriedIn(link)).airplane).toBe('');
  expect(settingIn(link, demoSetting(), await carriedIn(link))?.airplane).toBe('demo-trainer');
});

test('a link without it finds it where it is on this device', () => {
  const mine: Setting = { ...demoSetting(), airplane: 'own', ownAirplane: '{"name": "Ours"}', ownKey: 'k1' };
  expect(settingIn(fragmentOf(mine), { ...mine, heightFt: 900 })).toMatchObject({ airplane: 'own', ownKey: 'k1' });
  expect(settingIn(fragmentOf(mine), demoSetting())?.airplane).toBe('demo-trainer');
});

test('letters that would blow up are not unpacked', async () => {
  expect(await unpacked(await packed('a'.repeat(200_000)))).toBeUndefined();
  expect(await unpacked(await packed('a'.repeat(90_000)))).toHaveLength(90_000);
});
