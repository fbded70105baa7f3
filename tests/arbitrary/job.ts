/**
 * Random jobs that are valid by construction: whatever comes out plans without an error. Extremes are in:
 * three and twelve sides, the smallest wheel that spans a flat, a blank with no margin, every layout.
 * All data invented.
 */
import fc from 'fast-check';
import { readJob } from '../../src/file/read.js';
import type { Job } from '../../src/job/job.js';
import { kindOf, layouts, punchTurns } from '../../src/job/layout.js';
import { shippedTexts } from './samples.js';

export interface RandomJob {
  readonly job: Job;
  /** The job and its machine as text, to be seen when a property fails. */
  readonly text: string;
}

const between = (min: number, max: number): fc.Arbitrary<number> =>
  fc.oneof(
    { weight: 8, arbitrary: fc.double({ min, max, noNaN: true }) },
    { weight: 1, arbitrary: fc.constantFrom(min, max) },
  );

const section = fc.oneof(
  {
    weight: 3,
    arbitrary: fc.record({ kind: fc.constant('regular' as const), sides: fc.integer({ min: 3, max: 12 }) }),
  },
  {
    weight: 1,
    arbitrary: fc.record({
      kind: fc.constant('free' as const),
      sides: fc.integer({ min: 3, max: 8 }),
      stretch: fc.array(between(1, 1.02), { minLength: 8, maxLength: 8 }),
      turn: fc.integer({ min: 0, max: 359 }),
    }),
  },
  {
    weight: 1,
    arbitrary: fc.record({ kind: fc.constant('lands' as const), sides: fc.integer({ min: 1, max: 2 }) }),
  },
);

/** Layouts a program is written for. */
const posted = (Object.keys(layouts) as (keyof typeof layouts)[]).filter(
  (name) => kindOf(name) !== 'bench grinder with a rail',
);

const parts = fc.record({
  section,
  h: between(0.8, 8),
  reliefDeg: between(1.2, 6),
  length: between(0.05, 0.6),
  blankMargin: between(0, 0.3),
  blankShape: fc.constantFrom('round', 'round', 'square', 'hex'),
  blankTurned: fc.integer({ min: 0, max: 359 }),
  wheel: between(1.02, 20),
  nose: between(3, 25),
  passes: fc.integer({ min: 2, max: 8 }),
  finishPasses: fc.integer({ min: 0, max: 3 }),
  sparkOut: fc.integer({ min: 0, max: 4 }),
  layout: fc.constantFrom(...posted),
  head: fc.boolean(),
  rotary: fc.boolean(),
  reversed: fc.boolean(),
  clamped: fc.boolean(),
  mayTurn: fc.boolean(),
  inch: fc.boolean(),
  order: fc.constantFrom('flat by flat', 'rough first', 'one pass all round'),
  measure: fc.constantFrom('no', 'all', 'the first pair', 'each pair'),
  dress: fc.constantFrom('no', 'no', 'before finishing', 'flats', 'volume'),
  reverse: fc.boolean(),
  coolant: fc.constantFrom('none', 'flood', 'mist'),
  startAbove: between(0, 0.2),
  clearance: between(0.5, 5),
  approach: between(0.1, 6),
  compensate: fc.boolean(),
  wornShare: between(0.0001, 0.04),
  hold: fc.option(between(0.2, 1)),
});

type Parts = typeof parts extends fc.Arbitrary<infer Value> ? Value : never;

export const randomJob: fc.Arbitrary<RandomJob> = parts.map(build);

function build(p: Parts): RandomJob {
  const relief = (p.reliefDeg * Math.PI) / 180;
  const { sides } = p.section;
  const flats = flatsOf(p);
  const reach = p.section.kind === 'lands' ? p.h * 1.2 : (p.h * 1.05) / Math.cos(Math.PI / sides);
  const size = 2 * reach * (1 + p.blankMargin);
  const length = Math.max(0.2, Math.min(30, (p.length * p.h) / Math.tan(relief)));
  // Half the widest flat; the blank bounds every one.
  const widest = (size / 2) * (p.blankShape === 'round' ? 1 : 1.5);
  const diameter = 2 * widest * p.wheel;
  const plain = layouts[p.layout].wheel === 'plain';
  const stickOut = length + 2 * size + p.clearance + p.nose * 0.2 + 2 + widest + (plain ? diameter : 0);
  const stock = size * 0.8 + (length + widest) * Math.tan(relief);
  const rough = Math.min(0.25, Math.max(0.02, stock / p.passes));
  const allowance = p.finishPasses * 0.01;
  const { slopes } = layouts[p.layout];
  const chucked = punchTurns(p.layout);
  const job = {
    title: 'random punch',
    units: 'mm',
    punch: {
      section: p.section.kind === 'regular' ? { sides } : { flats },
      ...(p.section.kind === 'regular'
        ? { [sides % 2 === 0 ? 'acrossFlats' : 'inscribedDiameter']: 2 * p.h }
        : {}),
      flatLength: length,
      relief: p.reliefDeg,
      headTilt: 1,
      corners: p.section.kind === 'lands' ? 'as the blank leaves them' : 'sharp',
      tolerance: { plus: 0, minus: 0 },
    },
    blank: {
      shape: p.section.kind === 'lands' ? 'round' : p.blankShape,
      size,
      turned: p.blankTurned,
      stickOut,
    },
    wheel: {
      ...(plain ? { shape: 'plain' } : {}),
      diameter,
      rim: plain ? 2 * widest * p.wheel : diameter / 10,
      height: 200,
      ratedSpeed: '60 m/s',
      // The rim loses at most this share of what a pass takes off.
      grindingRatio:
        (2 * widest * (length + 2 + (plain ? diameter / 2 : 0))) /
        (p.wornShare * Math.PI * diameter * (plain ? 2 * widest * p.wheel : 0.09 * diameter)),
    },
    grinding: {
      roughInfeed: rough,
      finishInfeed: 0.01,
      finishAllowance: allowance,
      sparkOut: p.sparkOut,
      spindleSpeed: Math.min(6000, Math.floor((50 * 60_000) / (Math.PI * diameter))),
      ...orderOf(p, size * size * length),
      coolant: p.coolant,
      clearance: p.clearance,
      startAbove: p.startAbove,
      approach: p.approach,
      wear: p.compensate ? 'compensate' : 'ignore',
      // At 10 mm/s: from what the widest stroke would take down to a fifth of it, above what two last digits take.
      limit: p.hold === null ? {} : { removalRate: 10 * 2 * widest * Math.max(0.002, p.hold * rough) },
    },
    holding: {
      index: p.rotary ? 'rotary axis' : 'by hand',
      // A fine enough step stands for any device; the devices have tests of their own.
      ...(p.rotary
        ? {}
        : { device: { kind: 'dividing head', ratio: 360, circles: [5 * 7 * 11 * 9 * 8, 1000] } }),
      slope: { by: slopes.length > 1 ? (p.head ? 'head' : 'fixture') : slopes[0] },
      nose: { halfHeight: p.nose },
    },
    machine: 'random',
  };
  const span = p.inch ? 400 : 10_000;
  const machine = {
    title: 'random machine',
    units: p.inch ? 'inch' : 'mm',
    layout: p.layout,
    travel: {
      x: [-span, span],
      z: [-span, span],
      ...(layouts[p.layout].across === 'none' ? {} : { y: [-span, span] }),
    },
    rapid: p.inch ? 120 : 3000,
    maxFeed: p.inch ? 80 : 2000,
    spindle: { min: 50, max: 6000, ...(chucked ? { switched: 'by hand' } : {}) },
    rotary: {
      ...(chucked ? { axis: 'C' } : {}),
      sense: p.reversed ? 'reversed' : 'standard',
      ...(p.clamped ? { clamp: 'M10', unclamp: 'M11' } : {}),
      mayTurnWithSpindle: chucked || p.mayTurn,
    },
    program: { decimals: p.inch ? 5 : 3, coolant: ['flood', 'mist'] },
  };
  const files = { job: JSON.stringify(job), machine: JSON.stringify(machine) };
  return {
    job: readJob(
      { file: 'random.yaml', text: files.job },
      { ...shippedTexts, machine: () => ({ file: 'machine.yaml', text: files.machine }) },
    ),
    text: `${files.job}\n${files.machine}`,
  };
}

/** In which order, and with which stops: what was drawn as far as it goes together. */
function orderOf(p: Parts, bulk: number): Readonly<Record<string, unknown>> {
  const allRound =
    p.order === 'one pass all round' && p.rotary && (p.mayTurn || punchTurns(p.layout)) && !p.compensate;
  const order = allRound ? p.order : p.order === 'one pass all round' ? 'rough first' : p.order;
  const inTurn = order === 'flat by flat';
  const paired = p.section.kind !== 'free' && p.section.sides % 2 === 0;
  const pairs = { 'the first pair': !allRound, 'each pair': inTurn };
  const stop =
    p.finishPasses === 0 || p.measure === 'no'
      ? 'none'
      : p.measure === 'all' || !paired || !pairs[p.measure]
        ? inTurn
          ? 'none'
          : 'after roughing'
        : `after ${p.measure}`;
  const dresses = {
    no: 'none',
    'before finishing': p.finishPasses === 0 || (inTurn && stop === 'none') ? 'none' : 'before finishing',
    flats: allRound ? 'none' : { flats: 2 },
    volume: allRound ? 'none' : { volume: `${bulk / 10} mm3` },
  };
  return {
    order,
    measuringStop: stop,
    dressingStop: dresses[p.dress],
    ...(inTurn || !p.reverse ? {} : { finishSequence: 'reversed' }),
  };
}

function flatsOf(p: Parts): readonly { readonly at: number; readonly distance: number }[] {
  const { sides } = p.section;
  const step = p.section.kind === 'lands' ? 180 : 360 / sides;
  return Array.from({ length: sides }, (_, i) => {
    const stretch = p.section.kind === 'free' ? (p.section.stretch[i] ?? 1) : 1;
    const turn = p.section.kind === 'free' ? p.section.turn : 0;
    // Whole thousandths of a degree, as an INDEX comment can say them.
    return { at: Math.round((i * step + turn) * 1000) / 1000, distance: p.h * stretch };
  });
}
