/**
 * Source: RS274/NGC interpreter of Debian's linuxcnc-uspace (rs274 -g), descended from NISTIR 6556.
 * Every sample program, read by it and by our trace: the same moves, positions equal to 0.0001.
 */
import { describe, expect, test } from 'vitest';
import { linesOf } from '../../src/check/read/lines.js';
import { createTracer } from '../../src/check/read/trace.js';
import { fromMm } from '../../src/quantity/length.js';
import { mm } from '../../src/quantity/unit.js';
import { sampleJob, sampleNames } from '../arbitrary/samples.js';
import { samplePrograms } from '../scripts/sample-programs.js';
import { hasInterpreter, interpret } from './interpreter.js';

/** Its own output has four decimals. */
const BUDGET = 0.0001;

/**
 * What RS274/NGC has no word for, put into its words or taken out: units as G70, a dwell in milliseconds,
 * clamp codes, a program number. None of these moves an axis.
 */
const inItsWords = (text: string): string =>
  text
    .replace(/^O\d+\n/m, '')
    .replace(/\bG70\b/g, 'G20')
    .replace(/\b(G4 P)(\d+)\b(?!\.)/g, (_, dwell: string, ms: string) => `${dwell}${Number(ms) / 1000}`)
    .replace(/^(N\d+ )?M1[01]\n/gm, '');

describe.skipIf(!hasInterpreter)('the RS274/NGC interpreter (skipped where rs274 is not installed)', () => {
  test.each(sampleNames)('reads every move of %s as our trace does', (name) => {
    const { machine } = sampleJob(name);
    for (const { text } of samplePrograms(name)) {
      const { x = 0, y = 0, z = 0 } = machine.workZero ?? {};
      const theirs = interpret(inItsWords(text), [x, y, z]);
      expect(theirs.error).toBe('none');
      const tracer = createTracer(machine);
      const ours = linesOf(text)
        .flatMap((line) => tracer.line(line))
        .filter((row) => row.motion !== undefined);
      expect(tracer.refused()).toBe(false);
      expect(theirs.moves.length).toBe(ours.length);
      expect(ours.length).toBeGreaterThan(20);
      theirs.moves.forEach((move, i) => {
        const row = ours[i];
        const scaled = (value: number | undefined): number | undefined =>
          value === undefined ? undefined : fromMm(mm(value), machine.units);
        expect(row?.motion).toBe(move.kind);
        const turned = move.turned[['A', 'B', 'C'].indexOf(machine.rotary?.axis ?? 'A')];
        [scaled(row?.x), scaled(row?.y), scaled(row?.z), row?.a].forEach((value, axis) => {
          // Where the program has not said an axis yet, it assumes 0 and we assume nothing.
          const read = [...move.at, turned][axis];
          if (value !== undefined) expect(Math.abs(value - (read ?? Number.NaN))).toBeLessThanOrEqual(BUDGET);
        });
      });
    }
  });

  test('sees the spindle stopped and a dwell before every program stop of a job indexed by hand', () => {
    const [program] = samplePrograms('bearing-cap-square-8');
    const calls = interpret(inItsWords(program?.text ?? '')).calls.filter(
      (call) => !call.startsWith('COMMENT'),
    );
    const stops = calls.flatMap((call, i) => (call.startsWith('PROGRAM_STOP') ? [i] : []));
    // One a flat in each round; the measuring stop is one with the index after it, and the first finds the wheel at rest.
    expect(stops.length).toBe(8);
    for (const stop of stops.slice(1)) {
      const before = calls.slice(Math.max(0, stop - 3), stop);
      expect(before.some((call) => call.startsWith('STOP_SPINDLE_TURNING'))).toBe(true);
      expect(before.at(-1)).toBe('DWELL(22.0000)');
    }
  });
});
