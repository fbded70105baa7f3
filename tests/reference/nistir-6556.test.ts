/**
 * Source: NISTIR 6556, The NIST RS274NGC Interpreter, Version 3 (Kramer, Proctor, Messina, 17 August 2000):
 * 3.3 format of a line, Table 4 modal groups, Table 8 order of execution, Table 10 and 3.5.3.2 arcs.
 */
import { describe, expect, test } from 'vitest';
import { readLine } from '../../src/check/read/reader.js';
import { createTracer, type TraceRow } from '../../src/check/read/trace.js';
import { readMachine } from '../../src/file/read.js';
import { shippedProfile, wholeUnits } from '../arbitrary/samples.js';

/** The standard's own control: a number without a point is whole units. */
const machine = wholeUnits(readMachine(shippedProfile('bench-mill-rotary')));

function trace(...lines: readonly string[]): readonly TraceRow[] {
  const tracer = createTracer(machine);
  tracer.line('G17');
  return lines.flatMap((line) => tracer.line(line));
}

const words = (line: string): readonly (readonly [string, number])[] | string => {
  const read = readLine(line);
  if (read.kind === 'block') return read.words.map(({ letter, value }) => [letter, value]);
  return read.kind === 'refused' ? read.finding.code : read.kind;
};

describe('3.3 format of a line', () => {
  test.each([
    [
      'g0x +0. 12 34y 7',
      [
        ['G', 0],
        ['X', 0.1234],
        ['Y', 7],
      ],
    ],
    [
      'G01 X5. Y.5 Z-0.8807 F0200',
      [
        ['G', 1],
        ['X', 5],
        ['Y', 0.5],
        ['Z', -0.8807],
        ['F', 200],
      ],
    ],
    [
      'X1 G1',
      [
        ['X', 1],
        ['G', 1],
      ],
    ],
    ['N00010 G21', [['G', 21]]],
    [
      '\tG21 (metric) G90',
      [
        ['G', 21],
        ['G', 90],
      ],
    ],
    ['(only a comment)', []],
    ['', []],
    ['   ', []],
    ['%', 'percent'],
    ['X.', 'number-malformed'],
    ['X--1', 'number-malformed'],
    [
      'X1e3',
      [
        ['X', 1],
        ['E', 3],
      ],
    ],
    ['(a (b) c)', 'comment-nested'],
    ['(a', 'comment-open'],
    [`G21 (${'x'.repeat(251)})`, 'line-too-long'],
    [`G21 (${'x'.repeat(250)})`, [['G', 21]]],
  ] as const)('%s', (line, expected) => expect(words(line)).toEqual(expected));

  test('a block number has up to five digits', () => {
    expect(trace('N99999 G21')[0]?.refused).toBeUndefined();
    expect(trace('N100000 G21')[0]?.refused?.code).toBe('block-number-bad');
    expect(trace('N-1 G21')[0]?.refused?.code).toBe('block-number-bad');
  });

  test('at most four M words, none two of a group; M7 and M8 may both be on, said one after the other', () => {
    expect(trace('S100', 'M3 M7', 'M8')[2]?.coolant).toBe('flood and mist');
    expect(trace('M3 M4')[0]?.refused?.code).toBe('group-twice');
    expect(trace('M3 M8 M48 M0 M1')[0]?.refused?.code).toBe('group-twice');
  });

  test('nothing after M2 or the second % is executed', () => {
    expect(trace('G21', 'G90', 'M2', 'G0 X5').length).toBe(3);
    const tracer = createTracer(machine);
    expect(['%', 'G21', '%', 'G90'].flatMap((line) => tracer.line(line)).length).toBe(1);
  });
});

describe('Table 4, modal groups: two of one group in a block are refused', () => {
  test.each([
    'G0 G1 X1',
    'G17 G18',
    'G90 G91',
    'G93 G94',
    'G20 G21',
    'G98 G99',
    'G54 G54',
    'G61 G61.1',
    'M0 M2',
    'M3 M5',
    'M8 M9',
    'M48 M49',
  ])('%s', (line) => {
    expect(trace('G21', 'G90', line).at(-1)?.refused?.code).toBe('group-twice');
  });
  test('G1 with G4 dwells, then moves, says the standard; other controls only dwell, so it is refused', () => {
    const row = trace('G21', 'G90', 'G0 X0 Y0', 'G0 Z0', 'G1 X1 F100 G4 P1').at(-1);
    expect(row?.refused).toEqual({ code: 'dwell-with-axis', word: 'X1' });
  });
});

describe('Table 8, order of execution', () => {
  test('M0 G1 X1 F100 moves first, then stops', () => {
    expect(trace('G21', 'G90', 'G0 X0 Y0', 'G0 Z0', 'M0 G1 X1 F100').at(-1)).toMatchObject({
      x: 1,
      stop: true,
    });
  });
  test('units said in a block hold for its own axis words', () => {
    expect(trace('G90 G20 G0 X1').at(-1)).toMatchObject({ x: 25.4 });
  });
  test('G91 said in a block holds for its own axis words', () => {
    expect(trace('G21 G90 G0 X2', 'G91 G0 X3').at(-1)).toMatchObject({ x: 5 });
  });
});

describe('3.5.11 machine coordinates', () => {
  test('G53 counts from machine zero for its own block alone, with G0 or G1 and G90', () => {
    // The profile puts work zero at machine X-170, Z-150.
    const rows = trace('G21', 'G90', 'G53 G0 X-150 Y-80', 'G53 G0 Z0', 'G0 X5');
    expect(rows[2]).toMatchObject({ x: 20, y: 0 });
    expect(rows[3]).toMatchObject({ x: 20, z: 150 });
    expect(rows[4]).toMatchObject({ x: 5, z: 150 });
    expect(trace('G21', 'G91', 'G53 G0 X0').at(-1)?.refused?.code).toBe('code-refused');
    expect(trace('G21', 'G90', 'G0 X0 Y0', 'G0 Z0', 'G53 G2 X1 Y0 I0.5 F9').at(-1)?.refused?.code).toBe(
      'code-refused',
    );
  });
});

describe('3.5.3 arcs', () => {
  const start = ['G21', 'G90', 'G17'];
  test('by centre, 3.5.3.2: from X7 Y7, G2 X10 Y16 I3 J4 has its centre at 10, 11', () => {
    const row = trace(...start, 'G0 X7 Y7', 'G0 Z0', 'G2 X10 Y16 I3 J4 F100').at(-1);
    expect(row?.motion).toBe('arc clockwise');
    expect(row?.centre).toEqual([10, 11]);
  });
  test('by radius, Table 10: from X3 Y1 to X0 Y1, R 7.01 has its centre at 1.5, 7.8476', () => {
    const row = trace(...start, 'G0 X3 Y1', 'G0 Z0', 'G2 X0 Y1 R7.01 F20').at(-1);
    expect(row?.centre?.[0]).toBeCloseTo(1.5, 4);
    expect(row?.centre?.[1]).toBeCloseTo(7.8476, 4);
    expect(row?.sweep).toBeLessThan(180);
  });
  test('by radius, R below zero goes the longer way', () => {
    const row = trace(...start, 'G0 X3 Y1', 'G0 Z0', 'G2 X0 Y1 R-7.01 F20').at(-1);
    expect(row?.sweep).toBeGreaterThan(180);
  });
  test('Appendix C.1, N320: a full circle of radius 2.5 is 15.7080 long', () => {
    const row = trace(...start, 'G0 X32.5 Y0', 'G0 Z0', 'G2 X32.5 J2.5 F20').at(-1);
    expect(((row?.sweep ?? 0) / 180) * Math.PI * 2.5).toBeCloseTo(15.708, 4);
  });
  test('Appendix C.1, N190: G3 X13.5 Y0 I-2.5 from X16 Y2.5 sweeps 270 deg', () => {
    const row = trace(...start, 'G0 X16 Y2.5', 'G0 Z0', 'G3 X13.5 Y0 I-2.5 F20').at(-1);
    expect(row?.sweep).toBeCloseTo(270, 9);
  });
  test('radii that differ by more than 0.002 mm are refused', () => {
    expect(trace(...start, 'G0 X0 Y0', 'G0 Z0', 'G2 X2.001 Y0 I1 F9').at(-1)?.refused).toBeUndefined();
    expect(trace(...start, 'G0 X0 Y0', 'G0 Z0', 'G2 X2.01 Y0 I1 F9').at(-1)?.refused?.code).toBe('arc-bad');
  });
});
