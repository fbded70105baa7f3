import fc from 'fast-check';
import { expect, test } from 'vitest';
import { checkPrograms } from '../../src/check/dry-run.js';
import { isPostable, planJob } from '../../src/plan/plan.js';
import { postProgram, postSplit } from '../../src/post/program.js';
import { FLAT_WITHIN, ROUNDING } from '../../src/quantity/tolerance.js';
import { randomJob } from '../arbitrary/job.js';

/** More by hand: FLATWRIGHT_RUNS=10000 npm test (another seed with FLATWRIGHT_SEED). */
const RUNS = Number(process.env['FLATWRIGHT_RUNS'] ?? 250);
const SEED = Number(process.env['FLATWRIGHT_SEED'] ?? 20260101);

test(`of ${RUNS} random jobs every program passes its own check and makes the punch within a micrometre`, () => {
  fc.assert(
    fc.property(randomJob, ({ job, text }) => {
      const plan = planJob(job);
      expect(
        plan.findings.filter(({ severity }) => severity === 'error'),
        text,
      ).toEqual([]);
      expect(isPostable(plan)).toBe(true);
      const report = checkPrograms([{ name: 'p.nc', text: postProgram(plan).text }], job);
      expect(
        report.findings.filter(({ severity }) => severity === 'error'),
        text,
      ).toEqual([]);
      expect(report.verdict).toBe('run');
      expect(report.punch.flats.length).toBe(job.punch.section.length);
      for (const flat of report.punch.flats) {
        expect(Math.abs(flat.distance - Number(flat.ordered)), text).toBeLessThanOrEqual(FLAT_WITHIN);
        expect(flat.deepestBite, text).toBeLessThanOrEqual(job.grinding.roughInfeed + ROUNDING);
        expect(flat.relief).toBe(job.punch.relief);
        expect(flat.lengthAtCorners, text).toBeGreaterThan(job.punch.flatLength - 0.01);
        expect(flat.sparkOut, text).toBeGreaterThanOrEqual(job.grinding.sparkOut);
      }
      const { sides, section } = job.punch;
      if (sides !== 'free' && sides % 2 === 0) {
        const acrossFlats = report.punch.flats[0]?.across ?? 0;
        expect(Math.abs(acrossFlats - 2 * (section[0]?.distance ?? 0)), text).toBeLessThanOrEqual(
          2 * FLAT_WITHIN,
        );
      }
    }),
    { seed: SEED, numRuns: RUNS, endOnFailure: true },
  );
});

test('a set of programs, split at every stop, leaves the same punch as the one program', () => {
  fc.assert(
    fc.property(randomJob, ({ job, text }) => {
      const plan = planJob(job);
      const whole = checkPrograms([{ name: 'p.nc', text: postProgram(plan).text }], job);
      const set = checkPrograms(
        postSplit(plan).map(({ suffix, text: program }) => ({ name: `p${suffix}.nc`, text: program })),
        job,
      );
      expect(
        set.findings.filter(({ severity }) => severity === 'error'),
        text,
      ).toEqual([]);
      expect(set.punch).toEqual(whole.punch);
    }),
    { seed: SEED + 1, numRuns: Math.ceil(RUNS / 10), endOnFailure: true },
  );
});
