import { expect, it } from 'vitest';
import { altimeterShown, feetOf, lengthWords, metresOf } from '../src/parts/units';
import { arguments_of, demoSetting, keptSetting } from '../src/plan/setting';

// Exact: 1 ft is 0.3048 m, so 4,100 ft are 1,249.68 m.
it('a runway is read in feet, or in metres with its feet beside them', () => {
  expect(lengthWords(4100, 'ft')).toBe('4,100 ft');
  expect(lengthWords(4100, 'm')).toBe('1,250 m (4,100 ft)');
  expect(metresOf(feetOf(1250))).toBe(1250);
});

// ICAO standard: 1013.25 hPa is 29.92 inHg.
it('an altimeter setting is shown in the unit that is read, and as it was typed in its own', () => {
  expect(altimeterShown('1013.25', 'hpa', 'inhg')).toBe('29.92');
  expect(altimeterShown('29,92', 'inhg', 'hpa')).toBe('1013.2');
  expect(altimeterShown('30.01', 'inhg', 'inhg')).toBe('30.01');
  for (const text of ['', 'standard']) expect(altimeterShown(text, 'hpa', 'inhg')).toBe(text);
});

it('the engine gets what was typed, in the unit in which it was typed', () => {
  const { args } = arguments_of({ ...demoSetting(), altimeter: '30.01', altimeterIn: 'inhg' });
  expect(args[args.indexOf('--altimeter-inhg') + 1]).toBe('30.01');
  expect(args).not.toContain('--altimeter-hpa');
});

it('what an earlier version of the page kept still counts', () => {
  const { altimeter: _, altimeterIn: __, ...old } = demoSetting();
  expect(keptSetting({ ...old, altimeterHpa: '998.5' })).toEqual({ ...demoSetting(), altimeter: '998.5', windSince: old.windSince });
  expect(arguments_of(old as never).args).not.toContain('--altimeter-hpa');
});
