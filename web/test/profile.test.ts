import demo from '../../data/airplanes/demo-trainer.json?raw';
import { describe, expect, it } from 'vitest';
import { profileIn, readerProblem, typedNumber, withValue, written, type Profile } from '../src/airplane/profile';

describe('a profile', () => {
  it('that is written is the one that was read, whatever else stands in it', () => {
    const profile = profileIn(demo) as Profile;
    expect(JSON.parse(written(profile).text)).toEqual(JSON.parse(demo));
    const fitted = { ...profile, fitted: { logs: [{ file: 'a.csv' }] } };
    expect(JSON.parse(written(fitted).text)).toEqual(fitted);
  });
  it('has one number a line, so that a line is a field', () => {
    const { text, fieldAt } = written(profileIn(demo) as Profile);
    const lines = text.split('\n');
    const lineOf = (field: string) => lines[[...fieldAt].find(([, one]) => one === field)?.[0] as number - 1];
    expect(lineOf('best_glide_ratio')).toContain('"best_glide_ratio"');
    expect(lineOf('flaps[3].stall_speed_kcas')).toContain('44.5');
    expect(lineOf('flaps')).toContain('"flaps": [');
  });
  it('leaves out what was cleared', () => {
    const profile = profileIn(demo) as Profile;
    expect(written({ ...profile, slip_drag_ratio: undefined }).text).not.toContain('slip_drag_ratio');
  });
  it('is none without a name and flaps', () => {
    for (const text of ['', 'null', '[]', '{}', '{"name": "a"}', '{"name": "a", "flaps": [3]}', 'Dear instructor'])
      expect(profileIn(text)).toBeUndefined();
  });
});

describe('a number as typed', () => {
  it('may have a comma and a true minus; anything else is none', () => {
    expect(typedNumber(' 9,1 ')).toBe(9.1);
    expect(typedNumber('−4')).toBe(-4);
    for (const text of ['', '9.', 'nine', '1e3', '9.1.2', '1,000.5']) expect(typedNumber(text)).toBeNull();
  });
  it('takes the source that new numbers have and keeps its spread', () => {
    const before = { value: 70, sd: 3, source: 'class default' };
    expect(withValue(before, '68', 'handbook, section 3', false)).toEqual({ value: 68, sd: 3, source: 'handbook, section 3' });
    expect(withValue(before, '', 'handbook', true)).toBeUndefined();
    expect(withValue(before, '', 'handbook', false)?.value).toBeNull();
  });
});

it('an error of the reader is led back to its field', () => {
  const fields = new Map([[5, 'best_glide_ratio']]);
  expect(readerProblem('glidewright: /airplane.json:5: best_glide_ratio 45; expected 3 to 40', fields)).toEqual({
    field: 'best_glide_ratio', sentence: 'best_glide_ratio 45; expected 3 to 40',
  });
  expect(readerProblem('glidewright: --weight-lb 3; expected 400 to 12500', fields)).toEqual({
    field: '', sentence: '--weight-lb 3; expected 400 to 12500',
  });
});
