import { describe, expect, it } from 'vitest';
import { arguments_of as debriefArguments, DEMO_FIELD, emptyAsked } from '../src/debrief/asked';
import { marksFile, marksIn, noMarks, withMark, type AttemptMarks } from '../src/debrief/marks';
import { History } from '../src/parts/kept';
import { arguments_of, demoSetting, windAge, windText } from '../src/plan/setting';

describe('a debrief against the plan', () => {
  it('leaves runway, point and airplane to the plan, and wind where one was reported since', () => {
    const asked = { ...emptyAsked(), runway: '54.5,2.5,240,80,4100', pointFt: '600', wind: '210/9', withPlan: true };
    expect(debriefArguments(asked, 'a.gpx', true, { profile: '' })).toEqual([
      'debrief', 'a.gpx', '--plan', '/plan.json', '--wind', '210/9', '--marks', '/marks.json',
    ]);
    expect(debriefArguments(asked, 'a.gpx', false, { profile: '{}' })).toContain('/airplane.json');
    expect(debriefArguments(asked, 'a.gpx', false)).not.toContain('--plan');
  });
});

describe('the wind as the command line takes it', () => {
  it('writes direction in three digits, gusts only above the wind, and calm', () => {
    expect(windText({ ...demoSetting(), windFrom: 5, windKt: 12, gustKt: 20 })).toBe('005/12G20');
    expect(windText({ ...demoSetting(), windFrom: 0, windKt: 12, gustKt: 8 })).toBe('360/12');
    expect(windText({ ...demoSetting(), windKt: 0 })).toBe('calm');
  });
  it('gives way to a weather report', () => {
    const { args } = arguments_of({ ...demoSetting(), metar: ' XHFN 140850Z\n27010KT ' });
    expect(args).toContain('--metar');
    expect(args).toContain('XHFN 140850Z 27010KT');
    expect(args).not.toContain('--wind');
  });
  it('grows old', () => {
    const setting = { ...demoSetting(), windSince: 0 };
    expect(windAge(setting, 59 * 60000).state).toBe('fresh');
    expect(windAge(setting, 62 * 60000).state).toBe('stale');
    expect(windAge(setting, 200 * 60000).state).toBe('old');
  });
});

describe('what is left empty is not asked', () => {
  it('of a plan', () => {
    const { args, files } = arguments_of(demoSetting());
    expect(args).not.toContain('--weight-lb');
    expect(files).toEqual({});
  });
  it('of a debrief', () => {
    expect(debriefArguments(emptyAsked(), '/log', false)).toEqual(['debrief', '/log', '--airplane', 'generic-trainer']);
    expect(debriefArguments({ ...emptyAsked(), heights: 'ft' }, '/log', false).join(' ')).toContain('--height-unit ft');
  });
});

describe('what was marked', () => {
  const marked = (more: Partial<AttemptMarks>) => ({ ...noMarks(), ...more });
  it('is written as the reader takes it, typed with a true minus, a sign or a comma', () => {
    const file = JSON.parse(marksFile({ 1: marked({ touchdown: '+120' }), 2: marked({ touchdown: '−40', idle: '−1,5' }), 3: marked({ touchdown: ' ' }) }) ?? '');
    expect(file.attempts).toEqual([{ attempt: 1, touchdown_ft: 120 }, { attempt: 2, touchdown_ft: -40, idle: { after_abeam_s: -1.5 } }]);
  });
  it('keeps none apart from not marked, and waits for the other end of a slip', () => {
    const file = JSON.parse(marksFile({ 1: marked({ noFlap: true, slips: [{ in: '60', out: '' }], ticks: { aligned: true } }) }) ?? '');
    expect(file.attempts).toEqual([{ attempt: 1, flaps: [], checklist: { aligned: true } }]);
    expect(marksFile({ 1: noMarks() })).toBeUndefined();
  });
  it('comes back from its file, and a file by the clock is left alone', () => {
    const marks = { 2: marked({ touchdown: '-40', idle: '1', flaps: [{ deg: '20', at: '31.5' }], slips: [{ in: '60', out: '66' }], ticks: { floated: false } }) };
    expect(marksIn(marksFile(marks) ?? '')).toEqual(marks);
    expect(marksIn('{"attempts": [{"attempt": 1, "idle": {"time": "2026-05-14T20:07:14Z"}}]}')).toBeUndefined();
    expect(marksIn('no file')).toBeUndefined();
  });
  it('in the replay closes the slip that is open, and leaves a flap its setting to enter', () => {
    const slipped = withMark(withMark(noMarks(), 'slip in', 60.04), 'slip out', 66);
    expect(slipped.slips).toEqual([{ in: '60.0', out: '66.0' }]);
    expect(withMark(noMarks(), 'flap', 12).flaps).toEqual([{ deg: '', at: '12.0' }]);
    expect(withMark(slipped, 'slip out', 70).slips).toEqual(slipped.slips);
  });
});

describe('a debrief of the demonstration', () => {
  it('has its own field', () => {
    const args = debriefArguments({ ...emptyAsked(), runway: DEMO_FIELD }, '/log', false);
    expect(args[args.indexOf('--runway') + 1]).toMatch(/^\/data\/demo\/.*\.json$/);
  });
});

describe('undo', () => {
  it('goes back one change at a time and stops at the first', () => {
    const history = new History<number>();
    for (const value of [1, 2, 2, 3]) history.remember(value);
    expect(history.undo()).toBe(2);
    expect(history.undo()).toBe(1);
    expect(history.canUndo).toBe(false);
    expect(history.undo()).toBeUndefined();
  });
});
