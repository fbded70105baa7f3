/**
 * What each uncertainty does to the punch: worst case, the sum of |derivative x spread|, and root-sum-square.
 * A spread is plus or minus, two standard deviations. Derivatives are analytic, of plan/error-model:
 *   touch-off  1 / cos t        creep      tan t       side       1        edge   tan t / cos t
 *   slope      (R - u) / cos^3 t x (sin t, 1) + h tan t        eccentricity  n
 *   wear       lost / cos t     warmth     -a h                angle      none on a size, one on the angle
 * After a measuring stop the rim is set by a touch on a ground flat and the reading across it: edge and slope of the
 * first touch are gone, a feeler's touch and the reading, 1 / share, are left.
 * Source: propagation of errors, any text on measurement; JCGM 100, section 5 (from memory).
 */

import { aimedSection } from '../../job/aim.js';
import { type Job, lastDigit } from '../../job/job.js';
import { type Mm, mm } from '../../quantity/unit.js';
import { normal, opposite } from '../../section/flat.js';
import { readingShare } from '../../section/outline.js';
import { shiftRows } from '../../section/shift.js';
import type { WearOutlook } from '../totals.js';
import type { TouchOff } from '../touch-off.js';
import {
  centreOffset,
  type Grinding,
  heldGradient,
  heldSize,
  noErrors,
  realPunch,
  sparkPlace,
} from './model.js';

export const TERMS = [
  'touch-off',
  'edge',
  'stop reading',
  'slope',
  'creep',
  'eccentricity',
  'block size',
  'index angle',
  'backlash',
  'wear',
  'warmth',
  'reading',
] as const;
export type Term = (typeof TERMS)[number];

/** Plus or minus, of each term for this job; 0 where the set-up has no such thing. */
export interface Spreads extends Readonly<Record<Term, number>> {}

/** Worst case and root-sum-square of one term, or of all together. */
export interface Effect {
  readonly worst: number;
  readonly rss: number;
}

export interface BudgetRow {
  readonly term: Term;
  readonly spread: number;
  /** mm, the size that suffers most. */
  readonly size: Effect;
  /** mm. */
  readonly offset: Effect;
  /** Radians, between neighbouring flats. */
  readonly angle: Effect;
  /** Radians. */
  readonly relief: Effect;
}

export interface ErrorBudget {
  readonly grinding: Grinding;
  readonly spreads: Spreads;
  readonly rows: readonly BudgetRow[];
  readonly total: Omit<BudgetRow, 'term' | 'spread'>;
  /** What is known to be off on the mean, on the size that suffers most: above 0 if it comes out large. */
  readonly bias: { readonly size: Mm; readonly offset: Mm };
  /** The term that weighs most in the size. */
  readonly dominant: Term;
}

/** The spreads of this set-up: only what it has can be off. */
export function spreadsOf(job: Job): Spreads {
  const { spreads, holding, machine, punch, grinding } = job;
  const measured = grinding.measuringStop !== 'none';
  const { sineBar } = holding.slope;
  const rotary = holding.index === 'rotary axis' ? machine.rotary : undefined;
  return {
    // Set by a reading, nothing of the first touch is left; after dressing alone a touch on a flat adds to it.
    'touch-off': Math.hypot(
      measured ? spreads.touchFlat : spreads.touchOff,
      dressedAlone(grinding) ? spreads.touchFlat : 0,
      // What is typed is rounded to the last digit of the offset.
      lastDigit(job) / 2,
    ),
    edge: measured ? 0 : spreads.touchEdge,
    'stop reading': measured ? spreads.reading : 0,
    // d(asin(H / L)) = dH / (L cos t).
    slope:
      sineBar === undefined ? spreads.slopeAngle : spreads.slopeHeight / (sineBar * Math.cos(punch.relief)),
    creep: holding.slope.by === 'fixture' ? spreads.slopeCreep : 0,
    eccentricity: spreads.eccentricity,
    'block size': holding.device?.kind === 'indexing block' ? spreads.blockSize : 0,
    'index angle': spreads.indexAngle,
    // An axis that arrives from one side and is clamped shows none; unclamped it can be pushed back by half.
    backlash: rotary === undefined || rotary.clamp !== undefined ? 0 : rotary.backlash / 2,
    wear: spreads.wear,
    // Half of what is expected either way: the rest is known, and stands in the mean.
    warmth: warmthOf({ spreads, grinding }) / 2,
    reading: spreads.reading,
  };
}

/** Whether the wheel is dressed at stops at which nothing is measured. */
const dressedAlone = ({ dressingStop, measuringStop }: Job['grinding']): boolean =>
  dressingStop !== 'none' && (dressingStop !== 'before finishing' || measuringStop === 'none');

/** Kelvin a punch is warmer when finished than when measured cold; an estimate, see plan/heat. */
const USUAL_WARMTH = { dry: 40, wet: 5 } as const;

/** How warm the punch is expected to be when it is finished, kelvin over when it is measured. */
export const warmthOf = ({ spreads, grinding }: Pick<Job, 'spreads' | 'grinding'>): number =>
  spreads.temperature === 'estimated'
    ? USUAL_WARMTH[grinding.coolant === 'none' ? 'dry' : 'wet']
    : spreads.temperature;

/** What the budget needs to know of a plan. */
export interface Planned {
  readonly job: Job;
  readonly touchOff: TouchOff;
  readonly wear: WearOutlook;
}

/** What the model needs from a plan; wear counts from the last time the rim was set. */
export function grindingOf({ job, touchOff, wear }: Planned): Grinding {
  const lostAt = (list: WearOutlook['perFlat'], flat: number): number =>
    list.find((each) => each.flat === flat)?.loss.taken ?? 0;
  const { section } = job.punch;
  // The touch at the stop is made on the flat that is up, the reading is the mean of it and what lies opposite.
  const touched = wear.atStop.at(-1)?.flat ?? 0;
  const facing = opposite(section, touched - 1);
  const over =
    touched === 0 || facing === 'none'
      ? 0
      : (lostAt(wear.atStop, touched) - lostAt(wear.atStop, facing + 1)) / 2;
  return {
    job,
    aimed: aimedSection(job),
    overlap: touchOff.overlap,
    lost: section.map((_, i) => mm(lostAt(wear.perFlat, i + 1))),
    touchedOver: mm(over),
    warmth: warmthOf(job),
  };
}

/** One independent cause within a term: what it does to each distance and to each direction. */
export interface Cause {
  readonly distances: readonly number[];
  readonly angles: readonly number[];
  readonly relief: number;
  /** Adds to one reading alone. */
  readonly reading: number | 'none';
}

/** The independent causes of a term, for this set-up. */
export function causesOf(grinding: Grinding, term: Term): readonly Cause[] {
  const { job, lost, touchedOver } = grinding;
  const measured = job.grinding.measuringStop !== 'none';
  const { section, relief: t } = job.punch;
  const none = section.map(() => 0);
  const cause = (part: Partial<Cause>): Cause => ({
    distances: none,
    angles: none,
    relief: 0,
    reading: 'none',
    ...part,
  });
  const each = (part: (unit: readonly number[], i: number) => Partial<Cause>): readonly Cause[] =>
    section.map((_, i) =>
      cause(
        part(
          section.map((_, k) => (k === i ? 1 : 0)),
          i,
        ),
      ),
    );
  const all = (of: (distance: number, i: number) => number): readonly Cause[] => [
    cause({ distances: section.map(({ distance }, i) => of(distance, i)) }),
  ];
  const cos = Math.cos(t);
  switch (term) {
    case 'touch-off':
      return all(() => 1 / cos);
    case 'edge':
      return all(() => Math.tan(t) / cos);
    case 'stop reading':
      return all((_, i) => 1 / readingShare(section, job.blank, i));
    case 'slope': {
      const { reach, u } = sparkPlace(grinding);
      const spark = measured ? 0 : (reach * Math.sin(t) - u) / cos ** 2;
      return [
        cause({
          distances: section.map(({ distance }) => spark / cos + distance * Math.tan(t)),
          relief: 1,
        }),
      ];
    }
    case 'creep':
      return all(() => Math.tan(t));
    case 'eccentricity':
      return (['y', 'z'] as const).map((axis) =>
        cause({ distances: section.map(({ at }) => normal(at)[axis]) }),
      );
    case 'block size':
      return each((distances) => ({ distances }));
    case 'index angle':
    case 'backlash':
      return each((angles) => ({ angles }));
    case 'wear':
      return all((_, i) => ((lost[i] ?? 0) + touchedOver) / cos);
    case 'warmth':
      return all((distance) => -job.figures.expansion * distance);
    case 'reading':
      return each((_, i) => ({ reading: i }));
  }
}

const dot = (a: readonly number[], b: readonly number[]): number =>
  a.reduce((sum, value, i) => sum + value * (b[i] ?? 0), 0);

/** Terms whose causes are the two components of one vector of any direction. */
const VECTORS: ReadonlySet<Term> = new Set<Term>(['eccentricity']);

/** Spread through derivatives: one for each cause. */
function effect(term: Term, spread: number, derivatives: readonly number[]): Effect {
  const rss = spread * Math.hypot(...derivatives);
  const worst = VECTORS.has(term) ? rss : spread * derivatives.reduce((sum, each) => sum + Math.abs(each), 0);
  return { worst, rss };
}

/** Directions in which the farthest shift of the centre is looked for. */
const DIRECTIONS = 180;

/** What several causes do to the centre: their worst signs add up along one direction. */
function centreEffect(
  term: Term,
  spread: number,
  moves: readonly { readonly y: number; readonly z: number }[],
): Effect {
  const lengths = moves.map(({ y, z }) => Math.hypot(y, z));
  // A vector moves the centre by its own length, whichever way it points.
  if (VECTORS.has(term)) {
    const far = spread * Math.max(...lengths);
    return { worst: far, rss: far };
  }
  const along = Array.from({ length: DIRECTIONS }, (_, i) => {
    const angle = (Math.PI * i) / DIRECTIONS;
    return moves.reduce((sum, { y, z }) => sum + Math.abs(y * Math.cos(angle) + z * Math.sin(angle)), 0);
  });
  return { worst: spread * Math.max(...along), rss: spread * Math.hypot(...lengths) };
}

const largest = (effects: readonly Effect[]): Effect => ({
  worst: Math.max(0, ...effects.map(({ worst }) => worst)),
  rss: Math.max(0, ...effects.map(({ rss }) => rss)),
});

const together = (effects: readonly Effect[]): Effect => ({
  worst: effects.reduce((sum, { worst }) => sum + worst, 0),
  rss: Math.hypot(...effects.map(({ rss }) => rss)),
});

function rowOf(grinding: Grinding, term: Term, spread: number): BudgetRow {
  const { section } = grinding.job.punch;
  const causes = causesOf(grinding, term);
  const shift = shiftRows(section);
  const sizes = section.map((_, i) => {
    const gradient = heldGradient(grinding, i);
    return effect(
      term,
      spread,
      causes.map(
        (cause) =>
          dot(gradient.distances, cause.distances) +
          dot(gradient.angles, cause.angles) +
          (cause.reading === i ? 1 : 0),
      ),
    );
  });
  const angles = section.map((_, i) =>
    effect(
      term,
      spread,
      causes.map((cause) => (cause.angles[(i + 1) % section.length] ?? 0) - (cause.angles[i] ?? 0)),
    ),
  );
  const moves = causes.map(({ distances }) => ({ y: dot(shift.y, distances), z: dot(shift.z, distances) }));
  return {
    term,
    spread,
    size: largest(sizes),
    offset: centreEffect(term, spread, moves),
    angle: largest(angles),
    relief: effect(
      term,
      spread,
      causes.map(({ relief }) => relief),
    ),
  };
}

/** What is known to be off on the mean: wear that nobody takes back makes sizes large, warmth makes them small. */
export function biasOf(grinding: Grinding): { readonly size: Mm; readonly offset: Mm } {
  const { job, aimed } = grinding;
  const mean = realPunch(grinding, noErrors(aimed.length));
  const wanted = { section: aimed, relief: job.punch.relief };
  const sizes = aimed.map((_, i) => heldSize(grinding, mean, i) - heldSize(grinding, wanted, i));
  const offset = centreOffset(grinding, mean);
  const most = sizes.reduce((so, size) => (Math.abs(size) > Math.abs(so) ? size : so), 0);
  return { size: mm(most), offset: mm(Math.hypot(offset.y, offset.z)) };
}

/** Every term's effect, their sums, and what is off on the mean, for a plan without errors. */
export function errorBudget(plan: Planned): ErrorBudget {
  const grinding = grindingOf(plan);
  const spreads = spreadsOf(plan.job);
  const rows = TERMS.map((term) => rowOf(grinding, term, spreads[term]));
  return {
    grinding,
    spreads,
    rows,
    total: {
      size: together(rows.map(({ size }) => size)),
      offset: together(rows.map((row) => row.offset)),
      angle: together(rows.map(({ angle }) => angle)),
      relief: together(rows.map(({ relief }) => relief)),
    },
    bias: biasOf(grinding),
    dominant: rows.toSorted((a, b) => b.size.rss - a.size.rss)[0]?.term ?? 'touch-off',
  };
}

/** Half of a spread is one standard deviation. */
export const deviation = (spread: number): number => spread / 2;
