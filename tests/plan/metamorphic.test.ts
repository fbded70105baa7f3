/** What must not change, or change in a known way, when a job is changed as a whole: scaled, turned, mirrored, restated. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { checkPrograms } from '../../src/check/dry-run.js';
import { readJob } from '../../src/file/read.js';
import type { Job } from '../../src/job/job.js';
import { distanceOf, planeOf } from '../../src/job/standing.js';
import { planJob } from '../../src/plan/plan.js';
import { findSavings } from '../../src/plan/savings.js';
import { passesIn } from '../../src/plan/step.js';
import { postForMachine } from '../../src/post/program.js';
import { mm, mm3PerS, mmPerMin, rad } from '../../src/quantity/unit.js';
import { sampleJob, sampleText, shippedTexts } from '../arbitrary/samples.js';

const HEX = 'stem-bolt-hex-5';
const NO_WEAR = ['wear: compensate', 'wear: ignore'] as const;
const job = sampleJob(HEX, NO_WEAR);
const levels = (of: Job): readonly number[] => passesIn(planJob(of).steps).map(({ pass }) => pass.level);

/** Every length of a job times k; a program's last digit with them. */
function scaled(of: Job, k: 10 | 0.1): Job {
  const long = <L extends number>(length: L): L => (length * k) as L;
  const { punch, blank, wheel, grinding, holding, machine } = of;
  return {
    ...of,
    punch: {
      ...punch,
      section: punch.section.map(({ at, distance }) => ({ at, distance: long(distance) })),
      flatLength: long(punch.flatLength),
      tolerance: { plus: long(punch.tolerance.plus), minus: long(punch.tolerance.minus) },
    },
    blank: { ...blank, size: long(blank.size), stickOut: long(blank.stickOut) },
    wheel: {
      ...wheel,
      diameter: long(wheel.diameter),
      radius: long(wheel.radius),
      rim: long(wheel.rim),
      height: long(wheel.height),
    },
    grinding: {
      ...grinding,
      roughInfeed: long(grinding.roughInfeed),
      finishInfeed: long(grinding.finishInfeed),
      finishAllowance: long(grinding.finishAllowance),
      strokeSpeed: long(grinding.strokeSpeed),
      returnSpeed: long(grinding.returnSpeed),
      clearance: long(grinding.clearance),
      approach: long(grinding.approach),
      startAbove: long(grinding.startAbove),
      retract: long(grinding.retract),
    },
    holding: { ...holding, nose: { halfHeight: long(holding.nose.halfHeight) } },
    machine: {
      ...machine,
      maxFeed: long(machine.maxFeed),
      rapid: long(machine.rapid),
      program: { ...machine.program, decimals: machine.program.decimals - Math.log10(k) },
    },
  };
}

describe('a job scaled', () => {
  test.each([10, 0.1] as const)('by %s: the same passes, every height and every stroke by as much', (k) => {
    const [small, large] = [planJob(job), planJob(scaled(job, k))];
    expect(large.totals.passes).toBe(small.totals.passes);
    expect(large.totals.strokeLength / small.totals.strokeLength).toBeCloseTo(k, 6);
    expect(large.totals.grinding).toBeCloseTo(small.totals.grinding, 3);
    const wanted = levels(job);
    levels(scaled(job, k)).forEach((level, i) => {
      expect(level / k).toBeCloseTo(wanted[i] ?? Number.NaN, 6);
    });
  });
});

describe('a job turned or mirrored on a round blank', () => {
  test('turned by any angle: the same heights, strokes and loads, and a good program', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 359 }), (deg) => {
        const by = (deg * Math.PI) / 180;
        const section = job.punch.section.map(({ at, distance }) => ({
          at: rad((at + by) % (2 * Math.PI)),
          distance,
        }));
        const turned: Job = { ...job, punch: { ...job.punch, section, sides: 'free' } };
        const free: Job = { ...job, punch: { ...job.punch, sides: 'free' } };
        const [before, after] = [passesIn(planJob(free).steps), passesIn(planJob(turned).steps)];
        expect(after).toHaveLength(before.length);
        after.forEach(({ pass }, i) => {
          expect(pass.level).toBeCloseTo(before[i]?.pass.level ?? Number.NaN, 9);
          expect(pass.load.volume).toBeCloseTo(before[i]?.pass.load.volume ?? Number.NaN, 6);
        });
      }),
      { numRuns: 12 },
    );
  });

  test('mirrored: flat for flat the same, for a section that is not its own mirror image', () => {
    const free = [
      [0, 3.4],
      [100, 3.1],
      [230, 2.8],
    ].map(([at = 0, distance = 0]) => ({ at: rad((at * Math.PI) / 180), distance: mm(distance) }));
    const mirror = free.map(({ at, distance }) => ({
      at: rad((2 * Math.PI - at) % (2 * Math.PI)),
      distance,
    }));
    const withSection = (section: Job['punch']['section']): Job => ({
      ...job,
      punch: { ...job.punch, section, sides: 'free', corners: 'as the blank leaves them' },
      grinding: { ...job.grinding, sequence: [1, 2, 3], measuringStop: 'none', order: 'flat by flat' },
    });
    const [before, after] = [planJob(withSection(free)), planJob(withSection(mirror))];
    const volumes = (plan: typeof before): readonly number[] =>
      passesIn(plan.steps).map(({ pass }) => pass.load.volume);
    expect(after.totals.passes).toBe(before.totals.passes);
    volumes(after).forEach((volume, i) => {
      expect(volume).toBeCloseTo(volumes(before)[i] ?? Number.NaN, 6);
    });
  });
});

describe('a job restated', () => {
  test('in inches, number for number: the same flats to a hundredth of a micrometre', () => {
    const inches = (text: string): string =>
      text
        .replace('units: mm', 'units: inch')
        .replace(
          /(acrossFlats|flatLength|plus|minus|size|stickOut|diameter|rim|height|roughInfeed|finishInfeed|finishAllowance|sineBar|halfHeight): ([\d.]+)/g,
          '$1: $2 mm',
        )
        .replace('strokeSpeed: 1200', 'strokeSpeed: 1200 mm/min');
    const mmText = sampleText(HEX).replace(...NO_WEAR);
    const restated = readJob({ file: 'inch.yaml', text: inches(mmText) }, shippedTexts);
    expect(restated.units).toBe('inch');
    const wanted = levels(job);
    levels(restated).forEach((level, i) => {
      expect(level).toBeCloseTo(wanted[i] ?? Number.NaN, 5);
    });
  });

  test('milled by a first program, or typed as blank.flats: the work begins on the same planes', () => {
    const rough = sampleJob(
      HEX,
      NO_WEAR,
      ['acrossFlats: 5.06', 'acrossFlats: 5.56'],
      ['flatLength: 10', 'flatLength: 10.5'],
    );
    const { left, verdict } = checkPrograms(
      postForMachine(planJob(rough)).map(({ text }) => ({ name: 'p.nc', text })),
      rough,
    );
    expect(verdict).toBe('run');
    const typed = sampleJob(HEX, NO_WEAR, [
      'size: 8, stickOut: 24',
      'size: 8, stickOut: 24, flats: { over: 0.25 }',
    ]);
    typed.standing.forEach((flat) => {
      const ground = left.find(({ at }) => Math.abs(at - flat.at) < 1e-9);
      if (ground === undefined) throw new Error('a flat is not left');
      // Within the last digit that a program writes.
      expect(distanceOf(ground, job.punch.relief)).toBeCloseTo(distanceOf(flat, job.punch.relief), 3);
    });
    // Of what goes on from there the last strokes are the same.
    const goesOn = planJob({ ...job, standing: left });
    const last = (plan: typeof goesOn): readonly number[] =>
      passesIn(plan.steps).flatMap(({ pass }) => (pass.kind === 'rough' ? [] : [pass.level]));
    expect(last(goesOn)).toEqual(last(planJob(typed)));
    const report = checkPrograms(
      postForMachine(goesOn).map(({ text }) => ({ name: 'p.nc', text })),
      goesOn.job,
    );
    expect(report.findings).toEqual([]);
    expect(planeOf(report.left[0] as (typeof report.left)[number]).w).toBeCloseTo(
      last(goesOn).at(-1) ?? 0,
      3,
    );
  });
});

describe('what would save time', () => {
  const savings = findSavings(planJob(job));

  test('the greatest first, each at least a twentieth of the running time, and none that brings a warning', () => {
    const { running } = planJob(job).totals;
    expect(savings.length).toBeGreaterThan(2);
    const saved = savings.map((each) => each.saved as number);
    expect(saved).toEqual(saved.toSorted((a, b) => b - a));
    for (const each of saved) expect(each).toBeGreaterThan(running / 20);
  });

  test('a 6.5 mm blank, which covers the corners of a hex 5.06, saves what a plan with it saves', () => {
    const blank = savings.find(({ change }) => change.kind === 'smaller blank');
    // Source: 5.06 / cos 30 deg = 5.843, 0.2 to spare: 6.043, next half millimetre up 6.5.
    expect(blank?.change).toEqual({ kind: 'smaller blank', size: 6.5 });
    const smaller = planJob({ ...job, blank: { ...job.blank, size: mm(6.5) } });
    expect(blank?.saved).toBeCloseTo(planJob(job).totals.running - smaller.totals.running, 6);
  });

  test('nothing is offered that would burn, or that is there already', () => {
    const there: Job = {
      ...job,
      standing: planJob(job).job.standing,
      blank: { ...job.blank, size: mm(6.5) },
      grinding: { ...job.grinding, strokeSpeed: job.machine.maxFeed, returnSpeed: job.machine.maxFeed },
    };
    const kinds = findSavings(planJob(there)).map(({ change }) => change.kind);
    expect(kinds).not.toContain('smaller blank');
    expect(kinds).not.toContain('faster stroke');
    const held: Job = { ...job, grinding: { ...job.grinding, limit: { removalRate: mm3PerS(2) } } };
    expect(findSavings(planJob(held)).map(({ change }) => change.kind)).not.toContain('equal load');
    const slow: Job = {
      ...job,
      grinding: { ...job.grinding, strokeSpeed: mmPerMin(600), returnSpeed: mmPerMin(600) },
    };
    expect(findSavings(planJob(slow)).map(({ change }) => change.kind)).toContain('faster return');
  });
});
