/** What other instruments than plain anvils show, and that readings taken with them come to the same flats. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { adjust } from '../../src/measure/adjust.js';
import { ANVILS, inTheV, shows, touchesAt } from '../../src/measure/instrument.js';
import { readAcross, readInstrument } from '../../src/measure/read-text.js';
import { ReadingError } from '../../src/measure/reading-error.js';
import { planJob } from '../../src/plan/plan.js';
import { sectionAt } from '../../src/plan/stage.js';
import { radFromDeg } from '../../src/quantity/angle.js';
import { mm } from '../../src/quantity/unit.js';
import { atDepth, regularSection } from '../../src/section/flat.js';
import { sampleJob } from '../arbitrary/samples.js';

const triangle = sampleJob('valve-cap-triangle');
const pentagon = sampleJob('pedal-pin-pentagon-lathe');
const hex = sampleJob('stem-bolt-hex-5');
const V = (deg: number) => ({ kind: 'V-anvil', angle: radFromDeg(deg) }) as const;

describe('a V-anvil', () => {
  test.each([
    // Source: the interior angle of a regular polygon of n sides, 180 - 360 / n: a V of that angle holds two of its flats.
    [3, 60],
    [5, 108],
    [7, 180 - 360 / 7],
  ])('%i flats in a V of %d deg: it shows the inscribed diameter', (sides, deg) => {
    const section = regularSection(sides, mm(3.2));
    for (let i = 0; i < sides; i += 1) expect(shows(hex, V(deg), section, i)).toBeCloseTo(6.4, 9);
  });

  test('it shows a round as its diameter, wherever the flats stand that touch it: by the definition of its scale', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 2, max: 4, noNaN: true }),
        fc.double({ min: -0.3, max: 0.3, noNaN: true }),
        (h, by) => {
          const section = regularSection(3, mm(h));
          // Lifted on the side of the spindle alone, the reading goes up by 1 / (1/2 + 1/(2 sin 30 deg)) = 2/3 of it.
          const lifted = section.map((flat, i) => (i === 0 ? { ...flat, distance: mm(h + by) } : flat));
          expect(shows(hex, V(60), lifted, 0)).toBeCloseTo(2 * h + (2 / 3) * by, 9);
        },
      ),
    );
  });

  test('a hex lies in a V of 60 deg with every other flat, and in none of 108; nor does a triangle', () => {
    expect(inTheV(hex.punch.section, 0, radFromDeg(60))).toEqual([2, 4]);
    expect(() => inTheV(hex.punch.section, 0, radFromDeg(108))).toThrow(ReadingError);
    expect(() => inTheV(triangle.punch.section, 0, radFromDeg(108))).toThrow(/a triangle wants 60 deg/);
  });

  test.each([
    ['a triangle', triangle, 60],
    ['a pentagon', pentagon, 108],
  ])('%s roughed a little high: every flat is found where it stands', (_, job, deg) => {
    const plan = planJob(job);
    const section = sectionAt(job, 'roughed').map((flat) => ({
      ...flat,
      distance: mm(flat.distance + 0.012),
    }));
    const across = section.map((__, i) => ({
      flat: i + 1,
      depth: mm(0),
      read: shows(job, V(deg), section, i),
    }));
    const found = adjust(plan, { across, heights: [], instrument: V(deg), warm: 0 }, 'roughed');
    found.flats.forEach(({ distance }, i) => {
      expect(distance).toBeCloseTo(section[i]?.distance ?? Number.NaN, 4);
    });
    for (const { over, facing } of found.pairs) {
      expect(over).toBeCloseTo(0.012, 6);
      expect(facing).toBe('V');
    }
  });
});

test('finished, a V tells that every flat is within its limits, and that one is not', () => {
  const section = sectionAt(triangle, 'finished');
  const inTolerance = (by: number): boolean => {
    const real = section.map((flat) => ({ ...flat, distance: mm(flat.distance + by) }));
    const across = real.map((__, i) => ({
      flat: i + 1,
      depth: mm(0),
      read: shows(triangle, V(60), real, i),
    }));
    return adjust(planJob(triangle), { across, heights: [], instrument: V(60), warm: 0 }, 'finished')
      .inTolerance;
  };
  expect(inTolerance(0)).toBe(true);
  expect(inTolerance(triangle.punch.tolerance.plus / 2 + triangle.punch.tolerance.minus / 2)).toBe(false);
});

describe('anvils so wide', () => {
  const wide = { kind: 'wide anvils', width: mm(6.5) } as const;

  test('touch half their width before their middle, and at the front edge where they overhang the face', () => {
    // Source: the flat falls toward the shank, so the edge nearest the face stands highest.
    expect(touchesAt(hex, wide, mm(5))).toBeCloseTo(1.75, 9);
    expect(touchesAt(hex, wide, mm(1))).toBe(0);
    expect(touchesAt(hex, ANVILS, mm(5))).toBe(5);
  });

  test('that would meet the shoulder are refused, with the depth that does', () => {
    expect(() => touchesAt(hex, wide, mm(8))).toThrow(/at most 6\.8 mm, or a blade/);
  });

  test('the relief comes out the same as by a blade', () => {
    const finished = sectionAt(hex, 'finished');
    const at = (depth: number) => shows(hex, ANVILS, atDepth(finished, mm(depth), hex.punch.relief), 0);
    const relief = (depth: number, read: number, width: number) => {
      const { relief: found } = adjust(
        planJob(hex),
        {
          across: [
            { flat: 1, depth: mm(0), read: mm(at(0)) },
            { flat: 1, depth: mm(depth), read: mm(read) },
          ],
          heights: [],
          instrument: { kind: 'wide anvils', width: mm(width) },
          warm: 0,
        },
        'finished',
      );
      return found === 'unknown' ? Number.NaN : found.angle;
    };
    expect(relief(5, at(1.75), 6.5)).toBeCloseTo(hex.punch.relief, 6);
    expect(relief(5, at(4.625), 0.75)).toBeCloseTo(hex.punch.relief, 6);
  });
});

describe('as people write them', () => {
  const length = (text: string) => mm(Number(text));
  const angle = (text: string) => radFromDeg(Number(text));

  test.each([
    ['anvils 6.5', { kind: 'wide anvils', width: 6.5 }],
    ['blade 0.75', { kind: 'wide anvils', width: 0.75 }],
    ['V 60', { kind: 'V-anvil', angle: radFromDeg(60) }],
    ['v 108', { kind: 'V-anvil', angle: radFromDeg(108) }],
  ])('%s', (text, wanted) => {
    expect(readInstrument(text, length, angle)).toEqual(wanted);
  });

  test.each(['micrometer', 'anvils', 'V', 'V 200', 'blade 0'])('%s is refused by name', (text) => {
    expect(() => readInstrument(text, length, angle)).toThrow(ReadingError);
  });

  test('a reading in a V names its flat', () => {
    expect(readAcross(triangle, '1-V=6.9', mm(0), length)).toEqual({ flat: 1, depth: 0, read: 6.9 });
  });
});
