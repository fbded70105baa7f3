/**
 * Sources, beside each check:
 *  - Machinery's Handbook, 31st ed., p. 50 (segment of a circle) and p. 82 (regular polygons).
 *  - "Abrasive formulas", a student formula sheet, grinding example, forces recomputed from its own figures.
 *  - manifold-3d (npm) for the volume the plan's passes remove.
 *  - closed forms of statistics: the normal distribution (Abramowitz & Stegun 26.2.17, from memory).
 */
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import Module from 'manifold-3d';
import { describe, expect, test } from 'vitest';
import { readDrills } from '../../src/file/drill-table.js';
import { findSocket } from '../../src/file/socket-table.js';
import { nearestDrill } from '../../src/job/drill.js';
import { causesOf, errorBudget, grindingOf, TERMS, type Term } from '../../src/plan/error/budget.js';
import {
  centreOffset,
  type Errors,
  heldGradient,
  heldSize,
  noErrors,
  realPunch,
} from '../../src/plan/error/model.js';
import { simulate } from '../../src/plan/error/simulate.js';
import { loadOf } from '../../src/plan/load.js';
import { type Plan, planJob } from '../../src/plan/plan.js';
import { bendingAt, pressing, type WorkName } from '../../src/plan/press.js';
import { planSize } from '../../src/plan/size.js';
import { surfaceSpeed } from '../../src/quantity/speed.js';
import { jPerMm3, mm, mm3, mmPerMin, newton, rad, revPerMin } from '../../src/quantity/unit.js';
import { regularSection } from '../../src/section/flat.js';
import { shiftRows } from '../../src/section/shift.js';
import { flatLost, regularStrength, shareOutsideHole } from '../../src/section/strength.js';
import { layerArea, layerVolume } from '../../src/wheel/layer.js';
import { rimLoss } from '../../src/wheel/wear.js';
import { sampleJob, sampleNames, shippedTexts } from '../arbitrary/samples.js';

const HEX = 'stem-bolt-hex-5';
const passes = (plan: Plan) => plan.steps.flatMap((step) => (step.kind === 'pass' ? [step] : []));

describe('layers', () => {
  const round = (size: number) => ({ shape: 'round', size: mm(size), turned: rad(0) }) as const;

  test("a segment 2 deep on R = 12 has an area of 18.00622: Machinery's Handbook p. 50 prints 18.01", () => {
    const stage = { blank: round(24), flats: [], slope: rad(0.03) };
    const layer = { at: rad(0.4), from: mm(Number.POSITIVE_INFINITY), to: mm(10) };
    expect(layerArea(stage, layer, mm(0))).toBeCloseTo(18.00622, 4);
  });

  test('thin layers add up to the segment they make', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 30, noNaN: true }),
        fc.double({ min: 0.05, max: 0.9, noNaN: true }),
        fc.integer({ min: 1, max: 40 }),
        (radius, share, count) => {
          const stage = { blank: round(2 * radius), flats: [], slope: rad(0.04) };
          const depth = share * radius;
          let sum = 0;
          for (let i = 0; i < count; i += 1) {
            const [from, to] = [radius - (depth * i) / count, radius - (depth * (i + 1)) / count];
            sum += layerArea(stage, { at: rad(0), from: mm(from), to: mm(to) }, mm(0));
          }
          const s = radius - depth;
          const segment = radius ** 2 * Math.acos(s / radius) - s * Math.sqrt(radius ** 2 - s ** 2);
          expect(Math.abs(sum / segment - 1)).toBeLessThan(2e-4);
        },
      ),
      { endOnFailure: true },
    );
  });

  test('flats cut before narrow the layer: the last flat of a hexagon from R = AC / 2 takes a triangle less', () => {
    // Source: derived; between two flats of a hexagon of r = 1 the layer at distance d is 2 tan(30 deg) wide at d = 1.
    const flats = [60, 300].map((deg) => ({ at: rad((deg * Math.PI) / 180), distance: mm(1) }));
    const stage = { blank: round(4), flats, slope: rad(1e-9) };
    const area = layerArea(stage, { at: rad(0), from: mm(1.1), to: mm(1) }, mm(0));
    // Width 2 (2 - d) tan 30 / ... at d: the flats at 60 deg cut v <= (1 - d cos 60) / sin 60.
    const width = (d: number): number => (2 * (1 - d * 0.5)) / Math.sin(Math.PI / 3);
    expect(area).toBeCloseTo((0.1 * (width(1) + width(1.1))) / 2, 6);
  });

  test.each([HEX, 'bearing-cap-square-8', 'axle-key-double-d', 'crank-bolt-hex-8'])(
    'the passes of %s remove what the same cuts made with manifold-3d remove',
    async (name) => {
      const solid = await Module();
      solid.setup();
      const sample = sampleJob(name);
      // A straight shoulder: every pass of a flat ends where its last one does.
      const job = { ...sample, grinding: { ...sample.grinding, shoulder: rad(0) } };
      const plan = planJob(job);
      const hex = job.blank.shape === 'hex';
      const radius = job.blank.size / 2 / (hex ? Math.cos(Math.PI / 6) : 1);
      const blank = solid.CrossSection.circle(radius, hex ? 6 : 720)
        .rotate(hex ? 30 : 0)
        .extrude(job.blank.stickOut)
        .rotate([0, -90, 0]);
      const tools = plan.flats.map((flat) => {
        const circle = solid.CrossSection.circle(job.wheel.radius, 360);
        return solid.CrossSection.hull([circle.translate([flat.centreEnd, 0]), circle.translate([90, 0])])
          .extrude(40)
          .translate([0, 0, flat.w])
          .rotate([0, (-job.punch.relief * 180) / Math.PI, 0])
          .rotate([(flat.at * 180) / Math.PI, 0, 0]);
      });
      const removed = blank.volume() - solid.Manifold.difference([blank, ...tools]).volume();
      const planned = passes(plan).reduce((sum, { pass }) => sum + pass.load.volume, 0);
      expect(Math.abs(planned / removed - 1)).toBeLessThan(0.003);
    },
  );
});

describe('loads', () => {
  test('the grinding example of the formula sheet: 32.774 mm3/s, 1342 W, 25.23 N, 53.20 m/s', () => {
    // D 10 in at 4000 rev/min, 1 in wide, 0.002 in deep, 60 in/min, 15 hp min/in3 = 40.955 J/mm3.
    const rate = (25.4 * 0.0508 * 1524) / 60;
    const speed = surfaceSpeed(mm(254), revPerMin(4000));
    expect(rate).toBeCloseTo(32.774, 3);
    expect(rate * 40.955).toBeCloseTo(1342.3, 0);
    expect(speed).toBeCloseTo(53.2, 2);
    expect((rate * 40.955) / speed).toBeCloseTo(25.23, 2);
    // The same cut through our own: a square bar 1 in wide, its layer 0.002 in thick, at 60 in/min and 40.955 J/mm3.
    const sample = sampleJob(HEX);
    const job = {
      ...sample,
      blank: { ...sample.blank, shape: 'square', size: mm(25.4) },
      punch: { ...sample.punch, relief: rad(1e-9) },
      wheel: { ...sample.wheel, diameter: mm(254), radius: mm(127) },
      grinding: {
        ...sample.grinding,
        strokeSpeed: mmPerMin(1524),
        spindleSpeed: revPerMin(4000),
        shoulder: rad(0),
      },
      figures: { ...sample.figures, energy: { ...sample.figures.energy, most: jPerMm3(40.955) } },
    } as const;
    const stage = { blank: job.blank, flats: [], slope: job.punch.relief };
    const flat = {
      number: 1,
      at: rad(0),
      distance: mm(12),
      w: mm(12),
      lengthEnd: mm(-10),
      halfWidth: mm(12.7),
      centreEnd: mm(117),
      reach: mm(-10),
      stockTop: mm(12.7),
      stock: mm(0.7),
      stands: false,
      higher: mm(0),
    };
    const load = loadOf(job, flat, stage, { level: mm(12.1 - 0.0508), before: mm(12.1) });
    expect(load.width).toBeCloseTo(25.4, 6);
    expect(load.removalRate).toBeCloseTo(32.774, 3);
    expect(load.power).toBeCloseTo(1342.3, 0);
    expect(load.force).toBeCloseTo(25.23, 2);
    expect(load.specific).toBeCloseTo(0.0508 * 25.4, 6);
    expect(load.chip).toBeCloseTo((0.0508 * 25.4) / 53_198, 9);
    expect(load.engaged).toBeCloseTo(10, 6);
  });

  test('a bite of 0.010 at 1200 mm/min is 0.20 mm3 a second on each millimetre', () => {
    // Source: identity Q' = a v.
    const plan = planJob(sampleJob(HEX, ['roughInfeed: 0.02', 'roughInfeed: 0.01']));
    expect(plan.loads.rough).toMatchObject({ specific: expect.closeTo(0.2, 9) });
  });

  test('the first flat under a held limit: every stroke within it, by circular segments', () => {
    // Source: Machinery's Handbook, 31st ed., p. 50; the first flat meets a round blank with nothing cut.
    const limit = 1;
    const job = sampleJob(HEX, ['sparkOut: 3', `sparkOut: 3\n  limit: { removalRate: ${limit} }`]);
    const plan = planJob(job);
    const t = job.punch.relief;
    const R = job.blank.size / 2;
    const first = passes(plan).filter(({ flat, pass }) => flat.number === 1 && pass.kind === 'rough');
    const end = (level: number, reach: number): number => level * Math.sin(t) - reach * Math.cos(t);
    const segment = (s: number): number =>
      s >= R ? 0 : R * R * Math.acos(s / R) - s * Math.sqrt(R * R - s * s);
    const rates = first.slice(1).map(({ flat, pass }, i) => {
      const before = first[i]?.pass.level ?? 0;
      const depth = end(pass.level, flat.reach);
      const at = (level: number): number => level / Math.cos(t) - depth * Math.tan(t);
      return (segment(at(pass.level)) - segment(at(before))) * (job.grinding.strokeSpeed / 60);
    });
    expect(Math.max(...rates)).toBeLessThanOrEqual(limit * 1.02);
    // Held, not merely kept: the passes in full width come as near as whole micrometres let them.
    const infeeds = first.slice(1).map(({ pass }, i) => (first[i]?.pass.level ?? 0) - pass.level);
    expect(Math.max(...infeeds)).toBeCloseTo(0.02, 9);
    expect(Math.min(...infeeds)).toBeLessThan(0.01);
    expect(Math.min(...rates.slice(-40))).toBeGreaterThan(limit * 0.8);
  });

  test.each(sampleNames)(
    '%s: an equal-load plan keeps every stroke under its limit, and saves time',
    (name) => {
      const limit = 0.6;
      const plain = sampleJob(name);
      const { limit: kept } = plain.grinding;
      const job = {
        ...plain,
        grinding: { ...plain.grinding, limit: { ...kept, removalRate: limit } },
      } as typeof plain;
      const plan = planJob(job);
      expect(plan.findings.filter(({ severity }) => severity === 'error')).toEqual([]);
      for (const { pass } of passes(plan)) expect(pass.load.removalRate).toBeLessThanOrEqual(limit * 1.02);
      if (plan.equalSteps === 'none') throw new Error('compared with equal steps');
      expect(plan.totals.running).toBeLessThan(plan.equalSteps.running);
    },
  );

  test('the stepped cantilever is a plain one where nothing is ground thinner', () => {
    // Source: f = F L^3 / (3 E I), I = pi d^4 / 64; any strength of materials text.
    const job = sampleJob(
      HEX,
      ['section: hex', 'section: { flats: [{ at: 0 deg, distance: 3.999 }] }'],
      ['  acrossFlats: 5.06\n', ''],
      ['relief: 2.5 deg', 'relief: 0.001 deg\n  corners: as the blank leaves them'],
      ['headTilt: 1 deg', 'headTilt: 0 deg'],
      ['sequence: opposite pairs', 'sequence: in turn'],
    );
    const load = planJob(job).loads.finish;
    if (load === 'none') throw new Error('a finish pass');
    const moment = (Math.PI * 8 ** 4) / 64;
    expect(load.bending).toBeCloseTo((2.5 * load.force * 24 ** 3) / (3 * 210_000 * moment), 7);
  });
});

describe('wear', () => {
  test('100 mm3 at G = 5 on a rim of 100 and 94 mm costs 0.0219 mm', () => {
    // Source: definition of the grinding ratio; ring area 914.2 mm2.
    const job = sampleJob(HEX, ['abrasive: aluminium oxide', 'abrasive: aluminium oxide, grindingRatio: 5']);
    const wheel = { ...job.wheel, diameter: mm(100), rim: mm(3) };
    expect(rimLoss({ wheel, figures: job.figures }, mm3(100))).toBeCloseTo(0.0219, 4);
  });

  test('flat by flat the last flat stands highest; rough first evens it out; a hard wheel hardly wears', () => {
    const drift = (...edits: readonly (readonly [string, string])[]) =>
      planJob(sampleJob(HEX, ...edits)).wear.drift;
    const ignored = ['wear: compensate', 'wear: ignore'] as const;
    const flatByFlat = drift(['rough first\n  measuringStop: after roughing', 'flat by flat'], ignored);
    expect(drift()).toBeLessThan(flatByFlat / 20);
    expect(
      drift(['rough first\n  measuringStop: after roughing', 'flat by flat'], ignored, [
        'aluminium oxide',
        'CBN',
      ]),
    ).toBeLessThan(flatByFlat / 20);
  });
});

const drills = readDrills({
  file: 'shared/drills.yaml',
  text: readFileSync(new URL('../../shared/drills.yaml', import.meta.url), 'utf8'),
});

describe('drills', () => {
  // Source: "Metric, Inch & Fractional Inch: Drills, Sizes, Threads", v. 2, 2007-02-12 (public domain), as printed there, and
  // reference pages that agree: no. 1 0.2280, no. 2 0.2210, no. 7 0.2010, no. 10 0.1935, no. 21 0.1590, no. 25 0.1495; W 0.386.
  test.each([
    ['no. 1', 0.228],
    ['no. 2', 0.221],
    ['no. 4', 0.209],
    ['no. 7', 0.201],
    ['no. 10', 0.1935],
    ['no. 21', 0.159],
    ['no. 25', 0.1495],
    ['no. 54', 0.055],
    ['no. 56', 0.0465],
    ['no. 60', 0.04],
    ['letter E', 0.25],
    ['letter F', 0.257],
    ['letter W', 0.386],
    ['1/64 in', 1 / 64],
    ['13/64 in', 13 / 64],
    ['1/2 in', 0.5],
  ])('%s is %f in', (name, inches) => {
    const found = drills.find((drill) => drill.name === name);
    expect((found?.diameter ?? 0) / 25.4).toBeCloseTo(inches, 9);
  });

  test('sixty numbers, one larger than the next; letters grow; sixty-four fractions; tenths of a millimetre', () => {
    const of = (pattern: RegExp): readonly number[] =>
      drills.filter(({ name }) => pattern.test(name)).map(({ diameter }) => diameter);
    const numbers = of(/^no\./);
    expect(numbers).toHaveLength(60);
    expect(numbers).toEqual(numbers.toSorted((a, b) => b - a));
    const letters = of(/^letter/);
    expect(letters).toHaveLength(26);
    expect(letters).toEqual(letters.toSorted((a, b) => a - b));
    expect(of(/ in$/)).toHaveLength(64);
    expect(of(/ mm$/)).toHaveLength(196);
  });

  test.each([
    // Derived: c / l = sqrt(k^2 - 1) / tan(pi / n).
    [6, 1, 0],
    [6, 1.01, 24.6],
    [6, 1.02, 34.8],
    [6, 1.05, 55.5],
    [4, 1.02, 20.1],
    [4, 1.06, 35.2],
    [4, 1.15, 56.8],
  ])('a hole in %i flats, %f times them, takes %f %% of each', (sides, times, percent) => {
    expect(100 * flatLost(sides, times)).toBeCloseTo(percent, 1);
  });

  test('for a hole of 5.194 mm the nearest is 5.2 mm, 35.9 % of each flat of a hex 5.092 lost', () => {
    const drill = nearestDrill(drills, mm(5.194));
    expect(drill.name).toBe('5.2 mm');
    expect(100 * flatLost(6, drill.diameter / 5.092)).toBeCloseTo(35.9, 1);
    expect(nearestDrill([{ name: 'mine', diameter: mm(5) }], mm(9)).name).toBe('mine');
    expect(() => nearestDrill([], mm(5))).toThrow(RangeError);
  });
});

describe('sizes', () => {
  test('hex 5: regrinds by hand, blank, worn out', () => {
    // Source: derived; (5.092 - 5.020) / (2 x 0.1 x tan 2.5 deg) = 8.2.
    const sheet = planSize({
      section: { kind: 'socket', socket: findSocket(shippedTexts.sockets(), 'hex 5'), share: 0.6 },
      name: 'hex 5',
      units: 'mm',
      under: mm(0.02),
      relief: rad((2.5 * Math.PI) / 180),
      headTilt: rad(Math.PI / 180),
      flatLength: mm(10),
      faceCut: mm(0.1),
      drills,
    });
    expect(sheet.grind).toBe(5.092);
    expect(sheet.regrinds).toBe(8);
    expect(sheet.wornOut).toBe(5.02);
    expect(sheet.blank).toMatchObject({ metric: 6.5, sixteenths: 4 });
    expect(sheet.shankEnd.size).toBeCloseTo(5.092 - 0.8732, 4);
  });

  test.each([
    // Source: derived from areas of circle and polygon; pilot over flats, hexagon and square share in percent.
    [0.9, 26.541, 36.383],
    [1.0, 9.31, 21.46],
    [1.02, 6.576, 18.824],
    [1.05, 3.729, 15.555],
    [1.08, 1.813, 12.776],
    [1.1, 0.948, 11.135],
    [1.1547, 0, 7.358],
  ])('a pilot of %f x flats leaves %f %% of a hexagon, %f %% of a square', (times, hex, square) => {
    expect(100 * shareOutsideHole(6, times)).toBeCloseTo(hex, 2);
    expect(100 * shareOutsideHole(4, times)).toBeCloseTo(square, 2);
  });

  test("areas of polygons, Machinery's Handbook p. 82; a square of side 6 has I = 6^4 / 12", () => {
    expect(regularStrength(mm(1), 6).area).toBeCloseTo(3.4641, 4);
    expect(regularStrength(mm(1), 8).area).toBeCloseTo(3.3137, 4);
    expect(regularStrength(mm(3), 4).moment).toBeCloseTo(6 ** 4 / 12, 9);
    expect(regularStrength(mm(0.5), 400).moment).toBeCloseTo(Math.PI / 64, 4);
  });

  test('a D of 6 over 4.5: its area is the circle less a segment, by Simpson; its flat stands 1.5 from the axis', () => {
    const sheet = planSize({
      section: { kind: 'rounded', flats: 1, round: mm(6), across: mm(4.5) },
      name: 'D 6 x 4.5',
      units: 'mm',
      under: mm(0.02),
      relief: rad((2 * Math.PI) / 180),
      headTilt: rad(Math.PI / 180),
      flatLength: mm(8),
      faceCut: mm(0.1),
      drills,
    });
    // Source: derived; strips of the width 2 sqrt(R^2 - z^2) from -3 up to 1.5, less what 8 mm at 2 deg take.
    const strips = (to: number): number => {
      const [from, count] = [-3, 200000];
      const step = (to - from) / count;
      let area = 0;
      for (let i = 0; i < count; i += 1) area += 2 * Math.sqrt(9 - (from + (i + 0.5) * step) ** 2) * step;
      return area;
    };
    const nearer = 8 * Math.tan((2 * Math.PI) / 180);
    expect(sheet.shankEnd.area).toBeCloseTo(strips(1.5 - nearer), 4);
    expect(sheet.shankEnd.share).toBeCloseTo(strips(1.5 - nearer) / strips(1.5), 5);
    expect(sheet.shankEnd.size).toBeCloseTo(4.5 - nearer, 9);
    expect(sheet.pilots[0]?.diameter).toBe(3);
    expect(sheet.pilots[0]?.left).toBeCloseTo(1 - (Math.PI * 1.5 ** 2) / strips(1.5), 4);
    // A face cut of 0.1 takes 0.1 tan 2 deg off over the flat: 5 of them stay within 0.02.
    expect(sheet.regrinds).toBe(5);
  });

  test('pressing: force, its most and its centre, against a ring worked out by hand', () => {
    // Source: derived; a thin round ring of radius 3 (hole 2.99) at 1 deg and 0.02 a turn: cos phi = 1 - 0.02 / (3 tan 1 deg),
    // phi = 0.9051; cut at any moment phi / 2 pi of 0.1880 mm2; its centre lies 3 sin(phi / 2) / (phi / 2) from the axis.
    const ring = { section: [], round: mm(3) };
    const pressed = pressing('mild and alloy steel', ring, mm(2.99), rad(Math.PI / 180), mm(0.02));
    const phi = Math.acos(1 - 0.02 / (3 * Math.tan(Math.PI / 180)));
    const area = (Math.PI * (3 ** 2 - 2.99 ** 2) * phi) / (2 * Math.PI);
    const force = 2300 * 0.02 ** -0.25 * area;
    expect(pressed.mean / force).toBeCloseTo(1, 2);
    expect(pressed.most / pressed.mean).toBeCloseTo(1, 2);
    expect(pressed.beside).toBeCloseTo((2.995 * Math.sin(phi / 2)) / (phi / 2), 2);
  });

  test('pressing: corners pulse, tough metal presses harder, a larger hole less', () => {
    const square = { section: regularSection(4, mm(4)), round: mm(5.5) };
    const hex = { section: regularSection(6, mm(4)), round: mm(4.7) };
    const tilt = rad(Math.PI / 180);
    const of = (work: WorkName, front: typeof square, hole: number, feed = 0.02) =>
      pressing(work, front, mm(hole), tilt, mm(feed));
    const [four, six] = [of('mild and alloy steel', square, 4), of('mild and alloy steel', hex, 4)];
    expect(four.most / four.mean).toBeGreaterThan(six.most / six.mean);
    expect(four.most / four.mean).toBeGreaterThan(1.5);
    expect(of('tough, stainless steel', square, 4).most).toBeGreaterThan(four.most);
    fc.assert(
      fc.property(
        fc.double({ min: 4, max: 5.4, noNaN: true }),
        fc.double({ min: 0.005, max: 0.05, noNaN: true }),
        (hole, feed) => {
          const pressed = of('mild and alloy steel', square, hole, feed);
          expect(of('mild and alloy steel', square, hole + 0.1, feed).most).toBeLessThanOrEqual(
            1.01 * pressed.most,
          );
          expect(pressed.most).toBeGreaterThanOrEqual(pressed.mean);
        },
      ),
      { numRuns: 40 },
    );
  });

  test('bending where the flats end: force over area and, beside the axis, over the modulus', () => {
    // Source: derived; 1000 N 2 mm beside the axis of 10 mm2 and 5 mm3: 100 + 400 N/mm2.
    const pressed = { mean: newton(0), most: newton(1000), beside: mm(2) };
    expect(bendingAt(pressed, { area: 10, modulus: 5 })).toBe(500);
  });

  test('a corner diameter of 0.500 in at 1 deg advances 0.008728 in a turn', () => {
    // Source: Cutting Tool Engineering, "Turn to form", 2 July 2024, prints 0.009; D tan(tilt).
    const sheet = planSize({
      section: { kind: 'socket', socket: findSocket(shippedTexts.sockets(), 'hex 6'), share: 0 },
      name: 'hex 6',
      units: 'mm',
      under: mm(0.02),
      relief: rad(0.04),
      headTilt: rad(Math.PI / 180),
      flatLength: 'usual',
      faceCut: mm(0.1),
      drills,
    });
    expect(sheet.advance / sheet.acrossCorners).toBeCloseTo(0.008728 / 0.5, 5);
  });
});

/** Only these spreads; everything else is certain. */
function onlySpreads(plan: Plan, spreads: Partial<Record<Term, number>>) {
  const budget = errorBudget(plan);
  const none = Object.fromEntries(TERMS.map((term) => [term, 0])) as Record<Term, number>;
  return { ...budget, spreads: { ...none, ...spreads } };
}

/** The normal distribution below `x`; Abramowitz & Stegun 26.2.17, good to 7.5e-8. */
function normalBelow(x: number): number {
  const t = 1 / (1 + 0.2316419 * Math.abs(x));
  const tail =
    (Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI)) *
    t *
    (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  return x < 0 ? tail : 1 - tail;
}

describe('errors', () => {
  const samples = [
    HEX,
    'bearing-cap-square-8',
    'pedal-pin-pentagon-lathe',
    'valve-cap-triangle',
    'axle-key-double-d',
  ];

  test.each(samples)('%s: every derivative is the slope of the real geometry', (name) => {
    const plan = planJob(sampleJob(name));
    const grinding = grindingOf(plan);
    const { job } = grinding;
    const flats = job.punch.section.length;
    const base = noErrors(flats);
    const at = (list: readonly number[], i: number, by: number) => list.map((v, k) => (k === i ? v + by : v));
    const moved: Record<Term, (by: number) => readonly Errors[]> = {
      'touch-off': (by) => [{ ...base, touchOff: mm(by) }],
      edge: (by) => [{ ...base, edge: mm(by) }],
      'stop reading': (by) => [{ ...base, stopReading: mm(by) }],
      slope: (by) => [{ ...base, slope: rad(by) }],
      creep: (by) => [{ ...base, creep: mm(by) }],
      eccentricity: (by) => [
        { ...base, eccentricity: { y: mm(by), z: mm(0) } },
        { ...base, eccentricity: { y: mm(0), z: mm(by) } },
      ],
      'block size': (by) => base.sides.map((_, i) => ({ ...base, sides: at(base.sides, i, by).map(mm) })),
      'index angle': (by) =>
        base.angles.map((_, i) => ({ ...base, angles: at(base.angles, i, by).map(rad) })),
      backlash: (by) => base.angles.map((_, i) => ({ ...base, angles: at(base.angles, i, by).map(rad) })),
      wear: (by) => [{ ...base, wear: by }],
      warmth: (by) => [{ ...base, temperature: by }],
      reading: () => [],
    };
    const shift = shiftRows(job.punch.section);
    const dot = (a: readonly number[], b: readonly number[]) =>
      a.reduce((sum, v, i) => sum + v * (b[i] ?? 0), 0);
    for (const term of TERMS) {
      if (term === 'reading') continue;
      const step = 1e-4;
      const [up, down] = [moved[term](step), moved[term](-step)];
      // Around the ordered punch: wear as predicted would move the point the slope is taken at.
      const clean = term === 'wear' ? grinding : { ...grinding, lost: grinding.lost.map(() => mm(0)) };
      causesOf(clean, term).forEach((cause, c) => {
        const [plus, minus] = [up[c], down[c]].map((errors) => realPunch(clean, errors ?? base));
        if (plus === undefined || minus === undefined) throw new Error('both ways');
        for (let i = 0; i < flats; i += 1) {
          const gradient = heldGradient(clean, i);
          const analytic = dot(gradient.distances, cause.distances) + dot(gradient.angles, cause.angles);
          const numeric = (heldSize(clean, plus, i) - heldSize(clean, minus, i)) / (2 * step);
          expect(Math.abs(analytic - numeric)).toBeLessThanOrEqual(1e-3 * Math.abs(numeric) + 1e-9);
        }
        const [a, b] = [centreOffset(clean, plus), centreOffset(clean, minus)];
        expect(Math.abs((a.y - b.y) / (2 * step) - dot(shift.y, cause.distances))).toBeLessThan(2e-3);
        expect(Math.abs((a.z - b.z) / (2 * step) - dot(shift.z, cause.distances))).toBeLessThan(2e-3);
        expect((plus.relief - minus.relief) / (2 * step)).toBeCloseTo(cause.relief, 6);
      });
    }
  });

  test('an eccentric bore leaves across flats alone and moves the centre by its own length', () => {
    // Source: e cos(theta - phi) over opposite flats cancels; common practice of indexing blocks.
    const plan = planJob(
      sampleJob('bearing-cap-square-8', ['order: rough first', 'order: rough first\n  aim: size']),
    );
    const grinding = { ...grindingOf(plan), lost: [0, 0, 0, 0].map(mm), warmth: 0 };
    const errors = { ...noErrors(4), eccentricity: { y: mm(0.03), z: mm(-0.04) } };
    const punch = realPunch(grinding, errors);
    for (let i = 0; i < 4; i += 1) expect(heldSize(grinding, punch, i)).toBeCloseTo(8.05, 9);
    const offset = centreOffset(grinding, punch);
    expect([offset.y, offset.z]).toEqual([expect.closeTo(0.03, 6), expect.closeTo(-0.04, 6)]);
    // And by simulation: nothing but eccentricity, no size ever changes, 19 of 20 centres lie within 2.45 sigma.
    const simulated = simulate(onlySpreads(plan, { eccentricity: 0.02 }), 20_000, 3);
    expect(simulated.size.deviation).toBeLessThan(1e-9);
    // Source: Rayleigh distribution, 95 % point sigma sqrt(-2 ln 0.05).
    expect(simulated.offset).toBeCloseTo(0.01 * Math.sqrt(-2 * Math.log(0.05)), 3);
  });

  test('touch-off alone: the share in tolerance is the normal distribution between the limits', () => {
    const job = sampleJob(
      'bearing-cap-square-8',
      ['tolerance: { plus: 0.02, minus: 0.02 }', 'tolerance: { plus: 0.008, minus: 0.012 }'],
      ['order: rough first', 'order: rough first\n  aim: size'],
    );
    const plan = planJob(job);
    const budget = onlySpreads(plan, { 'touch-off': 0.01 });
    const exact = { ...budget, grinding: { ...budget.grinding, lost: [0, 0, 0, 0].map(mm) } };
    const simulated = simulate(exact, 40_000, 7);
    const sigma = (2 * 0.005) / Math.cos(job.punch.relief);
    expect(simulated.size.deviation).toBeCloseTo(sigma, 3);
    const share = normalBelow(0.008 / sigma) - normalBelow(-0.012 / sigma);
    expect(Math.abs(simulated.inTolerance - share)).toBeLessThan(0.01);
  });

  test('all together: the simulation scatters as root-sum-square says', () => {
    const plan = planJob(sampleJob('bearing-cap-square-8'));
    const budget = errorBudget(plan);
    const { size } = simulate(budget, 40_000, 11);
    expect(Math.abs((2 * size.deviation) / budget.total.size.rss - 1)).toBeLessThan(0.03);
    expect(budget.total.size.worst).toBeGreaterThan(budget.total.size.rss);
  });

  test('the same seed gives the same punches, another seed others', () => {
    const budget = errorBudget(planJob(sampleJob(HEX)));
    expect(simulate(budget, 500, 1)).toEqual(simulate(budget, 500, 1));
    expect(simulate(budget, 500, 2)).not.toEqual(simulate(budget, 500, 1));
  });
});

describe('time', () => {
  test.each(sampleNames)('%s: at most a quarter in the air, within 1.2 x of the least possible', (name) => {
    const { totals } = planJob(sampleJob(name));
    expect(1 - totals.engagedLength / totals.strokeLength).toBeLessThanOrEqual(0.25);
    expect(totals.grinding).toBeLessThanOrEqual(1.2 * totals.least);
    expect(totals.perFlat.reduce((sum, { grinding }) => sum + grinding, 0)).toBeCloseTo(totals.grinding, 9);
  });

  test('the tip of the approach: margins of 0.05 mm in height start high strokes 1.1 mm further out', () => {
    // Source: derived; a height error e moves the end of the metal by e / tan t.
    const start = (above: string) => {
      const plan = planJob(sampleJob(HEX, ['sparkOut: 3', `sparkOut: 3\n  startAbove: ${above}`]));
      const pass = passes(plan).find(({ pass: { level } }) => level < 4.35)?.pass;
      return { start: pass?.start ?? 0, level: pass?.level ?? 0 };
    };
    const [none, some] = [start('0'), start('0.05')];
    const byLevel = (none.level - some.level) / Math.tan((2.5 * Math.PI) / 180);
    expect(some.start - none.start - byLevel).toBeCloseTo(0.05 / Math.tan((2.5 * Math.PI) / 180), 6);
  });
});

test('layers of volume: a wedge on a square bar, by hand', () => {
  // Source: derived; plane sloping 0.05 over a bar 4 wide removes 4 x 0.05 x 10^2 / 2.
  const blank = { shape: 'square', size: mm(4), turned: rad(0) } as const;
  const slope = rad(Math.atan(0.05));
  const stage = { blank, flats: [], slope };
  const removed = layerVolume(stage, { at: rad(0), from: mm(Number.POSITIVE_INFINITY), to: mm(2) }, mm(10));
  expect(removed).toBeCloseTo((4 * 0.05 * 100) / 2, 3);
});
