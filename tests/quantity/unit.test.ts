/** Units are types: what must not compile is pinned by `npm run types`. */
import { expect, test } from 'vitest';
import { degFromRad, radFromDeg } from '../../src/quantity/angle.js';
import { fromMm, toMm } from '../../src/quantity/length.js';
import { type Mm, mm } from '../../src/quantity/unit.js';

test('a length is no angle, and a bare number is neither', () => {
  const length: Mm = mm(1);
  // @ts-expect-error a length where an angle belongs
  degFromRad(length);
  // @ts-expect-error a bare number where a length belongs
  fromMm(1, 'mm');
  expect(fromMm(length, 'inch')).toBe(1 / 25.4);
});

test('an inch is 25.4 mm and back', () => {
  expect(toMm(1, 'inch')).toBe(25.4);
  expect(fromMm(mm(25.4), 'inch')).toBe(1);
  expect(degFromRad(radFromDeg(30))).toBeCloseTo(30, 12);
});
