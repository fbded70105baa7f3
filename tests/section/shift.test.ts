/** Where a section's centre has gone, by the errors of its flats. */
import { describe, expect, test } from 'vitest';
import { mm, rad } from '../../src/quantity/unit.js';
import { normal, regularSection, type Section } from '../../src/section/flat.js';
import { shiftRows } from '../../src/section/shift.js';

const flats = (...degrees: readonly number[]): Section =>
  degrees.map((each) => ({ at: rad((each * Math.PI) / 180), distance: mm(3) }));

describe('the shift of a section', () => {
  // Source: linear least squares; the normals of a regular section sum to nothing, and n n' to n / 2.
  test.each([3, 4, 5, 6, 8])('of %i equal flats is two n-ths of each error along its normal', (sides) => {
    const section = regularSection(sides, mm(3));
    const { y, z } = shiftRows(section);
    section.forEach(({ at }, i) => {
      expect(y[i]).toBeCloseTo((2 / sides) * normal(at).y, 6);
      expect(z[i]).toBeCloseTo((2 / sides) * normal(at).z, 6);
    });
  });

  test('of two that face each other is half of their difference, across them alone', () => {
    const { y, z } = shiftRows(flats(0, 180));
    expect(z[0]).toBeCloseTo(0.5, 6);
    expect(z[1]).toBeCloseTo(-0.5, 6);
    for (const each of y) expect(each).toBeCloseTo(0, 6);
  });

  test.each([
    ['one flat', [0]],
    ['two that do not face each other', [0, 90]],
  ])('%s cannot show it', (_, at) => {
    const { y, z } = shiftRows(flats(...at));
    for (const each of [...y, ...z]) expect(each).toBe(0);
  });
});
