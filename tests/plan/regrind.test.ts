/** What face cuts leave of a punch, and the program that makes one, with its own dry run. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { checkFace } from '../../src/check/face.js';
import type { Job } from '../../src/job/job.js';
import { isLathe } from '../../src/job/layout.js';
import { FaceError, planFace } from '../../src/plan/face.js';
import { planJob } from '../../src/plan/plan.js';
import { RegrindError, regrindLife } from '../../src/plan/regrind.js';
import { postFace } from '../../src/post/face.js';
import { radFromDeg } from '../../src/quantity/angle.js';
import { mm } from '../../src/quantity/unit.js';
import { sampleJob, sampleNames } from '../arbitrary/samples.js';

const HEX = 'stem-bolt-hex-5';
const SOCKET = sampleJob(
  HEX,
  ['  section: hex\n', ''],
  ['acrossFlats: 5.06', 'socket: hex 5'],
  ['  tolerance: { plus: 0.015, minus: 0.015 }\n', ''],
  ['flatLength: 10', 'flatLength: 10.18'],
);

describe('the life of a hex 5 punch, 0.15 off its face each time', () => {
  const { rows, least, orbitPerMm } = regrindLife(SOCKET, mm(0.15));

  test.each([
    // Source: worked by hand, AF - 2 c k tan 2.5 deg, AF / cos 30 deg, L - c k, min(1.5 AF, 0.9 L).
    [0, 0, 5.092, 5.88, 10.18, 7.64],
    [1, 0.15, 5.079, 5.865, 10.03, 7.62],
    [2, 0.3, 5.066, 5.85, 9.88, 7.6],
    [3, 0.45, 5.053, 5.834, 9.73, 7.58],
    [4, 0.6, 5.04, 5.819, 9.58, 7.56],
    [5, 0.75, 5.027, 5.804, 9.43, 7.54],
  ])('regrind %i', (number, off, across, corners, length, depth) => {
    const row = rows[number];
    expect(row?.off).toBeCloseTo(off, 9);
    expect(row?.size).toBeCloseTo(across, 3);
    expect(Math.abs(Number(row?.acrossCorners) - corners)).toBeLessThan(0.0011);
    expect(row?.flatLength).toBeCloseTo(length, 9);
    expect(Math.abs((row?.depth ?? 0) - depth)).toBeLessThan(0.0051);
  });

  test('the fifth is the last: a sixth is under the least the socket may be', () => {
    expect(rows).toHaveLength(6);
    expect(least).toBeCloseTo(5.02, 9);
    expect((rows[5]?.size ?? 0) - 0.3 * Math.tan(radFromDeg(2.5))).toBeLessThan(least);
  });

  test('the tip runs on a circle of 0.035 for each millimetre it is short: 2 sin 1 deg', () => {
    expect(orbitPerMm).toBeCloseTo(0.0349, 4);
  });

  test('a dish of 3 deg is AC / 2 tan 3 deg deep', () => {
    const { dish } = regrindLife(SOCKET, mm(0.15), 'as ground', radFromDeg(3));
    expect(dish === 'none' ? 0 : dish.depth).toBeCloseTo((5.88 / 2) * Math.tan(radFromDeg(3)), 3);
  });

  test('measured smaller it has fewer left; under the least it has none, by name', () => {
    expect(regrindLife(SOCKET, mm(0.15), mm(5.04)).rows).toHaveLength(2);
    expect(() => regrindLife(SOCKET, mm(0.15), mm(5))).toThrow(RegrindError);
    expect(() => regrindLife(sampleJob('axle-key-double-d'), mm(0.15))).toThrow(/free section/);
  });

  test('a new punch is as large as it is ground, not as ordered, and nothing is off its face for being small', () => {
    // Source: derived; 8.080 less 0.02 at most is aimed at 8.070; a cut of 0.15 at 2.5 deg takes 0.0131, under the least of 8.060.
    const crank = regrindLife(sampleJob('crank-bolt-hex-8'), mm(0.15));
    expect(crank.rows).toHaveLength(1);
    expect(crank.rows[0]).toMatchObject({ off: 0, size: expect.closeTo(8.07, 9) });
    const small = regrindLife(SOCKET, mm(0.15), mm(5.04));
    expect(small.rows[0]).toMatchObject({ off: 0, flatLength: 10.18 });
    const reground = regrindLife(SOCKET, mm(0.15), mm(5.04), 'none', mm(0.6));
    expect(reground.rows[0]).toMatchObject({ off: 0.6, flatLength: expect.closeTo(9.58, 9) });
  });

  test('no row is under the least, none longer than its flats, whatever the cut', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.02, max: 3, noNaN: true }), (cut) => {
        const life = regrindLife(SOCKET, mm(cut));
        for (const row of life.rows) {
          expect(row.size).toBeGreaterThanOrEqual(life.least - 1e-9);
          expect(row.flatLength).toBeGreaterThan(0);
        }
      }),
    );
  });
});

const CUT = mm(0.15);
const mills = sampleNames.filter((name) => !isLathe(sampleJob(name).machine.layout));
const faceText = (job: Job): string => postFace(planJob(job), planFace(job, CUT)).text;
const codes = (text: string, job: Job): readonly string[] =>
  checkFace(text, 'f.nc', job, CUT).findings.map(({ code }) => code);

describe('the program that cuts a face', () => {
  test.each(mills)('%s: good, and the face comes out at the cut', (name) => {
    const job = sampleJob(name);
    const report = checkFace(faceText(job), 'f.nc', job, CUT);
    expect(report.findings).toEqual([]);
    expect(Math.abs(report.off - CUT)).toBeLessThan(0.0015);
  });

  test('a lathe has no place for it, and says what to do instead', () => {
    expect(() => planFace(sampleJob('pedal-pin-pentagon-lathe'), CUT)).toThrow(FaceError);
  });

  test('the outer edge of the rim passes the far side of the blank by the clearance', () => {
    const job = sampleJob(HEX);
    const { start, end } = planFace(job, CUT);
    // Source: centre to edge 37.5, blank 4, clearance 3.
    expect(start).toBeCloseTo(-(37.5 + 4 + 3), 9);
    expect(end + 37.5).toBeCloseTo(4 + 3, 9);
  });

  test.each<[string, (text: string) => string, string]>([
    [
      'an infeed five times as deep',
      (text) => text.replace('G1 Z-0.060\n', 'G1 Z-0.110\n'),
      'stroke-too-deep',
    ],
    [
      'a rapid over the face',
      (text) => text.replace('G1 X-30.500\nG1 X-44.500\nG1 Z-0.050', 'G0 X-30.500\nG1 X-44.500\nG1 Z-0.050'),
      'rapid-in-stock',
    ],
    [
      'an infeed on the metal',
      (text) => text.replace('G1 X-44.500\nG1 Z-0.050', 'G1 Z-0.050\nG1 X-44.500'),
      'infeed-in-stock',
    ],
    [
      'strokes that end on the face',
      (text) => text.replaceAll('G1 X-30.500', 'G1 X-36.000'),
      'stroke-stays-inside',
    ],
    ['beside the middle', (text) => text.replace('Y0.000', 'Y2.000'), 'stroke-off-centre'],
    [
      'a rapid at an unknown place, under the face',
      (text) => text.replace('G53 G0 Z-5.000', 'G0 Z-5.000'),
      'start-unknown',
    ],
    [
      'a slanting feed from beside to beside',
      (text) => text.replace('G0 Z28.000', 'G1 X-60.000\nG1 X60.000 Z-9.000\nG0 Z28.000'),
      'infeed-in-stock',
    ],
    [
      'a rapid across beside the axis',
      (text) =>
        text.replace(
          'G0 Z28.000',
          'G0 X-60.000\nG0 Z-0.160\nG0 Y-80.000\nG0 X-10.000\nG0 Y80.000\nG0 Z28.000',
        ),
      'rapid-in-stock',
    ],
    [
      'an infeed far down beside it',
      (text) => text.replace('G1 X-30.500\n', 'G1 Z-60.000\nG1 X-30.500\n'),
      'wheel-meets-fixture',
    ],
    ['hands in before the wheel stands', (text) => text.replace('\nM5\n', '\nM5\nM0\n'), 'coast-down-short'],
    ['no speed said', (text) => text.replace('S4000\n', ''), 'speed-missing'],
    ['too slow a wheel', (text) => text.replace('S4000', 'S400'), 'speed-not-ordered'],
    ['coolant nobody ordered', (text) => text.replace('\nM3\n', '\nM3\nM8\n'), 'coolant-unwanted'],
    [
      'an end on the face',
      (text) => text.replace(/G0 Z28\.000\n(?!.*G0 Z28)/, 'G1 X-30.500\n'),
      'end-near-work',
    ],
    ['modes left as they were', (text) => text.replace('G54\n', ''), 'mode-unsaid'],
    ['no wait for the wheel', (text) => text.replace('M3\nG4 P5.0\n', 'M3\n'), 'spin-up-short'],
    ['the wheel off', (text) => text.replace('M3\nG4 P5.0\n', ''), 'wheel-not-turning'],
    ['the wrong way round', (text) => text.replace('\nM3\n', '\nM4\n'), 'wheel-turns-backward'],
    ['too fast a wheel', (text) => text.replace('S4000', 'S5200'), 'speed-over-rating'],
    ['too fast a stroke', (text) => text.replace('F1200.0', 'F1500.0'), 'stroke-too-fast'],
    ['the wheel left on', (text) => text.replace(/\nM5\n.*\n/, '\n'), 'end-while-turning'],
    ['no coast-down', (text) => text.replace(/\nM5\n.*\n/, '\nM5\n'), 'hands-before-rest'],
    ['the last infeed left out', (text) => text.replaceAll('G1 Z-0.150\n', ''), 'face-off'],
    ['no end', (text) => text.replace('M30', ''), 'end-missing'],
    [
      'a first move along, at a height nobody knows',
      (text) => text.replace('G53 G0 Z-5.000\nG0 X-44.500 Y0.000', 'G1 X-44.500 Y0.000 F100'),
      'start-unknown',
    ],
  ])('%s is refused', (_, change, code) => {
    const job = sampleJob(HEX);
    const text = faceText(job);
    expect(change(text)).not.toBe(text);
    expect(codes(change(text), job)).toContain(code);
  });
});
