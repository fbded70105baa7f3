/** Sections, blanks and frames: properties that hold whatever the numbers. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { radFromDeg } from '../../src/quantity/angle.js';
import { mm, type Rad, rad } from '../../src/quantity/unit.js';
import { type Blank, blankSupport, circumradius, outsideBlank } from '../../src/section/blank.js';
import { atDepth, between, regularSection } from '../../src/section/flat.js';
import { acrossFlat, cornerOutside, edgeOf, outlineSupport } from '../../src/section/outline.js';
import { corners, isClosed } from '../../src/section/polygon.js';
import {
  depthOf,
  flatAtDepth,
  flatHeight,
  stockTop,
  tipEdge,
  toPartFrame,
  toWheelFrame,
} from '../../src/wheel/frame.js';
import { centreToCover, coveredFrom } from '../../src/wheel/rim.js';

const cup = (radius: number) => ({ shape: 'straight cup', radius: mm(radius), rim: mm(radius / 10) });

const number = (min: number, max: number): fc.Arbitrary<number> => fc.double({ min, max, noNaN: true });
const angle = number(0, 2 * Math.PI).map((value) => rad(value));
const round = (size: number): Blank => ({ shape: 'round', size: mm(size), turned: rad(0) });

describe('frames', () => {
  test('the part frame comes back from the wheel frame, distances kept', () => {
    const coordinate = number(-500, 500);
    fc.assert(
      fc.property(coordinate, coordinate, coordinate, number(-0.3, 0.3), (x, y, z, t) => {
        const there = toWheelFrame({ x, y, z }, rad(t));
        const back = toPartFrame(there, rad(t));
        expect(Math.hypot(back.x - x, back.y - y, back.z - z)).toBeLessThan(1e-9);
        expect(Math.abs(Math.hypot(there.u, there.v, there.w) - Math.hypot(x, y, z))).toBeLessThan(1e-9);
      }),
      { seed: 4 },
    );
  });

  test('points on a flat at any depth lie at the height of the flat, at h - d tan a from the axis', () => {
    fc.assert(
      fc.property(number(0.5, 20), number(0, 40), number(0.01, 0.3), (h, d, t) => {
        const [slope, distance, depth] = [rad(t), mm(h), mm(d)];
        const u = flatAtDepth(distance, depth, slope);
        const w = flatHeight(distance, slope);
        expect(Math.abs(depthOf(u, w, slope) - d)).toBeLessThan(1e-9);
        const point = toPartFrame({ u, v: 0, w }, slope);
        expect(Math.abs(point.z - (h - d * Math.tan(t)))).toBeLessThan(1e-9);
        const [behind] = atDepth(regularSection(6, distance), depth, slope);
        expect(Math.abs(point.z - (behind?.distance ?? 0))).toBeLessThan(1e-9);
      }),
      { seed: 5 },
    );
  });

  test('the stock is highest at the shank end, not at the tip', () => {
    const slope = radFromDeg(2.5);
    expect(stockTop(mm(4), mm(-10), slope)).toBeGreaterThan(stockTop(mm(4), tipEdge(mm(4), slope), slope));
  });
});

describe('sections', () => {
  test('turning a section by one step leaves it as it is', () => {
    fc.assert(
      fc.property(fc.integer({ min: 3, max: 12 }), number(0.5, 20), (sides, h) => {
        const section = regularSection(sides, mm(h));
        const blank = round((3 * h) / Math.cos(Math.PI / sides));
        const first = edgeOf(section, blank, 0);
        for (let i = 1; i < sides; i += 1) {
          const edge = edgeOf(section, blank, i);
          if (edge === 'none' || first === 'none') throw new Error('a regular flat has an edge');
          expect(Math.abs(edge.from - first.from)).toBeLessThan(1e-9);
          expect(Math.abs(edge.to + edge.from)).toBeLessThan(1e-9);
        }
      }),
      { seed: 6 },
    );
  });

  test('across a flat: AF for even, flat to corner for odd, distance plus radius for a D', () => {
    expect(acrossFlat(regularSection(6, mm(2.5)), round(10), 0)).toBeCloseTo(5, 12);
    expect(acrossFlat(regularSection(3, mm(2)), round(20), 1)).toBeCloseTo(6, 12);
    expect(acrossFlat([{ at: rad(0), distance: mm(3) }], round(9), 0)).toBeCloseTo(7.5, 12);
  });

  test('a D is open, a triangle closed', () => {
    expect(isClosed([{ at: rad(0), distance: mm(3) }])).toBe(false);
    expect(isClosed(regularSection(3, mm(3)))).toBe(true);
  });

  test('a flat behind another, or outside a parallel one, leaves nothing', () => {
    const twice = [
      { at: rad(0), distance: mm(2) },
      { at: rad(0), distance: mm(3) },
    ];
    expect(edgeOf(twice, round(10), 1)).toBe('none');
    expect(edgeOf(twice, round(10), 0)).not.toBe('none');
    const crossed = [
      { at: rad(0), distance: mm(-3) },
      { at: rad(Math.PI), distance: mm(2) },
    ];
    expect(edgeOf(crossed, round(10), 0)).toBe('none');
  });

  test('corners lie on two flats and inside all others', () => {
    fc.assert(
      fc.property(fc.integer({ min: 3, max: 12 }), number(0.5, 20), (sides, h) => {
        const points = corners(regularSection(sides, mm(h)));
        for (const { y, z } of points) {
          expect(Math.abs(Math.hypot(y, z) - h / Math.cos(Math.PI / sides))).toBeLessThan(1e-9);
        }
      }),
      { seed: 7 },
    );
  });
});

describe('blanks', () => {
  const blank = fc.record({
    shape: fc.constantFrom('round' as const, 'square' as const, 'hex' as const),
    size: number(1, 40).map((value) => mm(value)),
    turned: angle,
  });

  test('no direction reaches farther than the circle the blank turns in', () => {
    fc.assert(
      fc.property(blank, angle, (b: Blank, at: Rad) => {
        const reach = blankSupport(b, at);
        expect(reach).toBeLessThanOrEqual(circumradius(b) + 1e-9);
        expect(reach).toBeGreaterThanOrEqual(b.size / 2 - 1e-9);
      }),
      { seed: 8 },
    );
  });

  test('a section that fills the blank touches it in every direction', () => {
    fc.assert(
      fc.property(blank, angle, (b: Blank, at: Rad) => {
        const far = [{ at: rad(0), distance: mm(1000) }];
        expect(Math.abs(outlineSupport(far, b, at) - blankSupport(b, at))).toBeLessThan(1e-9);
      }),
      { seed: 9 },
    );
  });

  test('a hex ground from its own size has no corner outside, turned by 30 deg it has', () => {
    const hex: Blank = { shape: 'hex', size: mm(10), turned: rad(0) };
    const section = regularSection(6, mm(5));
    expect(cornerOutside(section, hex)).toBeLessThan(1e-9);
    expect(cornerOutside(section, { ...hex, turned: radFromDeg(30) })).toBeGreaterThan(0.5);
    expect(outsideBlank(round(10), { y: 0, z: 6 })).toBeCloseTo(1, 12);
  });
});

test('a rim centred to cover a point just covers it', () => {
  fc.assert(
    fc.property(number(-50, 50), number(-20, 20), number(20.1, 100), (u, v, radius) => {
      const centre = centreToCover(mm(u), mm(v), cup(radius));
      if (centre === 'uncovered') throw new Error('within the rim');
      expect(Math.abs(coveredFrom(centre, mm(0), mm(v), cup(radius)) - u)).toBeLessThan(1e-9);
    }),
    { seed: 10 },
  );
  expect(centreToCover(mm(0), mm(5), cup(5))).toBe('uncovered');
});

test('directions a turn apart are the same', () => {
  expect(between(rad(0.1), rad(0.1 + 2 * Math.PI))).toBeLessThan(1e-7);
  expect(between(rad(0), rad(Math.PI))).toBeCloseTo(Math.PI, 12);
});
