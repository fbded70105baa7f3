/** Dressing on a diamond at a known place: where the rim runs, what comes off it, and what its dry run refuses. */
import { describe, expect, test } from 'vitest';
import { checkDress } from '../../src/check/dress.js';
import type { Job } from '../../src/job/job.js';
import { DressError, planDress } from '../../src/plan/dress.js';
import { planJob } from '../../src/plan/plan.js';
import { postDress } from '../../src/post/dress.js';
import { mm } from '../../src/quantity/unit.js';
import { sampleJob, sampleNames } from '../arbitrary/samples.js';

/** A sample with a diamond well past the tip, a little under the tool axis; its way along is the layout's. */
function withDiamond(name: string): Job {
  const job = sampleJob(name);
  const far = job.wheel.radius + 40;
  const along = {
    'mill, tool along +Y': { x: 0, y: far },
    'mill, tool along -Y': { x: 0, y: -far },
  } as const;
  const x = job.machine.layout === 'mill, tool along -X' ? -far : far;
  const counts = job.machine.layout === 'lathe, X as diameter' ? 2 : 1;
  const place = along[job.machine.layout as keyof typeof along] ?? { x: x * counts, y: 0 };
  return {
    ...job,
    holding: { ...job.holding, diamond: { x: mm(place.x), y: mm(place.y), z: mm(-4) } },
    // Room for it, whatever the profile says.
    machine: {
      ...job.machine,
      workZero: undefined,
      program: { ...job.machine.program, machineRetract: 'none' },
    },
  };
}

const level = sampleNames.filter((name) => sampleJob(name).holding.slope.by === 'fixture');
const textOf = (job: Job): string => postDress(planJob(job), planDress(job, 3, mm(0.01))).text;
const codes = (text: string, job: Job): readonly string[] =>
  checkDress(text, 'd.nc', job, mm(0.03)).findings.flatMap(({ code, severity }) =>
    severity === 'error' ? [code] : [],
  );

describe('the program', () => {
  test.each(level)('%s: good, and three hundredths come off the rim', (name) => {
    const job = withDiamond(name);
    const report = checkDress(textOf(job), 'd.nc', job, mm(0.03));
    expect(report.findings.filter(({ severity }) => severity === 'error')).toEqual([]);
    expect(report.off).toBeCloseTo(0.03, 3);
  });

  test('the rim crosses the point from outside to inside: centre 38.5 to 28.5 from it, at 0.03 a turn', () => {
    // Source: wheel 75, rim 8: 37.5 + 1 and 37.5 - 8 - 1; 0.03 x 4000 = 120 mm/min.
    const job = withDiamond('stem-bolt-hex-5');
    const { point, outside, inside, feed, levels } = planDress(job, 3, mm(0.01));
    expect(outside - point.u).toBeCloseTo(38.5, 9);
    expect(inside - point.u).toBeCloseTo(28.5, 9);
    expect(feed).toBeCloseTo(120, 9);
    expect(levels.map((w) => Number((w - point.w).toFixed(6)))).toEqual([-0.01, -0.02, -0.03, -0.03]);
  });

  test('its head says by how much the offset falls', () => {
    expect(textOf(withDiamond('stem-bolt-hex-5')).replaceAll(/\)\n\(- /g, ' ')).toContain(
      'THEN LOWER THE ZERO ONCE: ADD -0.030 MM TO Z OF G54; THE RIM RUNS AT THE POINT NOW, TOUCH NOTHING OFF',
    );
  });

  test.each([
    [
      'without a diamond',
      (job: Job) => planDress(sampleJob(job.title.replaceAll(' ', '-')), 3, mm(0.01)),
      /holding\.diamond/,
    ],
    ['too deep', (job: Job) => planDress(job, 3, mm(0.05)), /0\.03 mm at most/],
    ['with the head tilted', () => planDress(withDiamond('crank-bolt-hex-8'), 3, mm(0.01)), /dress by hand/],
  ])('%s it is refused by name', (_, make, said) => {
    expect(() => make(withDiamond('stem-bolt-hex-5'))).toThrow(said);
    expect(() => make(withDiamond('stem-bolt-hex-5'))).toThrow(DressError);
  });
});

describe('what the dry run refuses', () => {
  test.each<[string, (text: string) => string, string]>([
    ['a pass five times as deep', (text) => text.replace('G1 Z-4.020', 'G1 Z-4.060'), 'stroke-too-deep'],
    ['another number to type', (text) => text.replaceAll('ADD -0.030', 'ADD -0.300'), 'rim-off'],
    ['its sign the wrong way round', (text) => text.replaceAll('ADD -0.030', 'ADD +0.030'), 'rim-off'],
    [
      'a rapid beside the axis through the diamond',
      (text) =>
        text.replace(
          'G1 Z-4.010 F120.0',
          'G0 Y-60.000\nG0 X90.000\nG0 Z-20.000\nG0 Y60.000\nG0 Z5.000\nG0 X116.000\nG0 Y0.000\nG1 Z-4.010 F120.0',
        ),
      'infeed-in-stock',
    ],
    ['too slow a wheel', (text) => text.replace('S4000', 'S400'), 'speed-not-ordered'],
    ['no wait until it runs', (text) => text.replace(/\nM3\nG4 P\S+/, '\nM3'), 'spin-up-short'],
    ['a pass left out', (text) => text.replace(/G1 Z-4\.030\n/, ''), 'rim-off'],
    [
      'a rapid over the point',
      (text) => text.replace(/(G1 Z-4\.010 F\S+\n)G1 X/, '$1G0 X'),
      'infeed-in-stock',
    ],
    ['a plunge onto the point', (text) => text.replace(/G0 X116\.000/, 'G0 X112.000'), 'infeed-in-stock'],
    ['the wheel at rest', (text) => text.replace(/\nM3\nG4 P\S+/, ''), 'wheel-not-turning'],
    ['a wheel faster than its mark', (text) => text.replace('S4000', 'S6000'), 'speed-over-rating'],
    ['strokes that would not dress', (text) => text.replace('F120.0', 'F1200.0'), 'feed-over-machine'],
    [
      'a move into the punch',
      (text) => text.replace('G1 Z-4.010 F120.0', 'G1 X30.000 F120.0\nG1 Z-4.010'),
      'stroke-too-deep',
    ],
  ])('%s', (_, change, code) => {
    const job = withDiamond('stem-bolt-hex-5');
    const text = textOf(job);
    expect(change(text)).not.toBe(text);
    expect(codes(change(text), job)).toContain(code);
  });

  test('a job without a diamond says nothing of where it stands', () => {
    const text = textOf(withDiamond('stem-bolt-hex-5'));
    expect(codes(text, sampleJob('stem-bolt-hex-5'))).toContain('diamond-unknown');
  });
});
