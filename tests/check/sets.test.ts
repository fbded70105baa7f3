/** What a set of programs, and a program after hands have been in, may not take for granted. */
import { describe, expect, test } from 'vitest';
import { checkPrograms } from '../../src/check/dry-run.js';
import { readMachine } from '../../src/file/read.js';
import type { Job } from '../../src/job/job.js';
import { planJob } from '../../src/plan/plan.js';
import { goOnFrom } from '../../src/plan/restart.js';
import { passesIn } from '../../src/plan/step.js';
import { postOutline } from '../../src/post/outline.js';
import { postProgram, postSplit } from '../../src/post/program.js';
import { mm } from '../../src/quantity/unit.js';
import { sampleJob, shippedProfile } from '../arbitrary/samples.js';

const NO_WEAR = ['wear: compensate', 'wear: ignore'] as const;
const clamped: Job = {
  ...sampleJob('stem-bolt-hex-5', NO_WEAR, [
    'sequence: opposite pairs',
    'sequence: opposite pairs\n  finishSequence: reversed',
  ]),
  machine: readMachine(shippedProfile('clamped-rotary-mill')),
};
const codes = (programs: readonly string[], job: Job): readonly string[] =>
  checkPrograms(
    programs.map((text, i) => ({ name: `${i}.nc`, text })),
    job,
  ).findings.flatMap(({ code, severity }) => (severity === 'error' ? [code] : []));

describe('between two programs of a set', () => {
  const [first = '', second = ''] = postSplit(planJob(clamped)).map(({ text }) => text);

  test('as posted it is good', () => {
    expect(codes([first, second], clamped)).toEqual([]);
  });

  test('the punch may have been turned to measure it: the axis is said again before a stroke', () => {
    // The flat that is up is finished first; its index and all that goes with it left out.
    const without = second.replace(/(N\d+ )?M11\n(N\d+ )?G0 A\S+\n((N\d+ )?G0 A\S+\n)?(N\d+ )?M10\n/, '');
    expect(without).not.toBe(second);
    expect(codes([first, without], clamped)).toContain('index-unknown');
  });

  test('later ones name no number of the raw top', () => {
    expect(first).toContain('FIRST SPARK');
    expect(second).not.toContain('FIRST SPARK');
    expect(second).toContain('TOUCH GROUND FLATS ONLY');
  });
});

describe('an axis that clamps', () => {
  test('is freed before its first turn, whatever the program before has left', () => {
    const { text } = postProgram(planJob(clamped));
    const without = text.replace(/(N\d+ )?M11\n/, '');
    expect(without).not.toBe(text);
    expect(codes([without], clamped)).toContain('index-clamped');
  });

  test('is freed and clamped where places are shown, too', () => {
    const { text } = postOutline(planJob(clamped));
    expect(text.match(/M11/g)?.length).toBe(text.match(/G0 A/g)?.length);
    const report = checkPrograms([{ name: 'o.nc', text }], clamped, { purpose: 'look' });
    expect(report.findings).toEqual([]);
  });
});

describe('gone on with, on a crooked block', () => {
  const base = sampleJob('seat-clamp-hex-quarter-inch', NO_WEAR);
  const measured = [11.9, 12, 12, 12, 12, 12].map(mm);
  const job: Job = {
    ...base,
    holding: { ...base.holding, device: { kind: 'indexing block', sides: 6, measured, takeBack: true } },
  };

  test('the height the display reads is that of the program, and no stroke after it is too deep', () => {
    const plan = planJob(job);
    const { text } = postProgram(plan);
    const own = passesIn(plan.steps).filter(({ flat, pass }) => flat.number === 4 && pass.kind === 'rough');
    const at = own[Math.floor(own.length / 2)];
    if (at === undefined) throw new Error('flat 4 is not roughed');
    // What stands in the program at that stroke, and so on the display.
    const rise = (12 * 5 + 11.9) / 6;
    const reads = at.pass.w + (11.9 - rise);
    expect(text).toContain(`Z${(reads / 25.4).toFixed(5)}`);
    const rest = planJob(goOnFrom(plan, { flat: 4, round: 'first', height: mm(reads) }));
    const next = passesIn(rest.steps).find(({ flat, pass }) => flat.number === 4 && pass.kind === 'rough');
    expect(at.pass.level - (next?.pass.level ?? Number.NaN)).toBeLessThanOrEqual(
      job.grinding.roughInfeed + 1e-6,
    );
  });
});

test('a flat that comes up many times is gone on with by its height, and one not begun is said so', () => {
  const all = sampleJob('stem-bolt-hex-5', NO_WEAR, ['order: rough first', 'order: one pass all round']);
  expect(() => goOnFrom(planJob(all), { flat: 4, round: 'first', height: 'none' })).toThrow(
    /comes up \d+ times/,
  );
  const plan = planJob(sampleJob('stem-bolt-hex-5', NO_WEAR));
  expect(() => goOnFrom(plan, { flat: 4, round: 'first', height: mm(100) })).toThrow(/flat 4 is not begun/);
});
