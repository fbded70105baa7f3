import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { fixed, roundTo, trimmed } from '../../src/quantity/decimal.js';

describe('numbers as text', () => {
  test.each([
    [1.5, 3, '1.500'],
    [-0.0001, 3, '0.000'],
    [0.0005, 3, '0.001'],
    [1.0005, 3, '1.001'],
    [-1.0005, 3, '-1.001'],
    [1e-9, 3, '0.000'],
    [123456.7891, 2, '123456.79'],
  ])('%f with %i decimals is %s', (value, decimals, text) => expect(fixed(value, decimals)).toBe(text));
  test.each([
    [1.5, '1.5'],
    [2, '2'],
    [100, '100'],
    [0.0001, '0'],
  ])('%f trimmed is %s', (value, text) => expect(trimmed(value, 3)).toBe(text));
  test('rounding moves a value by at most half the last digit and settles', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -1e5, max: 1e5, noNaN: true }),
        fc.integer({ min: 0, max: 6 }),
        (value, decimals) => {
          const rounded = roundTo(value, decimals);
          expect(Math.abs(rounded - value)).toBeLessThanOrEqual(0.5 * 10 ** -decimals * (1 + 1e-6));
          expect(roundTo(rounded, decimals)).toBe(rounded);
          expect(Object.is(rounded, -0)).toBe(false);
        },
      ),
      { seed: 3 },
    );
  });
});
