import { expect, test } from 'vitest';
import { fragmentOf, settingIn } from '../src/plan/link';
import { demoSetting, type Setting } from '../src/plan/setting';

const since = Date.parse('2026-04-05T09:30Z');
const odd: Setting = {
  ...demoSetting(), runway: '54.5012,2.5107,243,82,4100', airplane: 'generic-low-wing', windFrom: 225, windKt: 12, gustKt: 19,
  temperatureC: '-4', altimeterHpa: '998.5', weightLb: '2200', pointFt: 600, heightFt: 1200, spacingNm: 0.65, traffic: 'right',
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

test("an own airplane stays this device's", () => {
  const mine = { ...demoSetting(), airplane: 'own', ownAirplane: '{"id": "mine"}' };
  expect(fragmentOf(mine)).not.toContain('mine');
  expect(settingIn(fragmentOf(mine), { ...mine, heightFt: 900 })?.airplane).toBe('own');
  expect(settingIn(fragmentOf(mine), demoSetting())?.airplane).toBe('demo-trainer');
});
