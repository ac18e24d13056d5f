import { describe, expect, it } from 'vitest';
import { ago, along, byDay, counted, day, daysBetween, FLOWN_BY_CHOICES, markOf, newestBy, notAloneWords, standardWords, weekday } from '../src/records/picture';
import type { Assessment, Attempt } from '../src/records/types';

const landing = (along_ft: number | undefined, probability_in_box: number, went_around = false) => ({ along_ft, probability_in_box, went_around });

describe('marks of landings', () => {
  it('go by where the wheels touched', () => {
    expect(markOf(landing(100, 0.6))).toBe('in');
    expect(markOf(landing(260, 0.3))).toBe('long');
    expect(markOf(landing(-20, 0.4))).toBe('short');
  });
  it('go by what somebody saw where that decides it', () => {
    expect(markOf(landing(260, 1))).toBe('in');
    expect(markOf(landing(150, 0))).toBe('long');
    expect(markOf(landing(50, 0))).toBe('short');
  });
  it('say so where nothing is known, or nobody landed', () => {
    expect(markOf(landing(undefined, 0.3))).toBe('unsure');
    expect(markOf(landing(undefined, 0, true))).toBe('around');
  });
  it('follow the box of another standard', () => expect(markOf(landing(-40, 0.5), -50, 150)).toBe('in'));
});

describe('the ruler', () => {
  it('is even, and ends hold what lies beyond', () => {
    expect(along(-500, 0, 300)).toBe(0);
    expect(along(250, 0, 300)).toBe(150);
    expect(along(5000, 0, 300)).toBe(300);
  });
});

describe('days', () => {
  const now = '2026-05-14T18:20:00Z';
  it('are said as people say them', () => {
    expect(day('2026-05-02T10:00:00Z', now)).toBe('2 May');
    expect(day('2025-12-31T10:00:00Z', now)).toBe('31 Dec 2025');
    expect(weekday('2026-05-14')).toBe('Thu');
    expect(ago('2026-05-14T01:00:00Z', now)).toBe('today');
    expect(ago('2026-05-13T23:59:00Z', now)).toBe('yesterday');
    expect(ago('2026-05-02T10:00:00Z', now)).toBe('12 days ago');
    expect(daysBetween(now, '2026-05-21')).toBe(7);
  });
  it('gather what was flown on them, in order', () => {
    const days = byDay([{ flown: '2026-05-01T10:00:00Z' }, { flown: '2026-05-01T11:00:00Z' }, { flown: '2026-05-03T09:00:00Z' }]);
    expect(days.map((one) => [one.day, one.landings.length])).toEqual([['2026-05-01', 2], ['2026-05-03', 1]]);
  });
});

describe('assessments', () => {
  it('count by the newest of the standard that is looked at', () => {
    const assessments = [{ standard: 'a', reason: '1' }, { standard: 'a', reason: '2' }, { standard: 'b', reason: '3' }] as Assessment[];
    expect(newestBy({ assessments } as Attempt, { id: 'a' })?.reason).toBe('2');
    expect(newestBy({ assessments } as Attempt, { id: 'c' })).toBeUndefined();
  });
  it('of other limits do not count; those of before texts were kept do', () => {
    const assessments = [{ standard: 'a', reason: 'before' }, { standard: 'a', standard_sha256: '1', reason: 'one' }, { standard: 'a', standard_sha256: '2', reason: 'two' }] as Assessment[];
    expect(newestBy({ assessments } as Attempt, { id: 'a', otherwise_limited: ['2'] })?.reason).toBe('one');
    expect(newestBy({ assessments } as Attempt, { id: 'a', otherwise_limited: ['1', '2'] })?.reason).toBe('before');
  });
  it('tell who flew what does not count', () => {
    expect(notAloneWords({ student_prompted: 2, controls_taken: 1 })).toBe('2 prompted, 1 controls taken');
    expect(FLOWN_BY_CHOICES).toEqual(['student', 'student_prompted', 'instructor', 'controls_taken']);
  });
  it('name the version of a house standard', () => {
    const kept = [{ id: 'house', sha256: '2', added: '', added_by: '', standard: { name: 'House', version: '2', set_by: 'us', box: null } }];
    expect(standardWords({ standard: 'house', standard_sha256: '2' }, kept)).toBe('house, version 2,');
    expect(standardWords({ standard: 'house' }, kept)).toBe('house');
  });
  it('are counted in parts where a touchdown is unsure', () => {
    expect(counted(6)).toBe('6');
    expect(counted(5.83)).toBe('5.8');
    expect(counted(5.98)).toBe('6');
  });
});
