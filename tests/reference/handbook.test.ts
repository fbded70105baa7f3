/**
 * Geometry and set-up arithmetic against printed tables. Each block names its source; `budget` is half the
 * last printed digit unless the source rounds in mid-work.
 */
import { describe, expect, test } from 'vitest';
import { crank } from '../../src/job/indexing.js';
import { planJob } from '../../src/plan/plan.js';
import { radFromDeg } from '../../src/quantity/angle.js';
import { M_PER_S_PER_SFPM, surfaceSpeed } from '../../src/quantity/speed.js';
import { mm, mPerS, revPerMin } from '../../src/quantity/unit.js';
import { blankSpan } from '../../src/section/blank.js';
import { acrossCorners, flatToCorner } from '../../src/section/corner.js';
import { atDepth, regularSection } from '../../src/section/flat.js';
import { corners } from '../../src/section/polygon.js';
import { sagitta } from '../../src/wheel/rim.js';
import { sampleJob } from '../arbitrary/samples.js';

const near = (value: number, expected: number, budget: number): void => {
  expect(Math.abs(value - expected), `${value} against ${expected}`).toBeLessThanOrEqual(budget);
};

describe("Machinery's Handbook, 31st ed., p. 82, Area, Length of Side, and Radii of Regular Polygons", () => {
  // n, R/r, S/r, A/r2 as printed.
  test.each([
    [3, 2.0, 3.4641, 5.1962],
    // biome-ignore lint/suspicious/noApproximativeNumericConstant: printed so in the table
    [4, 1.4142, 2.0, 4.0],
    [5, 1.2361, 1.4531, 3.6327],
    [6, 1.1547, 1.1547, 3.4641],
    [8, 1.0824, 0.8284, 3.3137],
    [12, 1.0353, 0.5359, 3.2154],
  ])('%i sides: corner radius, side and area by clipping', (sides, radius, side, area) => {
    const points = corners(regularSection(sides, mm(1)));
    expect(points.length).toBe(sides);
    const [a = { y: 0, z: 0 }, b = { y: 0, z: 0 }] = points;
    near(Math.hypot(a.y, a.z), radius, 0.00005);
    near(Math.hypot(a.y - b.y, a.z - b.z), side, 0.00005);
    const shoelace = points.reduce((sum, p, i) => {
      const q = points[(i + 1) % sides] ?? p;
      return sum + (p.y * q.z - q.y * p.z) / 2;
    }, 0);
    near(Math.abs(shoelace), area, 0.00005);
    near(acrossCorners(mm(2), sides) / 2, radius, 0.00005);
  });
});

describe('odd sections, derived from the same table: flat to corner is R + r', () => {
  test.each([
    [3, 3.0],
    [5, 2.2361],
  ])('%i sides', (sides, height) => near(flatToCorner(mm(1), sides), height, 0.0001));
});

test('Engineering ToolBox, Hexagons and Squares, Diagonal Lengths: flats 0.4 give corners 0.462', () => {
  near(acrossCorners(mm(0.4), 6), 0.462, 0.0005);
});

describe("Machinery's Handbook, 31st ed., pp. 50 and 79, Segments of a Circle", () => {
  test.each([
    // radius, depth of segment, printed chord, budget of the printed working
    [60, 8, 59.86, 0.02],
    [12, 2, 13.27, 0.02],
  ])('radius %f, depth %f: chord %f', (radius, depth, chord, budget) => {
    const blank = { shape: 'round', size: mm(2 * radius), turned: radFromDeg(0) } as const;
    const span = blankSpan(blank, radFromDeg(0), mm(radius - depth));
    if (span === 'none') throw new Error('the chord exists');
    near(span.to - span.from, chord, budget);
    // The rim's sagitta is the same segment read the other way.
    near(sagitta(mm(radius), span.to), depth, 1e-9);
  });
  test('chord 16 and depth 6: radius 8 1/3, printed', () => {
    near(sagitta(mm(25 / 3), mm(8)), 6, 1e-9);
  });
});

describe("Mechanical Engineer's Data Handbook, 7.2.3: sine bar height = L sin t, heights recomputed", () => {
  test.each([
    ['1 deg', 100, 1.7452],
    ['1.5 deg', 100, 2.6177],
    ['2 deg', 100, 3.4899],
    ['3 deg', 100, 5.2336],
    ['5 deg', 100, 8.7156],
    ['2 deg', 200, 6.9799],
    ['1 deg', 200, 3.4905],
  ])('%s on %i mm', (relief, bar, height) => {
    const job = sampleJob(
      'stem-bolt-hex-5',
      ['relief: 2.5 deg', `relief: ${relief}`],
      ['sineBar: 100', `sineBar: ${bar}`],
    );
    near(Number(planJob(job).sineBarHeight), height, 0.00005);
  });
  test('5 in bar at 3 deg: 0.26168 in', () => {
    const job = sampleJob('seat-clamp-hex-quarter-inch', ['relief: 2 deg', 'relief: 3 deg']);
    near(Number(planJob(job).sineBarHeight) / 25.4, 0.26168, 0.000005);
  });
});

describe('dividing head 40:1: US Navy NAVEDTRA 14345, "Plain indexing"; US Army OD1644', () => {
  const CLASSIC = [15, 16, 17, 18, 19, 20, 21, 23, 27, 29, 31, 33, 37, 39, 41, 43, 47, 49];
  test.each([
    // divisions, circle forced by the printed answer, turns, holes
    [6, 39, 6, 26],
    [6, 18, 6, 12],
    [8, 15, 5, 0],
    [14, 49, 2, 42],
    [18, 18, 2, 4],
    [3, 15, 13, 5],
    [5, 15, 8, 0],
    [12, 39, 3, 13],
  ])('%i divisions on the %i circle: %i turns and %i holes', (divisions, circle, turns, holes) => {
    expect(crank(360 / divisions, 40, [circle])).toEqual({ kind: 'crank', turns, holes, circle });
  });
  test.each([
    ['US Army OD1644: 1 deg is 2 holes on 18', 1, 18, 0, 2],
    ['1916 edition: 35 deg is 3 turns and 16 holes on 18', 35, 18, 3, 16],
    ['1916 edition: 11.5 deg is 1 turn and 5 holes on 18', 11.5, 18, 1, 5],
  ])('%s', (_, stepDeg, circle, turns, holes) => {
    expect(crank(stepDeg, 40, [circle])).toEqual({ kind: 'crank', turns, holes, circle });
  });
  test('"A Practical Treatise on Milling", pp. 80-81: every division up to 50, of the even ones to 100 only 96 not', () => {
    const can = (divisions: number): boolean => crank(360 / divisions, 40, CLASSIC) !== 'cannot';
    for (let divisions = 2; divisions <= 50; divisions += 1)
      expect(can(divisions), `${divisions}`).toBe(true);
    const evenGaps = Array.from({ length: 25 }, (_, i) => 52 + 2 * i).filter((divisions) => !can(divisions));
    expect(evenGaps).toEqual([96]);
  });
});

describe('surface speed, v = pi D n / 60000, identity', () => {
  test.each([
    [100, 3000, 15.708],
    [100, 5730, 30.002],
    [75, 6000, 23.562],
    [125, 3820, 25.002],
    [6 * 25.4, 1000, 7.98],
  ])('%f mm at %i rev/min: %f m/s', (diameter, speed, surface) => {
    near(surfaceSpeed(mm(diameter), revPerMin(speed)), surface, 0.001);
  });
  test('6 in at 1000 rev/min: 1570.8 surface feet per minute', () => {
    near(surfaceSpeed(mm(152.4), revPerMin(1000)) / M_PER_S_PER_SFPM, 1570.8, 0.05);
    expect(mPerS(M_PER_S_PER_SFPM)).toBeCloseTo(0.00508, 12);
  });
});

test('relief b over length L narrows the flats by 2 L tan b: 10 mm at 1.5 deg is 0.5237 mm (derived)', () => {
  const [front, , , back] = regularSection(6, mm(3));
  const behind = atDepth(regularSection(6, mm(3)), mm(10), radFromDeg(1.5));
  near(
    (front?.distance ?? 0) + (back?.distance ?? 0) - (behind[0]?.distance ?? 0) - (behind[3]?.distance ?? 0),
    0.5237,
    0.00005,
  );
});

describe('rotary broaching practice', () => {
  test('encyclopedia article "Broach", wobble broaching: relief at least the tilt; 0.9 deg in a 1 deg head is refused', () => {
    const plan = planJob(sampleJob('stem-bolt-hex-5', ['relief: 2.5 deg', 'relief: 0.9 deg']));
    expect(plan.findings.map(({ code }) => code)).toContain('relief-below-tilt');
  });
  test('common practice, no source: head tilt 1 deg is the default, relief of 2 to 3 deg passes without a word', () => {
    for (const relief of ['2 deg', '2.5 deg', '3 deg']) {
      const job = sampleJob(
        'stem-bolt-hex-5',
        ['relief: 2.5 deg', `relief: ${relief}`],
        ['  headTilt: 1 deg\n', ''],
      );
      expect((job.punch.headTilt * 180) / Math.PI).toBeCloseTo(1, 12);
      expect(planJob(job).findings).toEqual([]);
    }
  });
});
