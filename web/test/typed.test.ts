import { describe, expect, it } from 'vitest';
import { typedNumber } from '../src/airplane/profile';
import { asTyped } from '../src/parts/typed';

describe('a number in a field', () => {
  it('stays as it was typed while it says the same', () => {
    expect(asTyped('54,0', 54, typedNumber)).toBe('54,0');
    expect(asTyped('54.', null, typedNumber)).toBe('54.'); // not a number yet
    expect(asTyped('  ', undefined, typedNumber)).toBe('  ');
    expect(asTyped('x', null, typedNumber)).toBe('x');
  });
  it('gives way to a value from elsewhere', () => {
    expect(asTyped('54,0', 60, typedNumber)).toBe('60');
    expect(asTyped('54', undefined, typedNumber)).toBe('');
    expect(asTyped('100', 656.2, (text) => Number(text) * 2, (value) => String(value / 2))).toBe('328.1');
  });
});
