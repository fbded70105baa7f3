/**
 * Source: RS274/NGC interpreter of Debian's linuxcnc-uspace (rs274 -g), descended from NISTIR 6556.
 * Random programs of the supported subset, read by it and by our trace: the same moves, dwells and stops,
 * positions and arc centres equal to 0.0001, or refused here by name. Never a silent difference.
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { linesOf } from '../../src/check/read/lines.js';
import { createTracer, type TraceRow } from '../../src/check/read/trace.js';
import { readMachine } from '../../src/file/read.js';
import { fromMm } from '../../src/quantity/length.js';
import { type LengthUnit, mm } from '../../src/quantity/unit.js';
import { randomProgram } from '../arbitrary/program.js';
import { shippedProfile, wholeUnits } from '../arbitrary/samples.js';
import { hasInterpreter, interpret } from './interpreter.js';

const machine = wholeUnits(readMachine(shippedProfile('bench-mill-rotary')));
const RUNS = Math.ceil(Number(process.env['FLATWRIGHT_RUNS'] ?? 500) / 5);
const SEED = Number(process.env['FLATWRIGHT_SEED'] ?? 20260201);
/** Its own output has four decimals. */
const BUDGET = 0.00011;

/** What both sides say, in one form: numbers in program units and degrees. */
interface Event {
  readonly what: string;
  readonly numbers: readonly number[];
}

function ours(rows: readonly TraceRow[], units: LengthUnit): readonly Event[] {
  const scaled = (value: number | undefined): number => fromMm(mm(value ?? Number.NaN), units);
  return rows.flatMap((row): readonly Event[] => {
    const events: Event[] = [];
    if (row.dwell !== undefined) events.push({ what: 'dwell', numbers: [row.dwell] });
    if (row.motion !== undefined) {
      const centre = row.centre === undefined ? [] : row.centre.map(scaled);
      const what = row.motion.startsWith('arc') ? 'arc' : row.motion;
      events.push({
        what,
        numbers: [scaled(row.x), scaled(row.y), scaled(row.z), row.a ?? Number.NaN, ...centre],
      });
    }
    if (row.stop === true) events.push({ what: 'stop', numbers: [] });
    if (row.end === true) events.push({ what: 'end', numbers: [] });
    return events;
  });
}

/** Axes of an arc call by plane: which of X Y Z its first, second and third number are. */
const ORDER = { XY: [0, 1, 2], XZ: [2, 0, 1], YZ: [1, 2, 0] } as const;

function theirs(calls: readonly string[]): readonly Event[] {
  let plane: keyof typeof ORDER = 'XY';
  return calls.flatMap((call): readonly Event[] => {
    const [, name = '', inside = ''] = /^(\w+)\((.*)\)$/.exec(call) ?? [];
    const n = inside.split(',').map(Number);
    switch (name) {
      case 'SELECT_PLANE':
        plane = inside.slice(-2) as keyof typeof ORDER;
        return [];
      case 'DWELL':
        return [{ what: 'dwell', numbers: n }];
      case 'STRAIGHT_TRAVERSE':
        return [{ what: 'rapid', numbers: n.slice(0, 4) }];
      case 'STRAIGHT_FEED':
        return [{ what: 'feed', numbers: n.slice(0, 4) }];
      case 'ARC_FEED': {
        const [first = 0, second = 0, firstCentre = 0, secondCentre = 0, , third = 0, a = 0] = n;
        const xyz = [0, 0, 0];
        const [i, j, k] = ORDER[plane];
        [xyz[i], xyz[j], xyz[k]] = [first, second, third];
        return [{ what: 'arc', numbers: [...xyz, a, firstCentre, secondCentre] }];
      }
      case 'PROGRAM_STOP':
      case 'OPTIONAL_PROGRAM_STOP':
        return [{ what: 'stop', numbers: [] }];
      case 'PROGRAM_END':
        return [{ what: 'end', numbers: [] }];
      default:
        return [];
    }
  });
}

describe.skipIf(!hasInterpreter)('the RS274/NGC interpreter (skipped where rs274 is not installed)', () => {
  test(`reads ${RUNS} random programs as our trace does, or we refuse them by name`, () => {
    let read = 0;
    fc.assert(
      fc.property(randomProgram, (text) => {
        const tracer = createTracer(machine);
        const rows = linesOf(text).flatMap((line) => tracer.line(line));
        const refusal = rows.find((row) => row.refused !== undefined)?.refused;
        if (refusal !== undefined) {
          expect(refusal.code).not.toBe('');
          return;
        }
        const { calls, error } = interpret(text);
        expect(error, text).toBe('none');
        const [a, b] = [ours(rows, /^(N\d+ )?G20/.test(text) ? 'inch' : 'mm'), theirs(calls)];
        expect(
          a.map(({ what }) => what),
          text,
        ).toEqual(b.map(({ what }) => what));
        a.forEach(({ numbers, what }, i) => {
          for (const [k, value] of numbers.entries()) {
            const other = b[i]?.numbers[k] ?? Number.NaN;
            expect(
              Math.abs(value - other),
              `${what} ${i}: ${numbers} against ${b[i]?.numbers}\n${text}`,
            ).toBeLessThanOrEqual(BUDGET);
          }
        });
        read += 1;
      }),
      { seed: SEED, numRuns: RUNS, endOnFailure: true },
    );
    // Most must really be compared, or the test proves little.
    expect(read).toBeGreaterThan(RUNS / 2);
  });
});
