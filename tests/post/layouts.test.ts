/**
 * One job through every layout a program is written for, both slopes and several dialects: the same punch, to a micrometre
 * and a thousandth of a degree, as the checker finds it, and as the RS274/NGC interpreter reads the moves.
 */
import { describe, expect, test } from 'vitest';
import { checkPrograms } from '../../src/check/dry-run.js';
import { linesOf } from '../../src/check/read/lines.js';
import { createTracer } from '../../src/check/read/trace.js';
import type { Job } from '../../src/job/job.js';
import { countsOf, kindOf, type LayoutName, layouts, punchTurns } from '../../src/job/layout.js';
import type { Dialect } from '../../src/job/machine.js';
import { planJob } from '../../src/plan/plan.js';
import { postProgram } from '../../src/post/program.js';
import { mm } from '../../src/quantity/unit.js';
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
  'four decimals, exact stop': { decimals: 4, exactStop: 'G61' },
};

function inLayout(layout: LayoutName, by: 'fixture' | 'head', dialect: Partial<Dialect>): Job {
  const wide = [mm(-1e4), mm(1e4)] as const;
  const row = layouts[layout];
  const { workZero: _, ...machine } = base.machine;
  return {
    ...base,
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
