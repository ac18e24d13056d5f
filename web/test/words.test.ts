import { describe, expect, it } from 'vitest';
import { feet, in20, range20, signedFeet, whole } from '../src/parts/words';

describe('numbers as an instructor says them', () => {
  it('rounds feet to ten, with thousands apart and a true minus', () => {
    expect(feet(1086)).toBe('1,090');
    expect(feet(-64)).toBe('−60');
    expect(feet(-4)).toBe('0');
    expect(whole(-1234.4)).toBe('−1,234');
  });
  it('shows the sign of a difference, and none on zero', () => {
    expect(signedFeet(336)).toBe('+340');
    expect(signedFeet(-181)).toBe('−180');
    expect(signedFeet(3)).toBe('0');
  });
  it('never promises all or nothing', () => {
    expect(in20(0.434)).toBe('9 in 20');
    expect(in20(0.99)).toBe('more than 19 in 20');
    expect(in20(0.004)).toBe('less than 1 in 20');
    expect(in20(1)).toBe('20 in 20');
    expect(range20(0.403, 0.4654)).toBe('8 to 9');
  });
});
