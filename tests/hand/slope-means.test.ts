/** Strips, pins and angle blocks in place of a sine bar, built up again as solids in the plane. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  pinBase,
  pinsBase,
  shimRise,
  slopeSettings,
  stripBase,
  turnPerMm,
} from '../../src/hand/slope-means.js';
import { radFromDeg } from '../../src/quantity/angle.js';
import { type Mm, mm, type Rad, rad } from '../../src/quantity/unit.js';

const slopes = fc.double({ min: 0.5, max: 10, noNaN: true }).map(radFromDeg);
const sizes = fc.double({ min: 0.3, max: 12, noNaN: true }).map(mm);

/** The line that touches two circles on the table from above: found by bisection on its slope, not by the formula. */
function slopeOver(d1: Mm, d2: Mm, apart: number): number {
  // Horizontal distance of centres that stand d1 / 2 and d2 / 2 high.
  const x = Math.sqrt(apart ** 2 - ((d2 - d1) / 2) ** 2);
  let [low, high] = [0, Math.PI / 3];
  for (let i = 0; i < 80; i += 1) {
    const t = (low + high) / 2;
    // A line of slope t through the top of circle 1 stands over the centre of circle 2 by this, square to the line.
    const over = d1 / 2 + x * Math.sin(t) - ((d2 - d1) / 2) * Math.cos(t);
    if (over < d2 / 2) low = t;
    else high = t;
  }
  return low;
}

describe('geometry', () => {
  test('a strip holds the plate up by the slope', () => {
    fc.assert(
      fc.property(slopes, sizes, (t, h) => {
        expect(Math.atan2(h, stripBase(h, t))).toBeCloseTo(t, 12);
      }),
    );
  });

  test('a pin: the line from the edge over its top leaves just its radius to the centre', () => {
    fc.assert(
      fc.property(slopes, sizes, (t, d) => {
        const x = pinBase(d, t);
        expect(x * Math.sin(t) - (d / 2) * Math.cos(t)).toBeCloseTo(d / 2, 9);
      }),
    );
  });

  test('two pins: a line laid over both has the slope', () => {
    fc.assert(
      fc.property(slopes, sizes, sizes, (t, a, b) => {
        const [d1, d2] = [mm(Math.min(a, b)), mm(Math.max(a, b) + 0.1)];
        expect(slopeOver(d1, d2, pinsBase(d1, d2, t))).toBeCloseTo(t, 9);
      }),
    );
  });

  test('a size that is off turns the slope as said', () => {
    const t = radFromDeg(2.5);
    const e = 1e-5;
    const strip = { using: 'strip', thickness: mm(2), base: stripBase(mm(2), t) } as const;
    expect((Math.atan((2 + e) / strip.base) - t) / e).toBeCloseTo(turnPerMm(strip, t), 6);
    const pin = { using: 'pin', diameter: mm(3), base: pinBase(mm(3), t) } as const;
    expect((2 * Math.atan((3 + e) / (2 * pin.base)) - t) / e).toBeCloseTo(turnPerMm(pin, t), 6);
    const pins = { using: 'pins', diameters: [mm(3), mm(5)], base: pinsBase(mm(3), mm(5), t) } as const;
    expect((2 * Math.asin((2 + e) / (2 * pins.base)) - t) / e).toBeCloseTo(turnPerMm(pins, t), 6);
  });

  test('a tapered shim', () => {
    const { rise, alongFace } = shimRise(mm(50), radFromDeg(2.5));
    expect(rise).toBeCloseTo(2.183, 3);
    expect(alongFace).toBeCloseTo(2.181, 3);
  });
});

describe('for 2.5 deg, worked by hand', () => {
  const t = radFromDeg(2.5);

  // From memory of the trade, recomputed: h / tan t, d / (2 tan(t / 2)), (d2 - d1) / (2 sin(t / 2)).
  test.each([
    [0.5, 11.45],
    [1, 22.9],
    [1.5, 34.36],
    [2, 45.81],
    [3, 68.71],
  ])('a strip of %f lies %f behind the edge', (h, s) => {
    expect(stripBase(mm(h), t)).toBeCloseTo(s, 2);
  });

  test.each([
    [2, 45.83],
    [3, 68.74],
  ])('a pin of %f lies %f behind it', (d, x) => {
    expect(pinBase(mm(d), t)).toBeCloseTo(x, 2);
  });

  test.each([
    [3, 5, 45.84],
    [3, 6, 68.76],
    [5, 8, 68.76],
  ])('pins of %f and %f stand %f apart', (a, b, c) => {
    expect(pinsBase(mm(a), mm(b), t)).toBeCloseTo(c, 2);
  });
});

describe('what is in the drawer', () => {
  const drawer = {
    strips: [0.5, 3].map(mm),
    pins: [3, 5, 8].map(mm),
    angleBlocks: [0.5, 1, 3].map(radFromDeg),
  };
  const all = slopeSettings(drawer, radFromDeg(2.5), mm(100));

  test('longest base first, none over the plate', () => {
    const bases = all.flatMap((setting) =>
      setting.using === 'angle blocks' ? [] : [setting.base as number],
    );
    expect(bases.length).toBeGreaterThan(3);
    expect(bases).toEqual(bases.toSorted((a, b) => b - a));
    expect(Math.max(...bases)).toBeLessThanOrEqual(100);
    expect(slopeSettings(drawer, radFromDeg(2.5), mm(50)).length).toBeLessThan(all.length);
  });

  test('angle blocks are added and taken away, the fewest that make it', () => {
    const [blocks] = slopeSettings(drawer, radFromDeg(2.5), mm(100), 'angle blocks');
    expect(blocks).toMatchObject({ plus: [radFromDeg(3)], minus: [radFromDeg(0.5)] });
    expect(slopeSettings(drawer, radFromDeg(2.6), mm(100), 'angle blocks')[0]).toMatchObject({
      off: expect.closeTo(radFromDeg(-0.1), 9),
    });
    expect(slopeSettings(drawer, radFromDeg(7), mm(100), 'angle blocks')).toEqual([]);
  });

  test('what is said of angle blocks adds up', () => {
    const few = fc.array(fc.constantFrom(0.25, 0.5, 1, 2, 3, 5, 10).map(radFromDeg), { maxLength: 6 });
    fc.assert(
      fc.property(few, slopes, (angleBlocks, t) => {
        const [found] = slopeSettings({ strips: [], pins: [], angleBlocks }, t, mm(100), 'angle blocks');
        if (found?.using !== 'angle blocks') return;
        const sum = (list: readonly Rad[]): number => list.reduce((total, each) => total + each, 0);
        expect(sum(found.plus) - sum(found.minus)).toBeCloseTo(rad(t + found.off), 12);
      }),
    );
  });
});
