/**
 * One job through every layout a program is written for, both slopes and several dialects: the same punch, to a micrometre
 * and a thousandth of a degree, as the checker finds it, and as the RS274/NGC interpreter reads the moves.
 */
import { describe, expect, test } from 'vitest';
import { checkPrograms } from '../../src/check/dry-run.js';
import { linesOf } from '../../src/check/read/lines.js';
import { createTracer } from '../../src/check/read/trace.js';
import { readMachine } from '../../src/file/read.js';
import type { Job } from '../../src/job/job.js';
import { countsOf, kindOf, type LayoutName, layouts, punchTurns } from '../../src/job/layout.js';
import type { Dialect } from '../../src/job/machine.js';
import { planJob } from '../../src/plan/plan.js';
import { postProgram } from '../../src/post/program.js';
import { mm, rad } from '../../src/quantity/unit.js';
import { toWheelFrame } from '../../src/wheel/frame.js';
import { sampleJob } from '../arbitrary/samples.js';
import { hasInterpreter, interpret } from '../reference/interpreter.js';

const base = sampleJob('stem-bolt-hex-5', ['machine: bench-mill-rotary', 'machine: bench-mill-rotary']);

const DIALECTS: Readonly<Record<string, Partial<Dialect>>> = {
  plain: {},
  'no G90, G98, numbers at stops': {
    absoluteCode: 'none',
    feedCode: 'G98',
    blockNumbers: { start: 10, step: 10, most: 9999, on: 'program stops' },
  },
  'numbers counted in last digits, dwell in U': {
    bareNumbers: 'last digits',
    dwellUnit: 'milliseconds',
    dwellWord: 'U',
    comments: 'semicolon',
  },
  'dwell in X, diameters said': { dwellWord: 'X' },
  'four decimals, exact stop': { decimals: 4, exactStop: 'G61' },
};

function inLayout(layout: LayoutName, by: 'fixture' | 'head', dialect: Partial<Dialect>): Job {
  const wide = [mm(-1e4), mm(1e4)] as const;
  const row = layouts[layout];
  const { workZero: _, ...machine } = base.machine;
  const plain = row.wheel === 'plain';
  return {
    ...base,
    // A plain wheel runs out far behind the flats.
    ...(plain
      ? {
          blank: { ...base.blank, stickOut: mm(60) },
          wheel: { ...base.wheel, shape: 'plain', radius: mm(0), periphery: base.wheel.radius, rim: mm(13) },
          grinding: { ...base.grinding, shoulder: rad(0) },
        }
      : {}),
    holding: { ...base.holding, slope: { ...base.holding.slope, by } },
    machine: {
      ...machine,
      layout,
      travel: { x: wide, z: wide, ...(row.across === 'none' ? {} : { y: wide }) },
      spindle: { ...machine.spindle, switched: punchTurns(layout) ? 'by hand' : 'by program' },
      program: { ...machine.program, decimals: 4, ...dialect },
    },
  };
}

const cases = (Object.keys(layouts) as LayoutName[])
  .filter((name) => kindOf(name) !== 'bench grinder with a rail')
  .flatMap((name) =>
    layouts[name].slopes.flatMap((by) =>
      Object.keys(DIALECTS).map((dialect) => [name, by, dialect] as const),
    ),
  );

describe.each(cases)('%s, slope by the %s, %s', (name, by, dialect) => {
  const job = inLayout(name, by, DIALECTS[dialect] ?? {});
  const { text } = postProgram(planJob(job));

  test('leaves the punch that the mill leaves', () => {
    const report = checkPrograms([{ name: 'p.nc', text }], job);
    expect(report.findings.filter(({ severity }) => severity === 'error')).toEqual([]);
    expect(report.punch.flats).toHaveLength(6);
    report.punch.flats.forEach(({ at, distance }, i) => {
      expect(Math.abs(distance - 2.53)).toBeLessThanOrEqual(0.001);
      expect(Math.abs((at * 180) / Math.PI - 60 * i)).toBeLessThanOrEqual(0.001);
    });
  });

  test('every stroke in lies in the plane of a flat, seen in the machine', () => {
    const layout = layouts[name];
    const tracer = createTracer(job.machine);
    const rows = linesOf(text)
      .flatMap((line) => tracer.line(line))
      .filter((row) => row.motion === 'feed');
    // The end of a stroke and its start are as high over the slope: taken here from the axes themselves.
    const t = by === 'head' ? job.punch.relief : 0;
    const heights = rows.flatMap((row) => {
      const along = (row[layout.along.axis] ?? Number.NaN) * layout.along.sign;
      const up = (row[layout.up.axis] ?? Number.NaN) / countsOf(layout, layout.up.axis);
      const place = { x: along / countsOf(layout, layout.along.axis), y: 0, z: up };
      return [toWheelFrame(place, t as Parameters<typeof toWheelFrame>[1]).w];
    });
    const lowest = Math.min(...heights.filter(Number.isFinite));
    expect(Math.abs(lowest - 2.53 * Math.cos(job.punch.relief))).toBeLessThanOrEqual(0.001);
  });
});

describe.skipIf(!hasInterpreter)('the RS274/NGC interpreter (skipped where rs274 is not installed)', () => {
  test.each(cases.filter(([, , dialect]) => dialect === 'plain'))('reads %s, slope by the %s', (name, by) => {
    const { text } = postProgram(planJob(inLayout(name, by, {})));
    const { error, moves } = interpret(text.replace(/^(N\d+ )?M1[01]\n/gm, ''));
    expect(error).toBe('none');
    expect(moves.length).toBeGreaterThan(1000);
  });
});

describe('a control that wants no decimal point', () => {
  const job = inLayout('mill, tool along +X', 'fixture', {
    bareNumbers: 'last digits',
    dwellUnit: 'milliseconds',
    dwellWord: 'X',
    decimals: 3,
  });
  const { text } = postProgram(planJob(job));
  const plain = postProgram(
    planJob(
      inLayout('mill, tool along +X', 'fixture', { dwellUnit: 'milliseconds', dwellWord: 'X', decimals: 3 }),
    ),
  ).text;

  test('is written none, and word by word what the other would read', () => {
    const withoutComments = text.replace(/^\(.*\)$/gm, '');
    expect(withoutComments).not.toContain('.');
    const numbers = (program: string, scale: number): readonly number[] =>
      [...program.replace(/\(.*\)/g, '').matchAll(/[YZA](-?[\d.]+)/g)].map(
        (match) => Number(match[1]) * scale,
      );
    const [theirs, ours] = [numbers(text, 1), numbers(plain, 1000)];
    expect(theirs.length).toBeGreaterThan(500);
    expect(theirs).toEqual(ours.map((each) => Math.round(each)));
  });

  test('reads its dwells in their own unit, and a word with a point as it stands', () => {
    expect(text).toMatch(/^G4 X\d+$/m);
    expect(checkPrograms([{ name: 'p.nc', text }], job).findings).toEqual([]);
    // Z in millimetres by mistake is a thousandth of it: the wheel would go through the punch, and is refused.
    const wrong = text.replace(/(ROUGH FLAT 1\)\nG1 .*Z)(\d+)/, (_, before: string, counts: string) =>
      before.concat(`${Math.floor(Number(counts) / 1000)}`),
    );
    expect(wrong).not.toBe(text);
    expect(checkPrograms([{ name: 'p.nc', text: wrong }], job).verdict).toBe('refused');
  });
});

describe('a word without a point, where they count in last digits', () => {
  const { machine } = inLayout('mill, tool along +X', 'fixture', {
    bareNumbers: 'last digits',
    dwellUnit: 'milliseconds',
    dwellWord: 'X',
    decimals: 3,
  });
  const at = (line: string): number | undefined => {
    const tracer = createTracer(machine);
    for (const before of ['G21', 'G90', 'G54']) tracer.line(before);
    return tracer.line(line).find((row) => row.motion !== undefined)?.x;
  };

  test.each([
    ['G0 X41', 0.041],
    ['G0 X+ 41', 0.041],
    ['G0 X- 5', -0.005],
    ['g0 x 50 000', 50],
    ['G0 X5 (G04 DWELL)', 0.005],
    ['G0 X41.', 41],
    ['G0 X-1.5', -1.5],
    ['G0 X1234567', 1234.567],
  ])('%s goes to %f', (line, x) => {
    expect(at(line)).toBeCloseTo(x, 9);
  });

  test.each(['G4 X2000', 'G 4 X2000', 'G04 X2000'])('%s is a dwell of two seconds', (line) => {
    const tracer = createTracer(machine);
    for (const before of ['G21', 'G90', 'G54']) tracer.line(before);
    expect(JSON.stringify(tracer.line(line))).toMatch(/2(?!\d)/);
    expect(tracer.refused()).toBe(false);
  });

  test('and where they are refused, the word of a dwell is excused in a dwell alone', () => {
    const refused = inLayout('mill, tool along +X', 'fixture', {
      dwellUnit: 'milliseconds',
      dwellWord: 'X',
      decimals: 3,
    });
    const tracer = createTracer(refused.machine);
    for (const before of ['G21', 'G90', 'G54', 'G4 X500']) tracer.line(before);
    expect(tracer.refused()).toBe(false);
    tracer.line('G0 X41');
    expect(tracer.refused()).toBe(true);
  });
});

test('a spindle that holds the punch: its words are refused for what they would do', () => {
  const job = inLayout('lathe, punch in the spindle, X as diameter', 'head', {});
  const { text } = postProgram(planJob(job));
  const started = text.replace(/^M0$/m, 'M3\nM0');
  const { findings } = checkPrograms([{ name: 'p.nc', text: started }], job);
  expect(findings.map(({ code }) => code)).toContain('spindle-turns-punch');
  expect(findings.map(({ code }) => code)).not.toContain('speed-missing');
});

test('a guard that stays on is held against the program too', () => {
  const job = inLayout('mill, tool along +X', 'fixture', {});
  const { text } = postProgram(planJob(job));
  const guarded = (beside: number, back: number) =>
    checkPrograms([{ name: 'p.nc', text }], {
      ...job,
      machine: { ...job.machine, guard: { beside: mm(beside), back: mm(back) } },
    });
  expect(guarded(12, 2).findings.map(({ code }) => code)).toContain('guard-meets-work');
  expect(guarded(3, 6).verdict).toBe('run');
});

test('an inch machine, or one that dwells in seconds, cannot count so', () => {
  const profile = (units: string, dwellUnit: string) => ({
    file: 'mine.yaml',
    text: `title: mine\nunits: ${units}\nlayout: mill, tool along +X\ntravel: {x: [0, 9], y: [0, 9], z: [0, 9]}\nrapid: 100\nmaxFeed: 50\nspindle: {min: 1, max: 9}\nprogram: {bareNumbers: last digits, dwellUnit: ${dwellUnit}}\n`,
  });
  expect(() => readMachine(profile('inch', 'milliseconds'))).toThrow(/no word of such a program has a point/);
  expect(() => readMachine(profile('mm', 'seconds'))).toThrow(/no word of such a program has a point/);
  expect(readMachine(profile('mm', 'milliseconds')).program.bareNumbers).toBe('last digits');
});
