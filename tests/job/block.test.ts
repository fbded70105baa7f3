/** An indexing block as measured: what its readings mean, what flats come of it, and that a program takes it back. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { checkPrograms } from '../../src/check/dry-run.js';
import { linesOf } from '../../src/check/read/lines.js';
import { axisRise, fitBlock } from '../../src/job/block.js';
import type { Job } from '../../src/job/job.js';
import { planJob } from '../../src/plan/plan.js';
import { postForMachine } from '../../src/post/program.js';
import { type Mm, mm } from '../../src/quantity/unit.js';
import { sampleJob } from '../arbitrary/samples.js';

/** Readings of a pin in a block of n sides whose bore is off, and whose sides are out, by what is given. */
const readings = (n: number, e: number, phase: number, own: readonly number[] = []): readonly Mm[] =>
  Array.from({ length: n }, (_, i) => mm(12 + e * Math.cos((2 * Math.PI * i) / n - phase) + (own[i] ?? 0)));

describe('the fit', () => {
  test('finds bore and direction again, whatever they are, and nothing of the sides', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(4, 6, 8, 12),
        fc.double({ min: 0.001, max: 0.2, noNaN: true }),
        fc.double({ min: 0, max: 6.28, noNaN: true }),
        (n, e, phase) => {
          const { by, toward, sides } = fitBlock(readings(n, e, phase));
          expect(by).toBeCloseTo(e, 9);
          // The pin stands highest with the side down that the bore lies away from.
          expect(Math.cos(toward - phase)).toBeCloseTo(-1, 9);
          for (const { own } of sides) expect(own).toBeCloseTo(0, 9);
        },
      ),
    );
  });

  test('worked by hand: four sides at 12, 12.01, 12.02, 12.01 are a bore 0.01 off toward side 1', () => {
    const { by, toward, sides } = fitBlock([12, 12.01, 12.02, 12.01].map(mm));
    // Source: a = (12 - 12.02) / 2 = -0.01, b = (12.01 - 12.01) / 2 = 0.
    expect(by).toBeCloseTo(0.01, 12);
    // Highest over side 3, so away from it.
    expect(Math.cos(toward)).toBeCloseTo(1, 9);
    expect(sides.map(({ off }) => off).map((off) => Number(off.toFixed(6)))).toEqual([0, 0.01, 0.02, 0.01]);
  });

  test('what a side is out by itself is its own, of six sides half of it beside bore and mean', () => {
    const { sides } = fitBlock(readings(6, 0.02, 1, [0.006]));
    // Source: projection: 1 - 1/6 (mean) - 2/6 (first harmonic) = 1/2.
    expect(sides[0]?.own).toBeCloseTo(0.003, 9);
  });
});

const SQUARE = 'bearing-cap-square-8';

describe('a program for a crooked block', () => {
  const base = sampleJob('valve-cap-triangle');
  const measured = readings(6, 0.03, 0.7, [0.004, 0, -0.003]);
  const withBlock = (takeBack: boolean): Job => ({
    ...base,
    holding: { ...base.holding, device: { kind: 'indexing block', sides: 6, measured, takeBack } },
  });
  const programs = (job: Job) =>
    postForMachine(planJob(job)).map(({ suffix, text }) => ({ name: `p${suffix}.nc`, text }));
  const codes = (job: Job, of: Job): readonly string[] =>
    checkPrograms(programs(of), job).findings.flatMap(({ code, severity }) =>
      severity === 'error' ? [code] : [],
    );

  test('the side opposite the one that is up is down: the axis stands by its reading over the mean', () => {
    const mean = measured.reduce((sum, read) => sum + read, 0) / 6;
    // A triangle stands on every second side: flat 1 side 1 up, 4 down; flat 2 side 3 up, 6 down; flat 3 side 5 up, 2 down.
    [3, 5, 1].forEach((down, i) => {
      const at = base.punch.section[i]?.at;
      expect(at === undefined ? Number.NaN : axisRise(withBlock(true), at)).toBeCloseTo(
        (measured[down] ?? 0) - mean,
        12,
      );
    });
  });

  test('taken back, each flat comes out where it is ordered, by the block itself', () => {
    const job = withBlock(true);
    const lowest = new Map<number, number>();
    let up = 0;
    for (const { text } of programs(job))
      for (const line of linesOf(text)) {
        up = Number(/INDEX TO \S+ DEG - FLAT (\d)/.exec(line)?.[1] ?? up);
        const z = /^(?:N\d+ )?G1 .*?Z(-?[\d.]+)/.exec(line)?.[1];
        if (z !== undefined) lowest.set(up, Math.min(lowest.get(up) ?? Number.POSITIVE_INFINITY, Number(z)));
      }
    const plan = planJob(job);
    for (const flat of plan.flats) {
      // What the axis really stands at, and so where the wheel passes over it.
      const distance = ((lowest.get(flat.number) ?? 0) - axisRise(job, flat.at)) / Math.cos(job.punch.relief);
      expect(Math.abs(distance - flat.distance)).toBeLessThan(0.001);
    }
  });

  test('its own check passes it; on a block that is true the same program is refused, and so is the other way round', () => {
    expect(codes(withBlock(true), withBlock(true))).toEqual([]);
    expect(codes(base, withBlock(true))).toContain('flat-off');
    expect(codes(withBlock(true), base)).toContain('flat-off');
  });

  test('not taken back, the program is that of a true block, and the plan says what comes of it', () => {
    expect(programs(withBlock(false)).map(({ text }) => text)).toEqual(
      programs(base).map(({ text }) => text),
    );
  });

  test('turned over to touch its top, the mean of both is typed for; one flat touched, its own', () => {
    const square = sampleJob(SQUARE);
    const sides = 4;
    const job: Job = {
      ...square,
      holding: {
        ...square.holding,
        device: { kind: 'indexing block', sides, measured: readings(sides, 0.02, 0), takeBack: true },
      },
    };
    const { touchOff, hands } = planJob(job);
    // Side 1 and side 3 lie opposite: the bore's share of them is nothing together.
    expect(touchOff.rise).toBeCloseTo(0, 12);
    const types = hands.flatMap((step) =>
      step.kind === 'touch a ground flat' && step.ground === 'finished' ? [step.type.reads as number] : [],
    );
    expect(Math.max(...types) - Math.min(...types)).toBeCloseTo(0.04, 6);
  });
});
