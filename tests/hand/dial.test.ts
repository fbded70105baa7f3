/**
 * Numbers for hand wheels, against figures worked by hand beside each (plane geometry), and the readings driven like a
 * person drives them: the dial turned from line to line leaves the punch ordered.
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { checkPrograms } from '../../src/check/dry-run.js';
import { DialError, type DialPlan, type DialReading, dialPlan, readingOf } from '../../src/hand/dial.js';
import { railHeight, widthOnRound, widthsByEye } from '../../src/hand/rail.js';
import type { Job } from '../../src/job/job.js';
import type { Dials } from '../../src/job/machine.js';
import { nearerPerMark } from '../../src/plan/dials.js';
import { planJob } from '../../src/plan/plan.js';
import { passesIn } from '../../src/plan/step.js';
import { postProgram } from '../../src/post/program.js';
import { radFromDeg } from '../../src/quantity/angle.js';
import { mm } from '../../src/quantity/unit.js';
import { handNames, sampleJob } from '../arbitrary/samples.js';

type Edit = readonly [from: string, to: string];

/** 8 mm round, 5.06 across flats, 10 long, 2.5 deg, 75 mm wheel: the sample of the mill, on dials of 0.02 and 2 mm a turn. */
const hex = (machine = 'hand-mill', ...edits: readonly Edit[]): Job =>
  sampleJob(
    'stem-bolt-hex-5',
    ['index: rotary axis', 'index: by hand\n  device: { kind: spin indexer }'],
    ['machine: bench-mill-rotary', `machine: ${machine}`],
    ['  strokeSpeed: 1200\n', ''],
    ['  wear: compensate\n', ''],
    ['tolerance: { plus: 0.015, minus: 0.015 }', 'tolerance: { plus: 0.01, minus: 0.01 }'],
    ...edits,
  );

const swivelled: readonly Edit[] = [
  ['slope: { by: fixture, sineBar: 100 }', 'slope: { by: head }'],
  ['kind: spin indexer', 'kind: gear, teeth: 48'],
];

describe('a hex of 5.06 on 8 mm round, 2.5 deg, touched 2 mm behind the tip', () => {
  const dial = dialPlan(planJob(hex()));

  test('the first spark: R / cos t - u tan t - h cos t, u = R sin t - 2', () => {
    // 4 / 0.999048 - (0.174478 - 2) x 0.043661 - 2.53 x 0.999048 = 1.5559
    expect(dial.touch.above).toBeCloseTo(1.556, 3);
    // Numbers grow toward the work on this knee: 0 is size, so 1.556 above it stands at 2 - 1.556.
    expect(dial.touch).toMatchObject({ turns: 0, shows: expect.closeTo(0.444, 3) });
  });

  test('back off by what the blank rises to the shank: 0.353, and 0.05 for its run-out', () => {
    expect(dial.biteFromTouch).toBeCloseTo(0.353, 2);
    expect(dial.backOff.above).toBeCloseTo(1.96, 9);
  });

  test('the stop: from the front face to the end of the stroke', () => {
    expect(dial.faceToEnd).toBeCloseTo(10.09, 1);
    expect(dial.faceToTouch).toBeCloseTo(2, 9);
  });

  test('roughing by whole divisions down to a line, finishing by quarters, spark-out at 0', () => {
    const [ladder] = dial.ladders;
    expect(dial.ladders).toHaveLength(1);
    expect(ladder?.flats).toEqual([1, 2, 3, 4, 5, 6]);
    const [rough, finish, sparkOut] = ladder?.rows ?? [];
    expect(rough).toMatchObject({
      kind: 'rough',
      step: expect.closeTo(0.02, 9),
      to: { above: expect.closeTo(0.04, 9) },
    });
    // ceil((1.96 - 0.04) / 0.02) = 96, the first of them at 1.94.
    expect(rough?.passes).toBe(96);
    expect(finish).toMatchObject({ step: expect.closeTo(0.005, 9), to: { above: expect.closeTo(0, 9) } });
    expect(sparkOut).toMatchObject({
      passes: 3,
      step: 0,
      from: { above: expect.closeTo(0, 9), shows: expect.closeTo(0, 9) },
    });
  });

  test('ten millimetres take about a second', () => {
    expect(dial.strokeTime / dial.strokeLength).toBeCloseTo(0.1, 9);
  });

  test('what a flat reads more moves the ring by half of it, and cos t', () => {
    const roughed = dial.ringTurns.find(({ ground }) => ground === 'roughed');
    expect(roughed?.perReading).toBeCloseTo(Math.cos(radFromDeg(2.5)) / 2, 9);
    // Roughed 0.04 above size: 2 x 0.04 / cos t over the size.
    expect(roughed?.reading).toBeCloseTo(5.06 + 0.08 / Math.cos(radFromDeg(2.5)), 6);
  });

  test('a collar within a quarter of the tolerance: 0.25 x 0.02 / (2 tan t) = 0.057', () => {
    expect(dial.collarWithin).toBeCloseTo(0.057, 3);
  });
});

describe('the punch in a lathe, the top slide swivelled', () => {
  const plan = planJob(hex('hand-lathe-chucked-punch', ...swivelled));
  const dial = dialPlan(plan);

  test('the cross slide from touch to size: R - h + 2 tan t = 1.557, twice on a dial for the diameter', () => {
    expect(dial.touch.above / 2).toBeCloseTo(4 - 2.53 + 2 * Math.tan(radFromDeg(2.5)), 3);
    expect(dial.touch.above / 2).toBeCloseTo(1.557, 3);
  });

  test('a detent at every eighth tooth of 48', () => {
    const teeth = dial.visits.flatMap((visit) =>
      visit.kind === 'grind' && visit.setting.kind === 'tooth' ? [visit.setting.tooth] : [],
    );
    expect(new Set(teeth)).toEqual(new Set([0, 8, 16, 24, 32, 40]));
  });

  test('a mark of the dial brings the rim cos t / 2 nearer', () => {
    expect(nearerPerMark(plan.job)).toBeCloseTo(Math.cos(radFromDeg(2.5)) / 2, 12);
  });
});

describe('a bench grinder', () => {
  test('seat to rim: (15 + 2.53 - 24 tan t) cos t = 16.466', () => {
    expect(railHeight(mm(15), mm(2.53), mm(24), radFromDeg(2.5))).toBeCloseTo(16.466, 3);
  });

  test('width of a flat on 8 mm round: 5.65 at 0.3 over 2.53, 5.85 at 0.2', () => {
    expect(widthOnRound(mm(4), 2.83)).toBeCloseTo(5.65, 2);
    expect(widthOnRound(mm(4), 2.73)).toBeCloseTo(5.85, 2);
    expect(widthOnRound(mm(4), 4)).toBe('none');
    const [row] = widthsByEye(mm(4), mm(2.53), mm(10), radFromDeg(2.5), [mm(0.3)]);
    // Behind by 10 the flat is 10 tan t nearer to the axis.
    expect(row?.behind).toBeCloseTo(2 * Math.sqrt(16 - (2.83 - 10 * Math.tan(radFromDeg(2.5))) ** 2), 9);
  });

  test('the guard stays on: a nose or a blank in its way is refused, with the stick-out that does', () => {
    const codes = (...edits: readonly Edit[]) =>
      planJob(sampleJob('by-hand/bell-cap-square-5', ...edits)).findings.map(({ code }) => code);
    expect(codes()).toEqual([]);
    const near = planJob(sampleJob('by-hand/bell-cap-square-5', ['stickOut: 24', 'stickOut: 10.2'])).findings;
    const found = near.find(({ code }) => code === 'guard-meets-nose');
    if (found?.code !== 'guard-meets-nose')
      throw new Error(`no such finding: ${near.map(({ code }) => code).join()}`);
    const cured = ['stickOut: 24', `stickOut: ${found.wouldDo + 1e-6}`] as const;
    expect(codes(cured)).not.toContain('guard-meets-nose');
    expect(codes(['stickOut: 24', `stickOut: ${found.wouldDo - 0.01}`])).toContain('guard-meets-nose');
    expect(codes(['size: 7.5', 'size: 18'])).toContain('guard-meets-blank');
  });
});

/** Turns the ring the way its numbers run; the height comes out of what it shows and how many turns back it is. */
const heightShown = ({ infeed }: Dials, { turns, shows, above }: DialReading): number => {
  // Above size the numbers run back from it, under it on past 0.
  const rising = (infeed.grows === 'away from the work') === above >= 0;
  const away = turns * infeed.turn + (rising || shows === 0 ? shows : infeed.turn - shows);
  return above < 0 ? -away : away;
};

test('a dial shows a height one way only, whichever way its numbers run', () => {
  fc.assert(
    fc.property(
      fc.double({ min: -30, max: 30, noNaN: true }),
      fc.constantFrom(0.75, 2, 2.54, 6),
      fc.constantFrom('toward the work' as const, 'away from the work' as const),
      (height, turn, grows) => {
        const dials: Dials = { infeed: { graduation: mm(turn / 100), turn: mm(turn), grows }, stops: true };
        const { turns, shows } = readingOf(dials, height);
        expect(turns).toBe(Math.trunc((Math.abs(height) + 1e-9) / turn));
        expect(shows).toBeGreaterThanOrEqual(0);
        expect(shows).toBeLessThan(turn + 1e-9);
        expect(heightShown(dials, readingOf(dials, height))).toBeCloseTo(height, 6);
      },
    ),
  );
});

/** Every height the dial is brought to, in order, out of the folded rows and nothing else. */
function heightsOf({ plan, ladders }: DialPlan, flat: number): readonly number[] {
  const { dials } = plan.job.machine;
  const ladder = ladders.find(({ flats }) => flats.includes(flat));
  if (dials === undefined || ladder === undefined) throw new Error('no ladder');
  return ladder.rows.flatMap(({ from, step, passes }) => {
    const top = heightShown(dials, from);
    return Array.from({ length: passes }, (_, i) => top - i * step);
  });
}

describe.each([...handNames])('%s', (name) => {
  const plan = planJob(sampleJob(name));
  const dial = dialPlan(plan);

  test('no reading lies between what the dial can show, and none goes down by more than an infeed', () => {
    const { infeed, readout } = plan.job.machine.dials ?? {};
    const finest = readout ?? (infeed?.graduation ?? 1) / 4;
    const nearer = nearerPerMark(plan.job);
    for (const { number } of plan.flats) {
      const heights = heightsOf(dial, number);
      for (const height of heights)
        expect(Math.abs(height / finest - Math.round(height / finest))).toBeLessThan(1e-5);
      heights.slice(1).forEach((height, i) => {
        const down = (heights[i] ?? 0) - height;
        expect(down * nearer).toBeLessThanOrEqual(plan.job.grinding.roughInfeed + 1e-9);
      });
      // Size is where the dial says it is: the last reading, turned back into a height of the rim.
      const flat = plan.flats.find((each) => each.number === number);
      const first = plan.flats[0];
      const last = heights.at(-1) ?? Number.NaN;
      expect((first?.w ?? 0) + last * nearer).toBeCloseTo(flat?.w ?? Number.NaN, 9);
    }
  });

  test('the passes, as a program of them, leave the punch ordered', () => {
    const { job } = plan;
    const wide = [mm(-1e4), mm(1e4)] as const;
    const travel = { x: wide, z: wide, ...(job.machine.travel.y === undefined ? {} : { y: wide }) };
    const report = checkPrograms([{ name: 'passes', text: postProgram(plan).text }], {
      ...job,
      machine: { ...job.machine, travel },
    });
    expect(report.findings).toEqual([]);
    for (const { distance, ordered } of report.punch.flats)
      expect(Math.abs(distance - Number(ordered))).toBeLessThanOrEqual(job.punch.tolerance.plus / 2 + 0.001);
  });

  test('a stroke begun where the dial stands before the first meets no more than an infeed', () => {
    const first = passesIn(plan.steps)[0];
    const top = Math.max(...plan.flats.map(({ stockTop, higher }) => stockTop + higher));
    expect(dial.backOff.above * nearerPerMark(plan.job) + (plan.flats[0]?.w ?? 0)).toBeGreaterThanOrEqual(
      top - 1e-6,
    );
    expect(top - (first?.pass.w ?? 0)).toBeLessThanOrEqual(plan.job.grinding.roughInfeed + 1e-9);
  });
});

test('a machine with a control has no dials', () => {
  expect(() => dialPlan(planJob(sampleJob('stem-bolt-hex-5')))).toThrow(DialError);
});
