/** Flats that stand before the work: as a plane of their own slope, seen in the wheel frame, and as a job says them. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { checkPrograms } from '../../src/check/dry-run.js';
import { InputError } from '../../src/file/problem.js';
import { readJob } from '../../src/file/read.js';
import { distanceOf, farthestOf, flatStanding, floorAt, heightAt } from '../../src/job/standing.js';
import { planJob } from '../../src/plan/plan.js';
import { passesIn } from '../../src/plan/step.js';
import { postForMachine } from '../../src/post/program.js';
import { radFromDeg } from '../../src/quantity/angle.js';
import { mm, rad } from '../../src/quantity/unit.js';
import { toWheelFrame } from '../../src/wheel/frame.js';
import { sampleText, shippedTexts } from '../arbitrary/samples.js';

describe('a flat ground at a slope of its own', () => {
  test('its stairs lie on it or above, by no more than a stair where it rises toward the shank', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 10, noNaN: true }),
        fc.double({ min: 0.5, max: 8, noNaN: true }),
        fc.double({ min: 0.5, max: 8, noNaN: true }),
        fc.double({ min: 1, max: 15, noNaN: true }),
        fc.double({ min: 0.01, max: 0.99, noNaN: true }),
        (distance, ownDeg, slopeDeg, length, share) => {
          const [own, slope] = [radFromDeg(ownDeg), radFromDeg(slopeDeg)];
          fc.pre(distance - length * Math.tan(own) > 0.1);
          const flat = flatStanding({ at: rad(0), distance: mm(distance), own }, mm(length), slope, mm(0));
          // Source: the plane z = d - D tan t0 at depth D, turned into the wheel frame by toWheelFrame.
          const depth = share * length;
          const { u, w } = toWheelFrame({ x: -depth, y: 0, z: distance - depth * Math.tan(own) }, slope);
          const over = (floorAt(flat.floors, u)?.w ?? Number.NaN) - w;
          expect(over).toBeGreaterThan(-1e-9);
          if (own < slope) expect(over).toBeLessThan(0.002 + 1e-9);
          expect(Math.abs(distanceOf(flat, slope) - distance)).toBeLessThan(2e-9);
          const end = toWheelFrame({ x: -length, y: 0, z: distance - length * Math.tan(own) }, slope);
          expect(farthestOf(flat)).toBeCloseTo(end.u, 9);
          expect(heightAt(flat, end.u + 1e-6)).toBeGreaterThan(end.w - 1e-9);
        },
      ),
    );
  });

  test('at the slope of the wheel frame it is one level plane', () => {
    const slope = radFromDeg(2.5);
    const { floors } = flatStanding({ at: rad(0), distance: mm(2.53), own: slope }, mm(10), slope, mm(0));
    // Source: w = h cos t, u = h sin t - L / cos t.
    expect(floors).toHaveLength(1);
    expect(floors[0]?.w).toBeCloseTo(2.53 * Math.cos(slope), 12);
    expect(floors[0]?.reach).toBeCloseTo(2.53 * Math.sin(slope) - 10 / Math.cos(slope), 12);
  });
});

const HEX = sampleText('stem-bolt-hex-5').replace('wear: compensate', 'wear: ignore');
const reading = (text: string) => readJob({ file: 'new.yaml', text }, shippedTexts);
const smaller = (flats: string, more: readonly (readonly [string, string])[] = []): string =>
  [
    ['acrossFlats: 5.06', 'acrossFlats: 4.06'],
    ['flatLength: 10', 'flatLength: 8'],
    ['size: 8, stickOut: 24', `size: 8, stickOut: 24, flats: ${flats}`],
    ...more,
  ].reduce((text, [from = '', to = '']) => {
    if (!text.includes(from)) throw new Error(`no ${from}`);
    return text.replace(from, to);
  }, HEX);

describe('an old punch ground over to the next smaller size', () => {
  const job = reading(smaller('{ of: stem-bolt-hex-5.yaml, faceOff: 0.75 }'));

  test('its flats stand at h0 - c tan t, as long as is left of them', () => {
    // Source: trade formula of regrinding, h0 - d tan t0: 2.53 - 0.75 tan 2.5 deg.
    const tan = Math.tan(radFromDeg(2.5));
    expect(job.standing).toHaveLength(6);
    for (const flat of job.standing)
      expect(distanceOf(flat, job.punch.relief)).toBeCloseTo(2.53 - 0.75 * tan, 9);
  });

  test('the stock is level, T = (h0 - c tan t - h1) cos t, and the program that takes it is good', () => {
    const plan = planJob(job);
    const t = radFromDeg(2.5);
    // Within the last digit that a program writes.
    const stock = (2.53 - 0.75 * Math.tan(t) - 2.03) * Math.cos(t);
    expect(Math.abs((plan.flats[0]?.stock ?? 0) - stock)).toBeLessThan(0.001);
    const report = checkPrograms(
      postForMachine(plan).map(({ text }) => ({ name: 'p.nc', text })),
      job,
    );
    expect(report.findings).toEqual([]);
    expect(passesIn(plan.steps).length).toBeLessThan(300);
  });

  test('turned so that an edge comes up first there is nothing to touch off on, and it is said', () => {
    const turned = reading(smaller('{ of: stem-bolt-hex-5.yaml, faceOff: 0.75, turned: 30 deg }'));
    expect(planJob(turned).findings.map(({ code }) => code)).toContain('nothing-to-touch');
  });

  test('a flat that would cut a corner off the section ordered is refused, with how far inside it lies', () => {
    const job6 = reading(
      smaller('{ of: stem-bolt-hex-5.yaml, faceOff: 0.75, turned: 30 deg }', [
        ['acrossFlats: 4.06', 'acrossFlats: 4.9'],
      ]),
    );
    const inside = planJob(job6).findings.find(({ code }) => code === 'standing-inside');
    // Source: corner of a hex of 4.9 at 2.45 / cos 30 deg = 2.829, the old flat at 2.53 - 0.75 tan 2.5 deg = 2.497.
    expect(inside).toMatchObject({ by: expect.closeTo(2.829 - 2.497, 3) });
  });

  test.each([
    ['{ of: none.yaml }', /blank\.flats: none\.yaml: cannot be read|no such file/],
    ['{ of: stem-bolt-hex-5.yaml, faceOff: 12 }', /nothing is left of the flats/],
    ['[{ at: 0, distance: 3 }]', /blank\.flats\[0\]\.length: is missing: how long it is/],
    ['[{ flat: 1, over: 0.1 }, { at: 0, distance: 3, length: 9 }]', /names flat 1 twice/],
  ])('%s is refused by name', (flats, said) => {
    expect(() => reading(smaller(flats))).toThrow(said);
    try {
      reading(smaller(flats));
    } catch (error) {
      if (!flats.includes('none')) expect(error).toBeInstanceOf(InputError);
    }
  });
});

describe('flats at another slope than the relief ordered', () => {
  test.each([1, 1.5, 2, 3, 4])(
    'old flats at %s deg: the program is good, and no stroke is deeper than an infeed',
    (deg) => {
      const list = [0, 60, 120, 180, 240, 300]
        .map((at) => `{ at: ${at}, distance: 2.5, length: 14, slope: ${deg} deg }`)
        .join(', ');
      const job = reading(smaller(`[${list}]`));
      const plan = planJob(job);
      expect(plan.findings.filter(({ severity }) => severity === 'error')).toEqual([]);
      const report = checkPrograms(
        postForMachine(plan).map(({ text }) => ({ name: 'p.nc', text })),
        job,
      );
      expect(report.findings.filter(({ severity }) => severity === 'error')).toEqual([]);
      for (const { deepestBite } of report.punch.flats) expect(deepestBite).toBeLessThanOrEqual(0.02 + 1e-6);
      // The true surface under each stroke, by an arithmetic of its own: what stands highest under the rim at that reach.
      const t = job.punch.relief;
      const tops = new Map<number, number>();
      for (const { flat, pass } of passesIn(plan.steps)) {
        const reach = pass.end - job.wheel.radius;
        const at = (depth: number): number =>
          toWheelFrame({ x: -depth, y: 0, z: 2.5 - depth * Math.tan(radFromDeg(deg)) }, t).w;
        const depth = (2.5 * Math.sin(t) - reach) / Math.cos(t);
        const top = Math.min(tops.get(flat.number) ?? Number.POSITIVE_INFINITY, Math.max(at(0), at(depth)));
        expect(top - pass.level).toBeLessThanOrEqual(0.02 + 1e-6);
        tops.set(flat.number, pass.level);
      }
    },
  );
});
