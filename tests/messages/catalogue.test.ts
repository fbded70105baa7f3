/**
 * Every message a person may read, one example of each, as a file to be read aloud: what is wrong, and what would do. Those
 * of the check come from tests/bad, tests/hostile and tests/honest, and from programs with one thing changed; those of the
 * plan from jobs with one thing changed. A code without an example fails.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { checkDress } from '../../src/check/dress.js';
import { type CheckOptions, checkPrograms } from '../../src/check/dry-run.js';
import { checkFace } from '../../src/check/face.js';
import type { CheckCode, CheckFinding } from '../../src/check/finding.js';
import type { Job } from '../../src/job/job.js';
import { planDress } from '../../src/plan/dress.js';
import { planFace } from '../../src/plan/face.js';
import { planJob } from '../../src/plan/plan.js';
import { goOnFrom, readRestart } from '../../src/plan/restart.js';
import { postDress } from '../../src/post/dress.js';
import { postFace } from '../../src/post/face.js';
import { postOutline } from '../../src/post/outline.js';
import { postForMachine, postProgram } from '../../src/post/program.js';
import { mm } from '../../src/quantity/unit.js';
import { CHECK_CODES, checkSentence } from '../../src/wording/check.js';
import { trickyPrograms } from '../arbitrary/hostile.js';
import { sampleJob } from '../arbitrary/samples.js';

const bad = new URL('../bad/', import.meta.url);
const HEX = 'stem-bolt-hex-5';

type Exchange = readonly [from: string, to: string];

const exchanged = (text: string, exchanges: readonly Exchange[]): string =>
  exchanges.reduce((before, [from, to]) => {
    if (!before.includes(from)) throw new Error(`no "${from}" in the program`);
    return before.replaceAll(from, to);
  }, text);

/** What the check finds in the program a job posts, with some of its text exchanged, held against that or another job. */
function found(
  job: Job,
  exchanges: readonly Exchange[],
  against: Job = job,
  options: CheckOptions = {},
): readonly CheckFinding[] {
  const programs = postForMachine(planJob(job)).map(({ suffix, text }, i) => ({
    name: `p${suffix}.nc`,
    text: i === 0 ? exchanged(text, exchanges) : text,
  }));
  return checkPrograms(programs, against, options).findings;
}

const onMachine = (job: Job, machine: Partial<Job['machine']>): Job => ({
  ...job,
  machine: { ...job.machine, ...machine },
});

const withProgram = (job: Job, program: Partial<Job['machine']['program']>): Job =>
  onMachine(job, { program: { ...job.machine.program, ...program } });

const looked = (exchanges: readonly Exchange[]): readonly CheckFinding[] => {
  const job = sampleJob(HEX);
  const text = exchanged(postOutline(planJob(job)).text, exchanges);
  return checkPrograms([{ name: 'p.nc', text }], job, { purpose: 'look' }).findings;
};

/** One thing wrong, for what no program of the folders shows. */
const EXAMPLES: Partial<Record<CheckCode, () => readonly CheckFinding[]>> = {
  'block-number-late': () => found(sampleJob(HEX), [['G0 A-1.050', 'G0 A-1.050 N10']]),
  'comment-active': () => found(sampleJob(HEX), [['(ROUGH FLAT 1)', '(PRINT, 1)']]),
  'percent-misplaced': () => found(sampleJob(HEX), [['(FINISH FLAT 1)\n', '%\n']]),
  'span-over-travel': () => {
    const { workZero: _, ...machine } = sampleJob(HEX).machine;
    const job = { ...sampleJob(HEX), machine };
    return found(job, [], onMachine(job, { travel: { ...machine.travel, x: [mm(0), mm(10)] } }));
  },
  'speed-not-ordered': () => found(sampleJob(HEX), [['S4000', 'S4200']]),
  'measuring-stop-missing': () =>
    found(
      sampleJob(
        HEX,
        ['measuringStop: after roughing', 'measuringStop: after each pair'],
        ['order: rough first', 'order: flat by flat'],
      ),
      [['(MEASURING STOP', '(A STOP']],
    ),
  'stop-ignored': () => found(sampleJob('valve-cap-triangle'), [['\nM2', '\nM0\nM2']]),
  'text-after-end': () => found(sampleJob(HEX), [['M30\n', 'M30\nG0 X50.000\n']]),
  'stroke-unclamped': () => found(sampleJob('crank-bolt-hex-8'), [['M10\n', '']]),
  'index-both-ways': () => found(sampleJob(HEX), [['G0 A118.950\n', 'G0 A121.050\n']]),
  'stroke-over-limit': () =>
    found(sampleJob(HEX), [], sampleJob(HEX, ['sparkOut: 3', 'sparkOut: 3\n  limit: { removalRate: 0.8 }'])),
  'index-again': () => {
    const job = sampleJob('bearing-cap-square-8');
    const { text } = postProgram(planJob(job));
    const stop = text.indexOf('(INDEX TO 90 DEG');
    const end = text.indexOf('M0\n', stop) + 3;
    const twice = text.slice(0, end) + text.slice(stop, end) + text.slice(end);
    return checkPrograms([{ name: 'p.nc', text: twice }], job).findings;
  },
  'flat-long': () =>
    found(sampleJob(HEX), [
      ['X27.581', 'X24.581'],
      ['G1 X40.674 Y0.000 Z4.478', 'G1 X40.674 Y0.000 Z4.578'],
    ]),
  'size-under': () => found(sampleJob(HEX, ['acrossFlats: 5.06', 'acrossFlats: 5.04']), [], sampleJob(HEX)),
  'wheel-not-at-rest': () => looked([['\nM0', '\nS4000\nM3\nG4 P5.0\nM0']]),
  'dressing-stop-missing': () =>
    found(sampleJob(HEX, ['sparkOut: 3', 'sparkOut: 3\n  dressingStop: before finishing']), [
      ['DRESSING', 'CLEANING'],
    ]),
  'face-off': () => {
    const job = sampleJob(HEX);
    const { text } = postFace(planJob(job), planFace(job, mm(0.15)));
    return checkFace(exchanged(text, [['G1 Z-0.150\n', '']]), 'p.nc', job, mm(0.15)).findings;
  },
  'rim-off': () => {
    const job = withDiamond();
    return checkDress(exchanged(dressing(job), [['G1 Z-4.030\n', '']]), 'p.nc', job, mm(0.03)).findings;
  },
  'diamond-unknown': () => checkDress(dressing(withDiamond()), 'p.nc', sampleJob(HEX), mm(0.03)).findings,
  'cuts-in-the-air': () => found(sampleJob(HEX), [], sampleJob(HEX), { purpose: { raised: mm(1) } }),
  'spindle-turns-punch': () => {
    const job = chucked();
    return found(job, [['\nM0', '\nM3\nM0']]);
  },
  'guard-meets-work': () =>
    found(sampleJob(HEX), [], onMachine(sampleJob(HEX), { guard: { beside: mm(12), back: mm(2) } })),
  'wheel-switched-by-hand': () =>
    found(
      sampleJob(HEX),
      [],
      onMachine(sampleJob(HEX), { spindle: { ...sampleJob(HEX).machine.spindle, switched: 'by hand' } }),
    ),
  'tool-change-late': () =>
    found(withProgram(sampleJob(HEX), { tool: 1 }), [
      ['G0 Z29.444\n(ROUGH FLAT 1)', 'G0 Z29.444\nT1 M6\n(ROUGH FLAT 1)'],
    ]),
  'axis-outside-turn': () => {
    const job = sampleJob(HEX);
    const { rotary } = job.machine;
    if (rotary === undefined) throw new Error('no rotary axis');
    return found(
      job,
      [['A300.000', 'A390.000']],
      onMachine(job, { rotary: { ...rotary, counts: '0 to 360 shortest' } }),
    );
  },
  'standing-unsaid': () => {
    const { text, job } = goingOn();
    return checkPrograms([{ name: 'p.nc', text }], { ...job, standing: [] }).findings;
  },
  'standing-believed': () => {
    const { text, job } = goingOn();
    return checkPrograms([{ name: 'p.nc', text }], job, { standing: 'believed' }).findings;
  },
  'text-changed': () => found(sampleJob(HEX), [['(FINISH FLAT 1)', '(FINISH THE FIRST FLAT)']]),
  'set-out-of-order': () => checkPrograms(set([1, 3, 2]), sampleJob('valve-cap-triangle')).findings,
  'set-incomplete': () => checkPrograms(set([1, 2, 3, 4, 5]), sampleJob('valve-cap-triangle')).findings,
};

/**
 * No text is known that does it: gcode-parser and our own count of letters have always agreed, and were they ever to
 * differ a word would be lost in silence.
 */
const GUARD_ONLY: readonly CheckCode[] = ['words-lost'];

const withDiamond = (): Job =>
  sampleJob(HEX, ['halfHeight: 12 }', 'halfHeight: 12 }\n  diamond: { x: 80, z: -4 }']);
const dressing = (job: Job): string => postDress(planJob(job), planDress(job, 3, mm(0.01))).text;

function chucked(): Job {
  const job = sampleJob(HEX);
  const wide = [mm(-1e4), mm(1e4)] as const;
  const { workZero: _, ...machine } = job.machine;
  return {
    ...job,
    holding: { ...job.holding, slope: { ...job.holding.slope, by: 'head' } },
    machine: {
      ...machine,
      layout: 'lathe, punch in the spindle, X as diameter',
      travel: { x: wide, z: wide },
      spindle: { ...machine.spindle, switched: 'by hand' },
    },
  };
}

function goingOn() {
  const plan = planJob(goOnFrom(planJob(sampleJob(HEX)), readRestart('finish flat 4')));
  return { text: postProgram(plan, { reentry: 'FROM FINISH FLAT 4' }).text, job: plan.job };
}

const set = (order: readonly number[]) => {
  const programs = postForMachine(planJob(sampleJob('valve-cap-triangle')));
  return order.map((number) => ({ name: `${number}.nc`, text: programs[number - 1]?.text ?? '' }));
};

function* checked(): Iterable<CheckFinding> {
  for (const file of readdirSync(bad).filter((each) => each.endsWith('.nc'))) {
    const text = readFileSync(new URL(file, bad), 'latin1');
    const name = / job: (\S+?)\)/.exec(text)?.[1] ?? HEX;
    yield* checkPrograms([{ name: file, text }], sampleJob(name)).findings;
  }
  for (const { programs, job } of trickyPrograms()) yield* checkPrograms(programs, job).findings;
}

describe('every message of the check', () => {
  test.each(Object.entries(EXAMPLES))('%s', (code, example) => {
    expect(example().map((finding) => finding.code)).toContain(code);
  });

  test('has an example, and they read so', async () => {
    const first = new Map<string, string>();
    const take = (finding: CheckFinding): void => {
      if (!first.has(finding.code))
        first.set(finding.code, `${finding.severity} ${finding.code}\n  ${checkSentence(finding, 'mm')}\n`);
    };
    for (const finding of checked()) take(finding);
    for (const [code, example] of Object.entries(EXAMPLES))
      for (const finding of example().filter((each) => each.code === code)) take(finding);
    expect(CHECK_CODES.filter((code) => !first.has(code))).toEqual(GUARD_ONLY);
    const text = [...first].toSorted(([a], [b]) => (a < b ? -1 : 1)).map(([, said]) => said);
    await expect(text.join('')).toMatchFileSnapshot('check.txt');
  });
});
