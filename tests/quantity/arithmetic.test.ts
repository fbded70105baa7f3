import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { byArithmetic, QuantityError, readQuantity } from '../../src/quantity/arithmetic.js';
import type { Dimension } from '../../src/quantity/dimension.js';

const deg = Math.PI / 180;

describe('reads what a person writes', () => {
  test.each<[string | number, Dimension, string, number]>([
    ['5.06 mm', 'length', 'mm', 5.06],
    ['5.06', 'length', 'mm', 5.06],
    [5.06, 'length', 'mm', 5.06],
    [0.2, 'length', 'inch', 5.08],
    ['1/4 in', 'length', 'mm', 6.35],
    ['1/4', 'length', 'inch', 6.35],
    ['(1 + 1/4) in', 'length', 'mm', 31.75],
    ['0.2 in + 0.02 mm', 'length', 'mm', 5.1],
    ['10 mm / 4', 'length', 'inch', 2.5],
    ['2 * 3 mm - 1 mm', 'length', 'mm', 5],
    ['-3 mm', 'length', 'mm', -3],
    ['500 um', 'length', 'mm', 0.5],
    ['500 µm', 'length', 'mm', 0.5],
    ['20 thou', 'length', 'mm', 0.508],
    ['2.5 deg', 'angle', 'deg', 2.5 * deg],
    [2.5, 'angle', 'deg', 2.5 * deg],
    ['2 deg 30 arcmin', 'angle', 'deg', 2.5 * deg],
    ['2 deg + 30 arcmin', 'angle', 'deg', 2.5 * deg],
    ['2° 30 arcmin 36 arcsec', 'angle', 'deg', 2.51 * deg],
    [`2° 30' 36"`, 'angle', 'deg', 2.51 * deg],
    ['2.5 degrees', 'angle', 'deg', 2.5 * deg],
    ['−2.5°', 'angle', 'deg', -2.5 * deg],
    ['1/4"', 'length', 'mm', 6.35],
    ['0.25″', 'length', 'mm', 6.35],
    ['0.2” + 0.02 mm', 'length', 'mm', 5.1],
    ['24"/min', 'speed', 'mm/min', 609.6],
    ['360/7 deg', 'angle', 'deg', (360 / 7) * deg],
    ['600 mm/min', 'speed', 'mm/min', 600],
    ['10 mm/s', 'speed', 'mm/min', 600],
    ['24 in/min', 'speed', 'mm/min', 609.6],
    [24, 'speed', 'inch/min', 609.6],
    ['4200 rev/min', 'rotation', 'rpm', 4200],
    [4200, 'rotation', 'rpm', 4200],
    [3905, 'rotation', 'rpm', 3905],
    ['32 m/s', 'surface', 'm/s', 32],
    ['1500 ms', 'time', 's', 1.5],
  ])('%s as a %s', (text, dimension, bare, value) => {
    expect(readQuantity(text, dimension, bare)).toBeCloseTo(value, 9);
  });
});

describe('refuses, and says what would do', () => {
  test.each<[string | number, Dimension, RegExp]>([
    ['3 kg', 'length', /"kg" .* is no unit known here; write for example 5\.06 mm/],
    ['2 mm', 'angle', /not an angle; write for example 2\.5 deg/],
    ['2 deg', 'length', /not a length; write for example 5\.06 mm/],
    ['5 mm mm', 'length', /one unit after each number/],
    ['-2 deg 30 arcmin', 'angle', /a sign before a sum/],
    ['3 mm/rev', 'length', /"rev" in .* is no unit known here/],
    ['2 mm * 3 mm', 'length', /not a length/],
    ['5,06 mm', 'length', /decimal comma; write a decimal point/],
    ['1 1/4 in', 'length', /write \(1 \+ 1\/4\) and the unit/],
    ['1/0', 'length', /not a finite number/],
    ['1e999', 'length', /not a finite number/],
    [Number.NaN, 'length', /not a finite number/],
    [Number.POSITIVE_INFINITY, 'length', /not a finite number/],
    ['mm', 'length', /lacks a number/],
    ['', 'length', /write the value itself/],
    ['0x10', 'length', /not decimal/],
    ['2^3', 'length', /more than numbers, units/],
    ['5!', 'length', /more than numbers, units/],
    ['sqrt(4)', 'length', /more than numbers, units/],
    ['a = 3', 'length', /more than numbers, units/],
    ['[1, 2]', 'length', /more than numbers, units/],
    ['1:9', 'length', /more than numbers, units/],
    ['import("fs")', 'length', /more than numbers, units/],
    ['constructor', 'length', /lacks a number/],
    ['3 * __proto__', 'length', /no unit known here/],
    ['3; 4', 'length', /more than numbers, units/],
    ['5 mm to in', 'length', /more than numbers, units/],
    ['"5 mm"', 'length', /more than numbers, units/],
    ['true', 'length', /more than numbers, units|lacks/],
    ['5 +', 'length', /cannot be read/],
    [`${'1+'.repeat(60)}1`, 'length', /longer than 80/],
  ])('%s as a %s', (text, dimension, message) => {
    expect(() => readQuantity(text, dimension, 'mm')).toThrow(QuantityError);
    expect(() => readQuantity(text, dimension, 'mm')).toThrow(message);
  });
});

test('a bare number in the inside unit keeps its last bit: a speed equal to the rating is not above it', () => {
  for (const speed of [3905, 3950, 7750, 7900, 8050])
    expect(readQuantity(speed, 'rotation', 'rpm')).toBe(speed);
});

test('any text is a finite number or a QuantityError, never anything else', () => {
  const pieces = fc.constantFrom(
    '1',
    '.5',
    '2e3',
    ' ',
    '+',
    '-',
    '*',
    '/',
    '(',
    ')',
    'mm',
    'in',
    'deg',
    'x',
    '^',
    ',',
    '[',
    '=',
  );
  const text = fc.oneof(
    fc.string(),
    fc.array(pieces, { maxLength: 12 }).map((list) => list.join('')),
  );
  fc.assert(
    fc.property(text, fc.constantFrom<Dimension>('length', 'angle', 'time'), (written, dimension) => {
      try {
        const bare = { length: 'mm', angle: 'deg', time: 's' }[dimension as 'length'] ?? 'mm';
        expect(Number.isFinite(readQuantity(written, dimension, bare))).toBe(true);
      } catch (error) {
        expect(error).toBeInstanceOf(QuantityError);
      }
    }),
    { seed: 1, numRuns: 2000 },
  );
});

test('a length written in inches is the same length written in millimetres', () => {
  fc.assert(
    fc.property(fc.double({ min: 0.001, max: 100, noNaN: true }), (inches) => {
      const [a, b] = [readQuantity(inches, 'length', 'inch'), readQuantity(inches * 25.4, 'length', 'mm')];
      expect(Math.abs(a - b)).toBeLessThanOrEqual(1e-12 * b);
    }),
    { seed: 2 },
  );
});

test('what is read directly comes to the same by arithmetic, or is refused with the same words', () => {
  const number = fc.oneof(
    fc.integer({ min: -1e9, max: 1e9 }).map((n) => `${n / 1e5}`),
    fc.integer({ min: -99, max: 99 }).map(String),
    fc
      .tuple(fc.integer({ min: -20, max: 20 }), fc.integer({ min: 1, max: 64 }))
      .map((part) => part.join('/')),
    fc.constantFrom('1e308', '.5', '5.', '+2', '1e-9', '2E3'),
  );
  const names = ['', 'mm', 'in', 'inch', 'thou', 'um', 'deg', 'arcmin', 's', 'ms', 'min', 'rpm', 'kg', 'm'];
  const unit = fc
    .tuple(fc.constantFrom(...names), fc.constantFrom('', '', '/min', '/s', ' / rev'))
    .map((two) => two.join(''));
  const asked = fc.constantFrom<readonly [Dimension, string]>(
    ['length', 'mm'],
    ['length', 'inch'],
    ['angle', 'deg'],
    ['speed', 'mm/min'],
    ['speed', 'inch/min'],
    ['rotation', 'rpm'],
    ['time', 's'],
    ['plain', ''],
  );
  const told = (read: () => number): number | string => {
    try {
      return read();
    } catch (error) {
      expect(error).toBeInstanceOf(QuantityError);
      return (error as Error).message;
    }
  };
  fc.assert(
    fc.property(number, fc.constantFrom('', ' '), unit, asked, (value, gap, name, [dimension, bare]) => {
      const text = `${value}${gap}${name}`;
      const [a, b] = [
        told(() => readQuantity(text, dimension, bare)),
        told(() => byArithmetic(text, dimension, bare)),
      ];
      if (typeof a === 'number' && typeof b === 'number') {
        expect(Math.abs(a - b), text).toBeLessThanOrEqual(4e-16 * Math.abs(b) * 4);
      } else if (typeof b === 'string') expect(a, text).toBe(b);
      // Only what is not finite is refused later than by arithmetic alone.
      else expect(Number.isFinite(b), text).toBe(false);
    }),
    { seed: 3, numRuns: 4000 },
  );
});
