import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { breaks, deepest, highestUnder, stockAfter, stockOf } from '../../src/check/run/stock.js';
import type { Floor } from '../../src/job/standing.js';
import { ROUNDING } from '../../src/quantity/tolerance.js';
import { mm, rad } from '../../src/quantity/unit.js';

const slope = rad(0.0436);
const untouched = stockOf({
  support: mm(4),
  edge: mm(4 * Math.sin(slope)),
  slope,
  floors: [],
  periphery: mm(0),
});
const number = (min: number, max: number): fc.Arbitrary<number> => fc.double({ min, max, noNaN: true });
const floor: fc.Arbitrary<Floor> = fc.record({ reach: number(-12, 0), w: number(2, 4.4) });

/** The same thing by trying: the stock at one place. */
const stockAt = (strokes: readonly Floor[], u: number): number => {
  if (u > 4 * Math.sin(slope)) return Number.NEGATIVE_INFINITY;
  const top = 4 / Math.cos(slope) - u * Math.tan(slope);
  return Math.min(top, ...strokes.filter(({ reach }) => reach <= u).map(({ w }) => w));
};

describe('stock under the wheel', () => {
  test('after any strokes it is what sampling every place says', () => {
    fc.assert(
      fc.property(fc.array(floor, { maxLength: 8 }), number(-14, 0.1), (strokes, reach) => {
        const stock = strokes.reduce(stockAfter, untouched);
        // Away from steps, where a rounding's slack decides.
        fc.pre(strokes.every((stroke) => Math.abs(stroke.reach - reach) > 3 * ROUNDING));
        const highest = Math.max(
          ...Array.from({ length: 400 }, (_, i) => stockAt(strokes, reach + i * 0.04)),
        );
        const ours = highestUnder(stock, reach);
        expect(ours).toBeGreaterThanOrEqual(highest - 0.001);
        expect(ours).toBeLessThanOrEqual(stockAt(strokes, reach) + 0.001);
      }),
      { seed: 18, numRuns: 500 },
    );
  });

  test('a straight move goes as deep as sampling along it says', () => {
    fc.assert(
      fc.property(fc.array(floor, { maxLength: 6 }), floor, floor, (strokes, from, to) => {
        const stock = strokes.reduce(stockAfter, untouched);
        const depth = deepest(
          (reach) => highestUnder(stock, reach),
          () => breaks(stock),
          { from, to },
        );
        for (let i = 0; i <= 200; i += 1) {
          const s = i / 200;
          const at = { reach: from.reach + s * (to.reach - from.reach), w: from.w + s * (to.w - from.w) };
          expect(highestUnder(stock, at.reach) - at.w).toBeLessThanOrEqual(depth + 1e-6);
        }
      }),
      { seed: 19, numRuns: 300 },
    );
  });

  test('a move that rises more slowly than the raw top is deepest where that meets a floor', () => {
    const stock = stockAfter(untouched, { reach: -12, w: 4.2 });
    // Source: derived; the raw top is 4.2 high at u = (4 / cos t - 4.2) / tan t.
    const crossing = (4 / Math.cos(slope) - 4.2) / Math.tan(slope);
    const rises = 0.02;
    expect(crossing).toBeLessThan(-1);
    const depth = deepest(
      (reach) => highestUnder(stock, reach),
      () => breaks(stock),
      { from: { reach: 0, w: 4.1 }, to: { reach: 2 * crossing, w: 4.1 - rises * 2 * crossing } },
    );
    expect(depth).toBeCloseTo(0.1 + rises * crossing, 2);
  });

  test('strokes that others outdo are forgotten, so a long program costs no more than a short one', () => {
    let stock = untouched;
    for (let i = 0; i < 10_000; i += 1)
      stock = stockAfter(stock, { reach: -10 + (i % 3) * 0.0004, w: 4.4 - i * 1e-4 });
    expect(stock.floors.length).toBeLessThanOrEqual(2);
  });

  test('the first contact is at the shank end: a stroke level with the tip bites there', () => {
    const tipTop = 4 / Math.cos(slope) - 4 * Math.sin(slope) * Math.tan(slope);
    const bite = deepest(
      (reach) => highestUnder(untouched, reach),
      () => breaks(untouched),
      {
        from: { reach: 3, w: tipTop },
        to: { reach: -10, w: tipTop },
      },
    );
    expect(bite).toBeCloseTo((10 + 4 * Math.sin(slope)) * Math.tan(slope), 3);
  });
});
