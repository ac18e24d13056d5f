import { describe, expect, it } from 'vitest';
import { arguments_of as debriefArguments, DEMO_FIELD, emptyAsked } from '../src/debrief/asked';
import { History } from '../src/parts/kept';
import { arguments_of, demoSetting, windAge, windText } from '../src/plan/setting';

describe('a debrief against the plan', () => {
  it('leaves runway, point and airplane to the plan, and wind where one was reported since', () => {
    const asked = { ...emptyAsked(), runway: '54.5,2.5,240,80,4100', pointFt: '600', wind: '210/9', withPlan: true };
    expect(debriefArguments(asked, 'a.gpx', { 2: '+40' }, { profile: '' })).toEqual([
      'debrief', 'a.gpx', '--plan', '/plan.json', '--wind', '210/9', '--touchdown-seen', '2:+40',
    ]);
    expect(debriefArguments(asked, 'a.gpx', {}, { profile: '{}' })).toContain('/airplane.json');
    expect(debriefArguments(asked, 'a.gpx', {})).not.toContain('--plan');
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
    expect(debriefArguments(emptyAsked(), '/log', {})).toEqual(['debrief', '/log', '--airplane', 'generic-trainer']);
  });
});

describe('a touchdown that was seen', () => {
  it('is passed with its sign, typed with a true minus or without one', () => {
    const args = debriefArguments(emptyAsked(), '/log', { 1: '120', 2: '−40', 3: ' ' });
    expect(args.filter((one) => one.includes(':'))).toEqual(['1:+120', '2:-40']);
  });
  it('and the demonstration has its own field', () => {
    const args = debriefArguments({ ...emptyAsked(), runway: DEMO_FIELD }, '/log', {});
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
