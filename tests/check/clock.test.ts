/**
 * The clock of the dry run, by feeds and lengths worked out beside each row (t = L / F), and against the plan's own
 * forecast, which shares no code with it.
 */
import { describe, expect, test } from 'vitest';
import { playPrograms } from '../../src/check/playback.js';
import { planJob } from '../../src/plan/plan.js';
import { sampleJob, sampleNames } from '../arbitrary/samples.js';
import { samplePrograms } from '../scripts/sample-programs.js';

const HEX = 'stem-bolt-hex-5';
const clockOf = (...lines: readonly string[]): number => {
  const text = ['G21 G17 G90 G94 G54', 'G0 Z60.0', 'G0 X60.0 Y0.0 A0.0', ...lines, 'M30', ''].join('\n');
  const before = ['G21 G17 G90 G94 G54', 'G0 Z60.0', 'G0 X60.0 Y0.0 A0.0', 'M30', ''].join('\n');
  const end = (program: string) =>
    playPrograms([{ name: 'p.nc', text: program }], sampleJob(HEX)).steps.at(-1)?.clock ?? 0;
  return end(text) - end(before);
};

describe('how long a block takes', () => {
  test.each([
    ['a feed: 30 mm at 600 mm/min', ['G1 X90.0 F600'], 3],
    ['along the path: 30 and 40 make 50 mm', ['G1 X90.0 Y40.0 F600'], 5],
    ['a half circle of radius 20: 20 pi mm', ['G2 X100.0 I20.0 F600'], (60 * 20 * Math.PI) / 600],
    [
      'a helix: hypot(20 pi, 15) mm',
      ['G2 X100.0 Z75.0 I20.0 F600'],
      (60 * Math.hypot(20 * Math.PI, 15)) / 600,
    ],
    ['a dwell', ['G4 P2.5'], 2.5],
    ['a stop counts nothing: hands take what they take', ['M0'], 0],
  ])('%s', (_, lines, expected) => {
    expect(clockOf(...lines)).toBeCloseTo(expected, 6);
  });

  test('a rapid runs at the rapid speed of the machine, a turn at its own', () => {
    const { rapid, rotary } = sampleJob(HEX).machine;
    expect(clockOf('G0 X90.0')).toBeCloseTo((60 * 30) / rapid, 6);
    expect(clockOf('G0 A90.0')).toBeCloseTo((60 * 0.25) / (rotary?.turnsPerMinute ?? 0), 6);
  });
});

test.each(sampleNames)(
  '%s: the clock at the end is the time the plan tells, within 3 hundredths and half a minute',
  (name) => {
    const job = sampleJob(name);
    const told = planJob(job).totals.running;
    const programs = samplePrograms(name).map(({ text }, i) => ({ name: `${i}.nc`, text }));
    const ran = playPrograms(programs, job).steps.at(-1)?.clock ?? 0;
    expect(Math.abs(ran - told)).toBeLessThan(0.03 * told + 30);
  },
);
