import fc from 'fast-check';
import * as math from 'mathjs';
import { describe, expect, test } from 'vitest';
import { solve } from '../../src/quantity/solve.js';

const number = fc.double({ min: -10, max: 10, noNaN: true });
const equations = fc
  .integer({ min: 1, max: 7 })
  .chain((size) =>
    fc.tuple(
      fc.array(fc.array(number, { minLength: size, maxLength: size }), { minLength: size, maxLength: size }),
      fc.array(number, { minLength: size, maxLength: size }),
    ),
  );

describe('linear equations', () => {
  test('are solved as mathjs solves them', () => {
    fc.assert(
      fc.property(equations, ([matrix, right]) => {
        // Where equations nearly say the same, two ways of rounding part.
        fc.pre(Math.abs(math.det(matrix)) > 1e-2);
        const theirs = math.lusolve(
          matrix,
          right.map((each) => [each]),
        ) as number[][];
        solve(matrix, right).forEach((x, i) => {
          const their = theirs[i]?.[0] ?? Number.NaN;
          expect(Math.abs(x - their)).toBeLessThanOrEqual(1e-6 * Math.max(1, Math.abs(their)));
        });
      }),
      { seed: 7, numRuns: 500 },
    );
  });

  test('though the first unknown is not in the first of them', () => {
    expect(
      solve(
        [
          [0, 2],
          [3, 0],
        ],
        [4, 9],
      ),
    ).toEqual([3, 2]);
  });

  test('that do not determine their unknowns give no numbers', () => {
    const found = solve(
      [
        [1, 1],
        [2, 2],
      ],
      [1, 3],
    );
    expect(found.some((each) => Number.isFinite(each))).toBe(false);
  });
});
