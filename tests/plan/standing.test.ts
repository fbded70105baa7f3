/** Work that begins on metal that is gone already, and work that goes on where it was broken off. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type CheckReport, checkPrograms } from '../../src/check/dry-run.js';
import { linesOf } from '../../src/check/read/lines.js';
import { readStandingFile, standingText } from '../../src/file/standing-file.js';
import { type Job, layoutOf, onMachine } from '../../src/job/job.js';
import type { FlatPlan } from '../../src/plan/flat.js';
import { isPostable, type Plan, planJob } from '../../src/plan/plan.js';
import { goOnFrom, onlyFlats, RestartError, readRestart } from '../../src/plan/restart.js';
import { countPasses, passesIn } from '../../src/plan/step.js';
import { postProgram } from '../../src/post/program.js';
import { FLAT_WITHIN, ROUNDING } from '../../src/quantity/tolerance.js';
import { mm } from '../../src/quantity/unit.js';
import { randomJob } from '../arbitrary/job.js';
import { sampleJob, sampleNames } from '../arbitrary/samples.js';

const HEX = 'stem-bolt-hex-5';
const MILLED = ['size: 8, stickOut: 24', 'size: 8, stickOut: 24, flats: { over: 0.25 }'] as const;
const NO_WEAR = ['wear: compensate', 'wear: ignore'] as const;

const checked = (plan: Plan, job: Job = plan.job): CheckReport =>
  checkPrograms([{ name: 'p.nc', text: postProgram(plan).text }], job);
const errorsOf = ({ findings }: CheckReport): readonly string[] =>
  findings.filter(({ severity }) => severity === 'error').map(({ code }) => code);
const codesOf = (plan: Plan): readonly string[] => plan.findings.map(({ code }) => code);

const BROKEN_OFF = Math.ceil(Number(process.env['FLATWRIGHT_RUNS'] ?? 500) / 8);

describe('a blank milled soft with 0.25 mm left on each flat', () => {
  const job = sampleJob(HEX, MILLED, NO_WEAR);
  const plan = planJob(job);

  test('14 rough, 6 finish and 3 spark-out strokes a flat: ceil((0.25 cos t + 0.05 - 0.03) / 0.02), 0.03 / 0.005', () => {
    // Source: derived by hand; 0.2498 + 0.05 - 0.03 = 0.2698.
    for (const flat of plan.flats)
      expect(
        (['rough', 'finish', 'spark-out'] as const).map((kind) => countPasses(plan.steps, flat, kind)),
      ).toEqual([14, 6, 3]);
  });

  test('the program is good, makes the punch, and takes a fifth of the time of a whole blank', () => {
    const report = checked(plan);
    expect(report.findings).toEqual([]);
    for (const flat of report.punch.flats) {
      expect(Math.abs(flat.distance - Number(flat.ordered))).toBeLessThanOrEqual(FLAT_WITHIN);
      expect(flat.deepestBite).toBeLessThanOrEqual(job.grinding.roughInfeed + ROUNDING);
    }
    const whole = planJob({ ...job, standing: [] });
    expect(plan.totals.grinding).toBeLessThan(whole.totals.grinding / 3);
    // What is taken now and what the mill took before are what a whole blank loses, but for the milled length.
    expect(report.punch.removed).toBeLessThan(checked(whole).punch.removed / 4);
  });

  test('on a whole blank the same program is refused: it would dive', () => {
    const raw = { ...job, standing: [] };
    expect(errorsOf(checkPrograms([{ name: 'p.nc', text: postProgram(plan).text }], raw))).toContain(
      'stroke-too-deep',
    );
  });

  test('the zero is found on a flat as it stands, measured across, not on a top that is not there', () => {
    expect(plan.hands.some((step) => step.kind === 'touch the top of the blank')).toBe(false);
    const touch = plan.hands.find(
      (step) => step.kind === 'touch a ground flat' && step.ground === 'as it stands',
    );
    expect(touch).toMatchObject({ reading: expect.closeTo(5.56, 9), flats: [1, 2, 3, 4, 5, 6] });
    // Source: w = (AF / 2) cos t = 2.78 cos 2.5 deg.
    expect(touch).toMatchObject({
      type: { reads: expect.closeTo(2.78 * Math.cos((2.5 * Math.PI) / 180), 6) },
    });
  });

  test('milled too short, or under the order, is refused with the number that would do', () => {
    const short = sampleJob(HEX, [
      'size: 8, stickOut: 24',
      'size: 8, stickOut: 24, flats: { over: 0.25, length: 10 }',
    ]);
    expect(planJob(short).findings.find(({ code }) => code === 'standing-short')).toMatchObject({
      flat: 1,
      // Source: derived; 10 + 1.2087^2 / 75, half the flat at 10 mm over the rim, + 0.25 sin t for the higher plane; rounded up.
      wouldDo: expect.closeTo(10.04, 9),
    });
    const small = sampleJob(HEX, [
      'size: 8, stickOut: 24',
      'size: 8, stickOut: 24, flats: [{ flat: 3, over: -0.05, length: 10.2 }]',
    ]);
    expect(planJob(small).findings.find(({ code }) => code === 'standing-under')).toMatchObject({ flat: 3 });
  });

  test.each([
    ['{ over: -0.1 }', /must not be negative/],
    ['[{ flat: 9, over: 0.1 }]', /there is no flat 9; the section has 6/],
    ['[{ flat: 2, over: 0.1 }, { flat: 2, over: 0.2 }]', /names flat 2 twice/],
    ['{ over: 3 deg }', /not a length/],
  ])('blank.flats: %s is refused by name', (flats, message) => {
    expect(() => sampleJob(HEX, ['size: 8, stickOut: 24', `size: 8, stickOut: 24, flats: ${flats}`])).toThrow(
      message,
    );
  });

  test('one flat that stands is ground from where it stands, the others from the blank', () => {
    const one = planJob(
      sampleJob(
        HEX,
        ['size: 8, stickOut: 24', 'size: 8, stickOut: 24, flats: [{ flat: 3, over: 0.02 }]'],
        NO_WEAR,
      ),
    );
    expect(codesOf(one)).toEqual(codesOf(planJob(sampleJob(HEX, NO_WEAR))));
    const counts = one.flats.map((flat) => countPasses(one.steps, flat, 'rough'));
    expect(counts[2]).toBe(0);
    expect(Math.min(...counts.filter((_, i) => i !== 2))).toBeGreaterThan(70);
    expect(checked(one).findings).toEqual([]);
  });
});

/** The program up to the first stroke at a flat and no further, as if it had been stopped there. */
function brokenOff(text: string, title: string): string {
  const lines = linesOf(text);
  const at = lines.findIndex((line) => line.includes(`(${title})`));
  const index = lines.slice(0, at).findLastIndex((line) => line.includes('INDEX TO'));
  return `${lines.slice(0, index).join('\n')}\nM9\nG4 P60.\nM5\nG4 P30.\nM30\n`;
}

describe('going on where a run was broken off', () => {
  // One program each; the set of the triangle goes on from its own next program.
  const oneProgram = sampleNames.filter((name) => sampleJob(name).machine.program.stops === 'honoured');

  test.each(oneProgram)(
    '%s: cut in two at any flat of any round, it leaves the punch that the whole leaves',
    (name) => {
      const job = sampleJob(name, NO_WEAR);
      const plan = planJob(job);
      const text = postProgram(plan).text;
      const whole = checkPrograms([{ name: 'p.nc', text }], job).punch.flats.map(({ distance }) => distance);
      // Two axes of a tilted head round, each in its own place.
      const alike = job.holding.slope.by === 'head' ? FLAT_WITHIN : 1e-9;
      for (const flat of job.grinding.sequence) {
        for (const round of ['first', 'finish'] as const) {
          if (flat === job.grinding.sequence[0] && round === 'first') {
            expect(() => goOnFrom(plan, { flat, round, height: 'none' })).toThrow(
              /that is the whole program/,
            );
            continue;
          }
          const rest = planJob(goOnFrom(plan, { flat, round, height: 'none' }));
          expect(isPostable(rest), codesOf(rest).join()).toBe(true);
          const report = checked(rest);
          expect(errorsOf(report)).toEqual([]);
          report.punch.flats.forEach(({ distance, deepestBite }, i) => {
            expect(Math.abs(distance - (whole[i] ?? Number.NaN))).toBeLessThanOrEqual(alike);
            expect(deepestBite).toBeLessThanOrEqual(job.grinding.roughInfeed + ROUNDING);
          });
          // The state that a dry run of the first part leaves is as good as the plan's own.
          const title = `${round === 'finish' ? 'FINISH' : 'ROUGH'} FLAT ${flat}`;
          const { left } = checkPrograms([{ name: 'p.nc', text: brokenOff(text, title) }], job);
          const chained = checkPrograms([{ name: 'p.nc', text: postProgram(rest).text }], {
            ...job,
            standing: left,
          });
          expect(errorsOf(chained), title).toEqual([]);
          chained.punch.flats.forEach(({ distance }, i) => {
            expect(Math.abs(distance - (whole[i] ?? Number.NaN))).toBeLessThanOrEqual(alike);
          });
        }
      }
    },
  );

  test('flat by flat the wheel is dressed with the first pair alone: who goes on after it needs no stop for that', () => {
    const job = sampleJob(HEX, NO_WEAR, [
      'order: rough first\n  measuringStop: after roughing',
      'order: flat by flat\n  measuringStop: after the first pair\n  dressingStop: before finishing',
    ]);
    const plan = planJob(job);
    expect(plan.steps.filter((step) => step.kind === 'stop' && step.dresses)).toHaveLength(1);
    expect(errorsOf(checked(plan))).toEqual([]);
    const rest = planJob(goOnFrom(plan, { flat: 2, round: 'first', height: 'none' }));
    expect(rest.steps.some(({ kind }) => kind === 'stop')).toBe(false);
    expect(errorsOf(checked(rest))).toEqual([]);
    // The whole program may not do without.
    const text = postProgram(plan).text.replace(/^\(DRESSING STOP.*\n/m, '');
    const { findings } = checkPrograms([{ name: 'p.nc', text }], job);
    expect(findings.map(({ code }) => code)).toContain('dressing-stop-missing');
  });

  test('random jobs, broken off at any flat: what goes on is good and no stroke is deeper than an infeed', () => {
    fc.assert(
      fc.property(randomJob, fc.nat(), fc.boolean(), ({ job, text }, pick, finish) => {
        const plan = planJob(job);
        const round = finish && job.grinding.finishAllowance > 0 ? 'finish' : 'first';
        const flat = job.grinding.sequence[pick % job.grinding.sequence.length] ?? 1;
        // A flat that comes up many times is gone on with by its height alone.
        fc.pre(job.grinding.order !== 'one pass all round');
        fc.pre(
          flat !== job.grinding.sequence[0] ||
            (round === 'finish' && countPasses(plan.steps, plan.flats[flat - 1] as FlatPlan, 'rough') > 0),
        );
        const rest = planJob(goOnFrom(plan, { flat, round, height: 'none' }));
        expect(
          rest.findings.filter(({ severity }) => severity === 'error'),
          text,
        ).toEqual([]);
        const report = checked(rest);
        expect(errorsOf(report), text).toEqual([]);
        expect(report.punch.flats.length).toBe(job.punch.section.length);
        for (const { deepestBite, distance, ordered } of report.punch.flats) {
          expect(deepestBite, text).toBeLessThanOrEqual(job.grinding.roughInfeed + ROUNDING);
          expect(Math.abs(distance - Number(ordered)), text).toBeLessThanOrEqual(FLAT_WITHIN);
        }
      }),
      { seed: 20261126, numRuns: BROKEN_OFF, endOnFailure: true },
    );
  });

  test.each(oneProgram)('%s: broken off within a flat, it goes on below the last stroke done', (name) => {
    const job = sampleJob(name, NO_WEAR);
    const plan = planJob(job);
    const whole = checked(plan).punch.flats.map(({ distance }) => distance);
    const { axis, sign } = layoutOf(job).up;
    const flat = job.grinding.sequence.at(-1) ?? 1;
    const own = passesIn(plan.steps).filter(
      (step) => step.flat.number === flat && step.pass.kind === 'rough',
    );
    const { pass } = own[Math.floor(own.length / 2)] as (typeof own)[number];
    const reads = onMachine(job, { u: pass.end, v: 0, w: pass.w })[axis];
    const rest = planJob(goOnFrom(plan, { flat, round: 'first', height: mm(Number(reads.toFixed(3))) }));
    const left = passesIn(rest.steps).filter(
      (step) => step.flat.number === flat && step.pass.kind === 'rough',
    );
    // Only the strokes below are left, and the first that may stand over them.
    const higher = Math.ceil(pass.unforeseen / job.grinding.roughInfeed) + 1;
    expect(left.length).toBeLessThanOrEqual(own.length - Math.floor(own.length / 2) + higher);
    const report = checked(rest);
    expect(errorsOf(report)).toEqual([]);
    report.punch.flats.forEach(({ distance, deepestBite }, i) => {
      expect(Math.abs(distance - (whole[i] ?? Number.NaN))).toBeLessThanOrEqual(FLAT_WITHIN);
      expect(deepestBite).toBeLessThanOrEqual(job.grinding.roughInfeed + ROUNDING);
    });
    const below = mm(sign > 0 ? -1e3 : 1e3);
    expect(() => goOnFrom(plan, { flat, round: 'first', height: below })).toThrow(
      /nothing of that flat lies below/,
    );
  });

  test('finish only: nothing is roughed, and no stop asks for a measure', () => {
    const plan = planJob(sampleJob(HEX));
    const rest = planJob(goOnFrom(plan, readRestart('finish flat 1')));
    expect(passesIn(rest.steps).some(({ pass }) => pass.kind === 'rough')).toBe(false);
    expect(rest.steps.some(({ kind }) => kind === 'stop')).toBe(false);
  });

  test('where the flat opposite stands the blank is touched on one side only, and done flats tell nothing of the rim', () => {
    const rest = planJob(onlyFlats(planJob(sampleJob(HEX)), [1]));
    const top = rest.hands.find((step) => step.kind === 'touch the top of the blank');
    expect(top).toMatchObject({ at: [0] });
    const ground = rest.hands.flatMap((step) =>
      step.kind === 'touch a ground flat' && step.ground !== 'as it stands' ? [step] : [],
    );
    expect(ground.map(({ flats }) => flats)).toEqual([[1], [1]]);
    // The flat opposite is done: what a reading is over is all of flat 1.
    for (const { perReading } of ground) expect(perReading).toBeCloseTo(Math.cos((2.5 * Math.PI) / 180), 6);
  });

  test('all flats alone are the whole program', () => {
    expect(() => onlyFlats(planJob(sampleJob(HEX)), [1, 2, 3, 4, 5, 6])).toThrow(/that is the whole program/);
  });

  test('some flats alone: the others stand finished and are not touched', () => {
    const rest = planJob(onlyFlats(planJob(sampleJob(HEX)), [4, 5]));
    expect([...new Set(passesIn(rest.steps).map(({ flat }) => flat.number))].toSorted()).toEqual([4, 5]);
    expect(errorsOf(checked(rest))).toEqual([]);
  });

  test('a program that goes on is refused where nobody says how the punch stands, and where it stands otherwise', () => {
    const job = sampleJob(HEX);
    const rest = planJob(goOnFrom(planJob(job), readRestart('finish flat 4')));
    const text = postProgram(rest, { reentry: 'FROM FINISH FLAT 4' }).text;
    const check = (standing: Job['standing'], how: 'known' | 'believed' = 'known') =>
      checkPrograms([{ name: 'p.nc', text }], { ...job, standing }, { standing: how });
    expect(errorsOf(check([]))).toContain('standing-unsaid');
    expect(check(rest.job.standing).verdict).toBe('run');
    expect(check(rest.job.standing, 'believed').findings.map(({ code }) => code)).toEqual([
      'standing-believed',
    ]);
    // Stale: one flat was never roughed.
    const stale = rest.job.standing.filter(({ at }) => at !== job.punch.section[4]?.at);
    expect(errorsOf(check(stale))).toContain('stroke-too-deep');
  });

  test.each(['', 'flat', 'flat 1.5', '4', 'finish', 'rough flat 1'])(
    '"%s" is no place to begin at',
    (text) => {
      expect(() => readRestart(text)).toThrow(RestartError);
    },
  );
});

describe('how a punch stands, as a file', () => {
  const job = sampleJob(HEX);
  const { left } = checked(planJob(job));
  const text = standingText(job, left);
  const file = (changed: string) => readStandingFile({ file: 'left.yaml', text: changed }, job);

  test('is read back as it was written', () => {
    expect(left.length).toBe(6);
    const read = file(text);
    read.forEach(({ at, floors }, i) => {
      expect(at).toBeCloseTo(left[i]?.at ?? Number.NaN, 12);
      floors.forEach(({ reach, w }, k) => {
        expect(reach).toBeCloseTo(left[i]?.floors[k]?.reach ?? Number.NaN, 8);
        expect(w).toBeCloseTo(left[i]?.floors[k]?.w ?? Number.NaN, 8);
      });
    });
  });

  test.each([
    [
      'of another job',
      (t: string) => t.replace('stem-bolt hex 5', 'brake-bolt hex 6'),
      /take the file of that punch/,
    ],
    ['of another slope', (t: string) => t.replace('relief: 2.5', 'relief: 3'), /planes would not be level/],
    [
      'with stairs that rise',
      (t: string) => t.replace(/floors: \[\[[^\]]*\]/, 'floors: [[-1, 0.1]'),
      /must be stairs/,
    ],
    [
      'with a direction twice',
      (t: string) => `${t}\n  - at: 0\n    higher: 0\n    floors: [[-9, 2.6]]\n`,
      /names a direction twice/,
    ],
    ['with much unknown', (t: string) => t.replace(/higher: [\d.]+/, 'higher: 50'), /higher/],
    ['cut off', (t: string) => t.slice(0, t.length / 2), /left\.yaml/],
  ])('%s it is refused', (_, change, message) => {
    try {
      file(change(text));
      expect.unreachable();
    } catch (error) {
      expect(JSON.stringify(error) + String(error)).toMatch(message);
    }
  });
});
