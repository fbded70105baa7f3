/** Measuring and correcting: what readings say, what is typed, what is left, and whether it comes out in tolerance. */
import fc from 'fast-check';
import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { describe, expect, test } from 'vitest';
import { checkPrograms } from '../../src/check/dry-run.js';
import { aimedSection } from '../../src/job/aim.js';
import type { Job } from '../../src/job/job.js';
import { type Adjustment, adjust } from '../../src/measure/adjust.js';
import { leastSquares } from '../../src/measure/fit.js';
import { ANVILS } from '../../src/measure/instrument.js';
import type { Across, Readings } from '../../src/measure/reading.js';
import { ReadingError } from '../../src/measure/reading-error.js';
import { isPostable, planJob } from '../../src/plan/plan.js';
import { goOnFrom, readRestart } from '../../src/plan/restart.js';
import { passesIn } from '../../src/plan/step.js';
import { postProgram, postSplit } from '../../src/post/program.js';
import { radFromDeg } from '../../src/quantity/angle.js';
import { FLAT_WITHIN, ROUNDING } from '../../src/quantity/tolerance.js';
import { mm } from '../../src/quantity/unit.js';
import { atDepth, opposite, type Section } from '../../src/section/flat.js';
import { acrossFlat } from '../../src/section/outline.js';
import { sampleJob, sampleNames } from '../arbitrary/samples.js';

const HEX = 'stem-bolt-hex-5';
const hex = sampleJob(HEX);
const across = (flat: number, read: number, depth = 0): Across => ({
  flat,
  read: mm(read),
  depth: mm(depth),
});
const of = (list: readonly Across[], more: Partial<Readings> = {}): Readings => ({
  across: list,
  heights: [],
  instrument: ANVILS,
  warm: 0,
  ...more,
});
const three = (a: number, b = a, c = a): Readings => of([across(1, a), across(2, b), across(3, c)]);

describe('a hex 5 roughed 0.03 over', () => {
  const found = adjust(planJob(hex), three(5.15));

  test('5.150 over a pair: touched, the flat reads 2.5725, each is 0.015 over, the rim 0.015 cos t high', () => {
    // Source: derived by hand; 5.150 / 2 x cos 2.5 deg = 2.5725; (5.150 - 5.120) / 2 = 0.015.
    expect(found.stage).toBe('roughed');
    for (const { type, left } of found.flats) {
      expect(type.reads).toBeCloseTo(2.5725, 4);
      expect(left).toBeCloseTo(0.045, 4);
    }
    expect(found.pairs.map(({ over }) => over)).toEqual([1, 2, 3].map(() => expect.closeTo(0.015, 4)));
    expect(found.raised).toMatchObject({
      axis: 'z',
      reads: expect.closeTo(0.015 * Math.cos(radFromDeg(2.5)), 4),
    });
  });

  test('5.060 at the face and 4.630 five behind: 2.462 deg ground, the stack 0.066 higher', () => {
    // Source: derived by hand; atan(0.43 / 10) = 2.4622 deg; 100 (sin 2.5 - sin 2.4622) = 0.0659;
    // within sqrt 2 x 0.003 / 10 = 0.024 deg.
    const { relief } = adjust(planJob(hex), of([across(1, 5.06), across(1, 4.63, 5)]));
    expect(relief).toMatchObject({
      angle: expect.closeTo(radFromDeg(2.4622), 6),
      stack: expect.closeTo(0.0659, 3),
    });
  });

  test('12 K warm, high-speed steel: the same reading is 0.7 um less cold', () => {
    // Source: 5.15 x 11e-6 x 12 = 0.00068; expansion by shared/grinding.yaml.
    const warm = adjust(planJob(hex), { ...three(5.15), warm: 12 });
    expect(5.15 - (warm.pairs[0]?.cold ?? 0)).toBeCloseTo(5.15 * 11e-6 * 12, 9);
  });

  test('a pair that nobody read is taken to stand like the others, and said not to be read', () => {
    const { flats } = adjust(planJob(hex), of([across(1, 5.15), across(2, 5.15)]));
    expect(flats.map(({ read }) => read)).toEqual([true, true, false, true, true, false]);
    for (const { distance } of flats) expect(distance).toBeCloseTo(2.575, 6);
  });

  test('one pair far from the others is odd, and named so', () => {
    const { pairs } = adjust(planJob(hex), three(5.15, 5.148, 5.33));
    expect(pairs.map(({ odd }) => odd)).toEqual(['no', 'no', 'once']);
    const twice = adjust(
      planJob(hex),
      of([across(1, 5.15), across(2, 5.148), across(3, 5.33), across(3, 5.331)]),
      'roughed',
    );
    expect(twice.pairs.map(({ odd }) => odd)).toEqual(['no', 'no', 'twice', 'twice']);
    // Neither the rim nor the other flats are moved by it; its own flats are.
    for (const { raised, flats } of [twice, adjust(planJob(hex), three(5.15, 5.148, 5.33), 'roughed')]) {
      expect(raised.reads).toBeCloseTo(0.0145, 3);
      expect(flats[0]?.distance).toBeCloseTo(2.575, 3);
    }
    expect(twice.flats[2]?.distance).toBeCloseTo(2.665, 3);
  });

  test('under the least size it is small, whatever else', () => {
    expect(adjust(planJob(hex), three(5.03)).flats.every(({ small }) => small)).toBe(true);
    expect(adjust(planJob(hex), three(5.047)).flats.some(({ small }) => small)).toBe(false);
  });
});

describe('readings that cannot be', () => {
  test.each<[Readings, RegExp]>([
    [of([]), /no reading across a flat/],
    [of([across(9, 5.1)]), /there is no flat 9; the section has 6/],
    [three(0.2028), /is it in inches\?/],
    [three(130.8), /is it in mm\?/],
    [three(-5.15), /without the sign\?/],
    [three(8), /read it again/],
    [three(5.65), /one turn of the thimble/],
    [three(5.085), /between roughed and finished/],
    [of([across(1, 5.12, 5), across(2, 5.12, 5)]), /was it read at the face/],
    [of([across(1, 5.06), across(1, 5.01, 5)]), /cannot be/],
    [of([across(1, 5.15), across(4, 5.08)]), /read twice at one place/],
    [of([across(1, 5.15, 30)]), /30 mm behind the face, and the flats are 10 mm long/],
  ])('%j', (readings, message) => {
    expect(() => adjust(planJob(hex), readings)).toThrow(ReadingError);
    expect(() => adjust(planJob(hex), readings)).toThrow(message);
  });
});

/** What a micrometer reads on flats that stand so. */
const readOff = (job: Job, section: Section, depth = 0): readonly Across[] =>
  section.map((_, i) =>
    across(i + 1, acrossFlat(atDepth(section, mm(depth), job.punch.relief), job.blank, i), depth),
  );

/** The roughed section with every flat off by so much. */
const roughedOff = (job: Job, offs: readonly number[]): Section =>
  aimedSection(job).map(({ at, distance }, i) => ({
    at,
    distance: mm(
      distance + job.grinding.finishAllowance / Math.cos(job.punch.relief) + (offs[i % offs.length] ?? 0),
    ),
  }));

describe.each(sampleNames)('%s', (name) => {
  const job = sampleJob(name);
  const plan = planJob(job);

  test('read without an error it is found where it stands', () => {
    fc.assert(
      fc.property(fc.double({ min: -0.02, max: 0.06, noNaN: true }), (off) => {
        const section = roughedOff(job, [off]);
        const { flats } = adjust(plan, of(readOff(job, section)), 'roughed');
        flats.forEach(({ distance }, i) => {
          expect(Math.abs(distance - (section[i]?.distance ?? 0))).toBeLessThan(5e-4);
        });
      }),
      { seed: 1, numRuns: 30 },
    );
  });

  test('the program from there is good, finishes every flat, and bites no more than an infeed', () => {
    const section = roughedOff(job, [0.011, 0.004, 0.017]);
    const rest = planJob({ ...job, standing: adjust(plan, of(readOff(job, section)), 'roughed').standing });
    expect(passesIn(rest.steps).some(({ pass }) => pass.kind === 'rough')).toBe(false);
    expect(rest.findings.filter(({ severity }) => severity === 'error')).toEqual([]);
    const set = job.machine.program.stops === 'ignored' ? postSplit(rest) : [postProgram(rest)];
    const report = checkPrograms(
      set.map(({ suffix, text }) => ({ name: suffix, text })),
      rest.job,
    );
    expect(report.findings.filter(({ severity }) => severity === 'error')).toEqual([]);
    for (const { distance, ordered, deepestBite } of report.punch.flats) {
      const aimed =
        Number(ordered) + ((aimedSection(job)[0]?.distance ?? 0) - (job.punch.section[0]?.distance ?? 0));
      expect(Math.abs(distance - aimed)).toBeLessThanOrEqual(FLAT_WITHIN);
      expect(deepestBite).toBeLessThanOrEqual(job.grinding.roughInfeed + ROUNDING);
    }
  });
});

describe('a punch off its axis', () => {
  test('micrometers over pairs are blind to it; an indicator on every flat finds size and direction', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.005, max: 0.05, noNaN: true }),
        fc.integer({ min: 0, max: 359 }),
        (by, deg) => {
          const toward = radFromDeg(deg);
          const offs = hex.punch.section.map(({ at }) => by * Math.cos(at - toward));
          const section = roughedOff(hex, offs);
          const readings = readOff(hex, section).slice(0, 3);
          expect(adjust(planJob(hex), of(readings), 'roughed').centre).toBe('blind');
          // Opposite flats take each other's share away: every pair reads as if nothing were wrong.
          for (const { read } of readings) expect(read).toBeCloseTo(5.12, 3);
          const heights = section.map(({ distance }, i) => ({
            flat: i + 1,
            read: mm(distance - (section[0]?.distance ?? 0)),
          }));
          const { centre, flats } = adjust(planJob(hex), of(readings, { heights }), 'roughed');
          expect(centre).toMatchObject({ by: expect.closeTo(by, 3) });
          const off = centre === 'blind' ? Number.NaN : Math.cos(centre.toward - toward);
          expect(off).toBeGreaterThan(0.999);
          flats.forEach(({ distance }, i) => {
            expect(Math.abs(distance - (section[i]?.distance ?? 0))).toBeLessThan(5e-4);
          });
        },
      ),
      { seed: 2, numRuns: 60 },
    );
  });
});

describe('wear', () => {
  test('flats that drift as a wheel of another grinding ratio leaves them give that ratio back', () => {
    // Twice the wear in a job that compensates: each flat stands as much higher as it was lowered.
    const job = sampleJob(HEX, ['aluminium oxide }', 'aluminium oxide, grindingRatio: 3 }']);
    const plan = planJob(job);
    const offs = job.punch.section.map(
      (_, i) => plan.wear.atStop.find(({ flat }) => flat === i + 1)?.loss.taken ?? 0,
    );
    const { ratio } = adjust(plan, of(readOff(job, roughedOff(job, offs)).slice(0, 3)), 'roughed');
    expect(ratio).toBeCloseTo(1.5, 1);
    expect(adjust(plan, of(readOff(job, roughedOff(job, [0.01])).slice(0, 3)), 'roughed').ratio).toBeCloseTo(
      3,
      6,
    );
  });
});

describe('linear least squares', () => {
  test("NIST's Norris data give the certified coefficients", () => {
    // Source: NIST StRD, linear regression, Norris (J. Norris, calibration of ozone monitors), certified values.
    const data: readonly (readonly [y: number, x: number])[] = [
      [0.1, 0.2],
      [338.8, 337.4],
      [118.1, 118.2],
      [888.0, 884.6],
      [9.2, 10.1],
      [228.1, 226.5],
      [668.5, 666.3],
      [998.5, 996.3],
      [449.1, 448.6],
      [778.9, 777.0],
      [559.2, 558.2],
      [0.3, 0.4],
      [0.1, 0.6],
      [778.1, 775.5],
      [668.8, 666.9],
      [339.3, 338.0],
      [448.9, 447.5],
      [10.8, 11.6],
      [557.7, 556.0],
      [228.3, 228.1],
      [998.0, 995.8],
      [888.8, 887.6],
      [119.6, 120.2],
      [0.3, 0.3],
      [0.6, 0.3],
      [557.6, 556.8],
      [339.3, 339.1],
      [888.0, 887.2],
      [998.5, 999.0],
      [778.9, 779.0],
      [10.2, 11.1],
      [117.6, 118.3],
      [228.9, 229.2],
      [668.4, 669.1],
      [449.2, 448.9],
      [0.2, 0.5],
    ];
    const [b0 = 0, b1 = 0] = leastSquares(data.map(([y, x]) => ({ of: [1, x], is: y, spread: 1 })));
    expect(b0).toBeCloseTo(-0.262323073774029, 9);
    expect(b1).toBeCloseTo(1.00211681802045, 12);
  });
});

describe('a shop that touches off ten times worse and does not know its wheel', () => {
  /** Rough, read, adjust, type, finish: what each flat comes to. Spreads are 19 times of 20. */
  function shop(job: Job, seed: number): { readonly sizes: readonly number[]; readonly named: boolean } {
    const plan = planJob(job);
    const generator = xoroshiro128plus(seed);
    const within = (spread: number): number => {
      // Sum of twelve uniform draws: near enough to normal; two standard deviations make a spread.
      let sum = -6;
      for (let i = 0; i < 12; i += 1) sum += uniformFloat64(generator);
      return (sum * spread) / 2;
    };
    const touch = Math.abs(within(10 * job.spreads.touchOff));
    const worn = 3 ** (2 * uniformFloat64(generator) - 1);
    const lost = (flat: number, list: typeof plan.wear.atStop): number =>
      list.find((each) => each.flat === flat)?.loss.taken ?? 0;
    const compensated = job.grinding.wear === 'compensate' ? 1 : 0;
    const stands = roughedOff(job, []).map(({ at, distance }, i) => ({
      at,
      distance: mm(distance + touch + lost(i + 1, plan.wear.atStop) * (worn - compensated) + within(0.002)),
    }));
    const readings = readOff(job, stands).map((each) => ({
      ...each,
      read: mm(each.read + within(job.spreads.reading)),
    }));
    const found: Adjustment = adjust(plan, of(readings), 'roughed');
    if (found.flats.some(({ small }) => small)) return { sizes: [], named: true };
    const rest = planJob({ ...job, standing: found.standing });
    expect(isPostable(rest)).toBe(true);
    // A flat and the one opposite are touched by feeler at the numbers printed for them, and the mean taken.
    const facing = opposite(job.punch.section, 0);
    const pair = facing === 'none' ? [0] : [0, facing];
    const off = pair.map(
      (i) => (stands[i]?.distance ?? 0) - (found.flats[i]?.distance ?? 0) + within(job.spreads.touchFlat),
    );
    const rim = off.reduce((sum, each) => sum + each, 0) / off.length;
    const wear = (flat: number): number => lost(flat, rest.wear.perFlat) * (worn - compensated);
    const finished = stands.map(({ at, distance }, i) => {
      const last = passesIn(rest.steps).findLast(({ flat }) => flat.number === i + 1);
      const ground =
        last === undefined ? distance : (aimedSection(job)[i]?.distance ?? 0) + rim + wear(i + 1);
      return { at, distance: mm(Math.min(distance, ground)) };
    });
    return { sizes: readOff(job, finished).map(({ read }) => read), named: false };
  }

  test.each(sampleNames.filter((name) => sampleJob(name).grinding.measuringStop === 'after roughing'))(
    '%s: 99 of 100 come out in tolerance or are named before metal is touched',
    (name) => {
      const job = sampleJob(name);
      const limits = planJob(job).readings;
      // A held removal rate takes ten times as long to plan.
      const draws = job.grinding.limit.removalRate === undefined ? 100 : 30;
      let good = 0;
      for (let seed = 1; seed <= draws; seed += 1) {
        const { sizes, named } = shop(job, seed);
        if (
          named ||
          sizes.every((size, i) => size >= (limits[i]?.least ?? 0) && size <= (limits[i]?.most ?? 0))
        )
          good += 1;
      }
      process.stdout.write(`${name}: ${((100 * good) / draws).toFixed(1)} % in tolerance or named\n`);
      expect(good / draws).toBeGreaterThanOrEqual(0.99);
    },
  );
});

describe('a punch of which part is finished', () => {
  test('told where it goes on, it finds each flat, and no error of the rim where there is none', () => {
    const plan = planJob(goOnFrom(planJob(hex), readRestart('finish flat 4')));
    // Flat 1 is finished, the others are roughed: the pairs read 5.090, 5.120, 5.120.
    const found = adjust(plan, three(5.09, 5.12, 5.12), 'roughed');
    expect(found.flats.map(({ distance }) => distance)).toEqual(
      [2.53, 2.56, 2.56, 2.56, 2.56, 2.56].map((each) => expect.closeTo(each, 3)),
    );
    expect(Math.abs(found.raised.reads)).toBeLessThan(0.001);
  });
});

describe('readings that would deceive', () => {
  const heights = (list: readonly (readonly [flat: number, read: number])[]) =>
    list.map(([flat, read]) => ({ flat, read: mm(read) }));

  test.each<[Readings, RegExp]>([
    [
      of([across(1, 5.12)], {
        heights: heights([
          [2, 0.3],
          [3, 0.3],
        ]),
      }),
      /put it on flat 1 too/,
    ],
    [
      of([across(1, 5.12)], {
        heights: heights([
          [1, 0],
          [2, 12],
        ]),
      }),
      /far from the others; is it in mm\?/,
    ],
    [
      of([across(1, 5.12)], {
        heights: heights([
          [1, 0],
          [1, 0.02],
        ]),
      }),
      /twice, and not alike/,
    ],
  ])('%j', (readings, message) => {
    expect(() => adjust(planJob(hex), readings, 'roughed')).toThrow(message);
  });

  test('a pair written the other way round is the same pair', () => {
    const turned = of([across(1, 5.06), across(4, 4.63, 5)]);
    expect(adjust(planJob(hex), turned).relief).toMatchObject({
      angle: expect.closeTo(radFromDeg(2.4622), 6),
    });
  });

  test('in tolerance is said of a punch read all round at the face, and of no other', () => {
    expect(adjust(planJob(hex), three(5.06)).inTolerance).toBe(true);
    expect(adjust(planJob(hex), of([across(1, 5.06)])).inTolerance).toBe(false);
    expect(adjust(planJob(hex), of([across(1, 4.62, 5)]), 'finished').inTolerance).toBe(false);
  });
});
