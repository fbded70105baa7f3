/**
 * The stem-bolt hex as people write it by hand, in three styles: incremental with a way out and back, arcs for
 * the ways down and up, and numbered blocks of many words in lower case. Each is good to run, by our check and
 * by the judge, which shares no code with it; and the RS274/NGC interpreter reads the moves that our trace reads.
 * Source: RS274/NGC interpreter of Debian's linuxcnc-uspace (rs274 -g), descended from NISTIR 6556.
 */
import { describe, expect, test } from 'vitest';
import { checkPrograms } from '../../src/check/dry-run.js';
import { linesOf } from '../../src/check/read/lines.js';
import { createTracer } from '../../src/check/read/trace.js';
import { sampleJob } from '../arbitrary/samples.js';
import { hasInterpreter, interpret } from '../reference/interpreter.js';
import { judge } from './judge.js';

/** One run to size without the stop to measure, as hand-written programs are. */
const job = sampleJob(
  'stem-bolt-hex-5',
  ['measuringStop: after roughing', 'measuringStop: none'],
  ['order: rough first', 'order: flat by flat'],
  ['wear: compensate', 'wear: ignore'],
);
const ANGLES = [0, 60, 120, 180, 240, 300];
const FLAT = job.punch.section[0]?.distance ?? Number.NaN;
const t = job.punch.relief;
/** Rim height of the flat, and X of the wheel's centre with its edge over the end of the flat. */
const SIZE = FLAT * Math.cos(t);
/** The rim is round: at the corners of the flat it ends (b / 2)^2 / (2 Rw) earlier. */
const SAGITTA = (FLAT * Math.tan(Math.PI / 6)) ** 2 / (2 * job.wheel.radius);
const IN = job.wheel.radius - job.punch.flatLength * Math.cos(t) + FLAT * Math.sin(t) - SAGITTA - 0.01;
const OUT = job.wheel.radius + 4;
/** The stock stands highest where the flat ends. */
const FIRST = job.blank.size / 2 / Math.cos(t) + (job.punch.flatLength + 0.1) * Math.tan(t);

/** Heights from above the raw stock down to size: rough infeeds to the allowance, then finish infeeds. */
function heights(): readonly number[] {
  const { roughInfeed, finishInfeed, finishAllowance } = job.grinding;
  const down: number[] = [];
  for (let w = SIZE; w < SIZE + finishAllowance; w += finishInfeed) down.unshift(w);
  for (let w = SIZE + finishAllowance; w < FIRST + roughInfeed; w += roughInfeed) down.unshift(w);
  return down;
}

const mm = (value: number): string => value.toFixed(3).replace(/0+$/, '');
const STROKES = Array.from({ length: job.grinding.sparkOut });
const SPEED = job.grinding.spindleSpeed;
const FEED = job.grinding.strokeSpeed;
const COOLANT = job.grinding.coolant === 'none' ? [] : ['M8'];
const START = ['G0 Z60.', `G0 X${mm(OUT)} Y0.`, 'G0 A0.', `S${SPEED} M3`, ...COOLANT, 'G4 P10.'];
const END = ['M9', 'G4 P10.', 'M5', 'G4 P30.'];

/** Down by increments, in and back out by the same length. */
function incremental(): string {
  const way = mm(OUT - IN);
  const lines = ['%', '(by increments)', 'G17 G21 G40 G49 G54 G61 G80 G90 G94', ...START];
  for (const angle of ANGLES) {
    const [first = 0, ...rest] = heights();
    lines.push(`(flat at ${angle})`, 'G90', 'G0 Z60.', `A${angle}.`, `G0 Z${mm(first + 2)}`);
    lines.push(`G1 Z${mm(first)} F300.`, 'G91', `X-${way} F${FEED}.`, `X${way}`);
    let before = Number(mm(first));
    for (const height of rest) {
      const now = Number(mm(height));
      lines.push(`Z-${mm(before - now)} F300.`, `X-${way} F${FEED}.`, `X${way}`);
      before = now;
    }
    for (const _ of STROKES) lines.push(`X-${way}`, `X${way}`);
  }
  return [...lines, 'G90 G0 Z60.', ...END, 'M30', '%', ''].join('\n');
}

/** A quarter circle down to each flat and a quarter circle up from it, by centre and by radius. */
function arcs(): string {
  const lines = ['G17 G21 G40 G49 G54 G61 G80 G90 G94 (arcs down and up)', ...START];
  for (const angle of ANGLES) {
    const [first = 0, ...rest] = heights();
    const from = mm(first + 10);
    lines.push('G90 G0 Z60.', `G0 A${angle}.`, `G0 X${mm(OUT + 10)}`, `G0 Z${from}`);
    // Left and down: the centre is straight below, then straight beside.
    lines.push(`G18 G2 X${mm(OUT)} Z${mm(first)} R10. F${FEED}.`);
    for (const height of [first, ...rest]) lines.push(`G1 Z${mm(height)}`, `X${mm(IN)}`, `X${mm(OUT)}`);
    for (const _ of STROKES) lines.push(`X${mm(IN)}`, `X${mm(OUT)}`);
    lines.push(`G3 X${mm(OUT + 10)} Z${mm(SIZE + 10)} I10. K0.`, 'G17');
  }
  return [...lines, 'G0 Z60.', ...END, 'M2', ''].join('\n');
}

/** Numbered blocks, lower case, codes with a leading zero, many words a block in any order, coordinates only where they change. */
function numbered(): string {
  let n = 0;
  const next = (text: string): string => {
    n += 5;
    return `n${String(n).padStart(4, '0')} ${text}`;
  };
  const lines = [
    next('g90g21g94'),
    next('g17g40g49g80g54 g61'),
    ...START.map((text) => next(text.toLowerCase())),
  ];
  for (const angle of ANGLES) {
    const all = heights();
    lines.push(next('z60.g00'), next(`a${angle}.`), next(`z${mm((all[0] ?? 0) + 1)}`));
    for (const height of all)
      lines.push(next(`f${FEED}.z${mm(height)}g01`), next(`x${mm(IN)}`), next(`x ${mm(OUT)}`));
    for (const _ of STROKES) lines.push(next(`x+${mm(IN)}`), next(`x0${mm(OUT)}`));
  }
  return [...lines, next('g0z60.'), ...END.map((text) => next(text.toLowerCase())), next('m30'), ''].join(
    '\n',
  );
}

describe.each([
  ['by increments', incremental()],
  ['by arcs', arcs()],
  ['numbered, in lower case', numbered()],
])('written by hand %s', (name, text) => {
  test('is good to run, and the judge has nothing against it', () => {
    const { findings, verdict, punch } = checkPrograms([{ name, text }], job);
    expect(findings.filter(({ severity }) => severity === 'error')).toEqual([]);
    expect(verdict).toBe('run');
    expect(punch.flats.length).toBe(ANGLES.length);
    if (name !== 'by arcs') expect(judge(text, job)).toEqual([]);
  });

  test.skipIf(!hasInterpreter)(
    'is read by the interpreter as by our trace (skipped where rs274 is not installed)',
    () => {
      const { x = 0, y = 0, z = 0 } = job.machine.workZero ?? {};
      const theirs = interpret(text, [x, y, z]);
      expect(theirs.error).toBe('none');
      const tracer = createTracer(job.machine);
      const ours = linesOf(text)
        .flatMap((line) => tracer.line(line))
        .filter((row) => row.motion !== undefined);
      expect(tracer.refused()).toBe(false);
      expect(theirs.moves.length).toBe(ours.length);
      expect(ours.length).toBeGreaterThan(100);
      for (const [i, move] of theirs.moves.entries()) {
        const { motion, x: X, y: Y, z: Z, a: A } = ours[i] ?? {};
        if (move.kind === 'arc') expect(motion).toMatch(/^arc/);
        else
          for (const [axis, value] of [X, Y, Z, A].entries()) {
            if (value !== undefined)
              expect(
                Math.abs(value - ([...move.at, ...move.turned][axis] ?? Number.NaN)),
              ).toBeLessThanOrEqual(0.0001);
          }
      }
    },
  );
});
