/**
 * The wheel sweeps the blank and the holding nose, move by move: how deep it goes, what it comes near to, what a
 * stroke leaves. Only geometry; what is wrong with it is for check/run/rules to say. What is certain: level strokes
 * through the axis that run out past the metal, since a cup is hollow behind its rim; and straight moves that touch
 * nothing. Everything else is taken on the safe side: an arc, or a rapid that moves two axes, as the box it runs in.
 */
import { takenBack } from '../../job/block.js';
import type { Job } from '../../job/job.js';
import { layoutOf } from '../../job/job.js';
import { distanceOf, type Floor, type StandingFlat } from '../../job/standing.js';
import { INDEX_WITHIN, NO_BITE, ROUNDING, SAME_INDEX } from '../../quantity/tolerance.js';
import { type Mm, mm, type Rad, rad } from '../../quantity/unit.js';
import { blankSupport, circumradius } from '../../section/blank.js';
import { between, type Section } from '../../section/flat.js';
import { flatHeight, noseCorner, tipEdge, type WheelPoint } from '../../wheel/frame.js';
import { restsAt } from '../../wheel/periphery.js';
import type { Position } from '../read/state.js';
import { boxCorners, createPlacer, isStraight, type Move, spanOn } from './place.js';
import {
  breaks,
  deepest,
  highestUnder,
  type IndexRecord,
  type RimMove,
  stockAfter,
  stockOf,
} from './stock.js';
import { createWear } from './wear.js';

/** Which wheel is swept: as the job has it, worn where it compensates, or as if it never wore. */
export type Rim = 'as predicted' | 'unworn';

/** What a move comes to. Depths are negative where the wheel stays clear by that much. */
export interface Swept {
  /** Deepest into the punch. */
  readonly depth: number;
  /** Deepest into the punch as it may be: its raw top higher by what the job allows for run-out. */
  readonly rawDepth: number;
  /** It goes down nearer to metal than the job's approach. */
  readonly plungesNear: boolean;
  /** It goes straight up, or back from the metal, from where it stands. */
  readonly leaves: boolean;
  readonly intoNose: number;
  /** How deep the guard that stays on goes into blank or nose; negative where it stays clear, or there is none. */
  readonly intoGuard: number;
  /** How far the rim goes below the lowest flat, where it could meet fixture or punch. */
  readonly below: number;
  /** A level stroke along the punch; what it leaves, which way it runs, how far beside the axis. */
  readonly stroke: Stroke | 'none';
}

export interface Stroke {
  readonly cut: Floor;
  readonly inward: boolean;
  readonly offCentre: number;
  /** How far the metal reaches past what the rim has swept: it stands under the hollow of the cup. */
  readonly staysInside: number;
}

export interface Sweep {
  /** Turns the punch to `at`; the stock seen from there is what earlier strokes there left. */
  readonly turnTo: (at: Rad) => void;
  /** The turn is not known any more. */
  readonly forgetTurn: () => void;
  /** What the move meets; nothing changes. Both ends must be known. */
  readonly meets: (move: Move) => Swept;
  /** Takes the stroke away from the stock. */
  readonly grind: (swept: Swept) => void;
  /** True if the rim at this place is nearer to metal than `gap`, beside it or over it. */
  readonly isNear: (position: Position, gap: number) => boolean;
  /** The rim is set anew: wear counts from here. */
  readonly setAnew: () => void;
  readonly records: () => readonly IndexRecord[];
  /** The index that is up: its direction and the stock there. */
  readonly current: () => IndexRecord;
  /** Where the rim's centre really stands, wear taken in. */
  readonly place: (position: Position) => WheelPoint | 'unknown';
}

/** Past the tip by this more than the clearance, neither punch nor nose is near, mm; common practice, no source. */
const WELL_PAST = 10;

/** The rim's farthest reach and height with its centre at a place. */
const rimAt =
  (job: Job, lost: () => number) =>
  ({ u, w }: WheelPoint): Floor => ({ reach: u - job.wheel.radius, w: w + lost() });

/** One sweep of a job with one of its rims. */
export function createSweep(job: Job, which: Rim): Sweep {
  const slope = job.punch.relief;
  const { radius, periphery } = job.wheel;
  const turning = circumradius(job.blank);
  const records: IndexRecord[] = [...standingRecords(job)];
  // Before the first index any side of the blank may be up.
  let current = newRecord(job, rad(0), turning);
  let indexed = false;
  const wear = createWear(job);
  // A block that holds the axis high brings the punch as much nearer.
  const rim = rimAt(
    job,
    () => (which === 'unworn' ? 0 : wear.lost()) - (indexed ? takenBack(job, current.at) : 0),
  );
  const nose = createNose(job);
  const { plus, minus } = job.punch.tolerance;
  const lowest = Math.min(
    ...job.punch.section.map(({ distance }) => flatHeight(mm(distance - (plus + minus) / 2), slope)),
  );
  const { startAbove, clearance } = job.grinding;
  // In the clear position the clearance is all there is.
  const approach = Math.min(job.grinding.approach, clearance);
  const wellPast = tipEdge(turning, slope) + clearance + WELL_PAST;
  const pointAt = createPlacer(job);

  /** The nearest the rim can come to the work within the box a move runs in, as a move that stays there. */
  const boxOf = (move: Move): { readonly from: Floor; readonly to: Floor } => {
    const rims = boxCorners(job, move).map(rim);
    const nearest = {
      reach: Math.min(...rims.map(({ reach }) => reach)),
      w: Math.min(...rims.map(({ w }) => w)),
    };
    return { from: nearest, to: nearest };
  };

  /** The least the wheel's centre lies beside the tool axis during a move. */
  const { across } = layoutOf(job);
  const besideWork = (move: Move): number => {
    if (across === 'none') return 0;
    const [from, to] = [move.from[across.axis], move.to[across.axis]];
    // Nearly every move stays on the axis.
    if (from === 0 && to === 0 && move.arc === 'straight') return 0;
    const [least, most] = spanOn(move, across.axis);
    return least <= 0 && most >= 0 ? 0 : Math.min(Math.abs(least), Math.abs(most));
  };

  const clear: Swept = {
    depth: Number.NEGATIVE_INFINITY,
    rawDepth: Number.NEGATIVE_INFINITY,
    plungesNear: false,
    leaves: false,
    intoNose: Number.NEGATIVE_INFINITY,
    intoGuard: Number.NEGATIVE_INFINITY,
    below: 0,
    stroke: 'none',
  };

  /** How deep the guard goes, beside the rim and back from its face, anywhere along a move. */
  const guardIn = (ends: RimMove): number => {
    const { guard } = job.machine;
    if (guard === undefined) return Number.NEGATIVE_INFINITY;
    const { stock } = current;
    const out = periphery + guard.beside;
    // Where strokes of a plain wheel have left a curve the raw blank is taken, which is higher.
    const cup = periphery > 0 ? { ...stock, periphery: mm(0), floors: [] } : stock;
    const top = (reach: number): number =>
      Math.max(highestUnder(cup, reach - out), noseTop(job, reach - out));
    return deepest(top, () => breaks(cup).map((at) => at + out), ends) - guard.back;
  };

  // The stock that is up, as it stands: asked at every move, so made once.
  const highest = (reach: number): number => highestUnder(current.stock, reach);
  const highestRaw = (reach: number): number => highestUnder(current.stock, reach, startAbove - ROUNDING);
  const near = approach - 2 * ROUNDING;
  const highestNear = (reach: number): number => highestRaw(reach - near);
  const steps = (): readonly number[] => breaks(current.stock);
  const stepsNear = (): readonly number[] => steps().map((at) => at + near);
  const noseSteps = (): readonly number[] => nose.steps;

  const meets = (move: Move): Swept => {
    const start = pointAt(move.from);
    const end = pointAt(move.to);
    if (end === 'unknown' || start === 'unknown') return clear;
    const straight = isStraight(move);
    const ends = straight ? { from: rim(start), to: rim(end) } : boxOf(move);
    const farOff = ends.to.reach - periphery > wellPast;
    const below = which === 'unworn' || farOff ? 0 : Math.max(0, lowest - ends.to.w);
    const intoNose = deepest(nose.top, noseSteps, ends);
    const intoGuard = guardIn(ends);
    if (besideWork(move) > radius + periphery + turning) return { ...clear, below, intoNose, intoGuard };
    const depth = deepest(highest, steps, ends);
    const down = straight && ends.to.w < ends.from.w - ROUNDING;
    const level = straight && !move.rapid && Math.abs(end.w - start.w) <= ROUNDING;
    const stroke = level && ends.from.reach !== ends.to.reach;
    return {
      depth,
      // Over ground metal the rim may run as low as the flat; over the raw blank it keeps off its run-out.
      rawDepth: move.rapid ? deepest(highestRaw, steps, ends) : depth,
      plungesNear: down && deepest(highestNear, stepsNear, ends) > ROUNDING,
      leaves:
        straight &&
        ends.to.w > ends.from.w &&
        ends.to.reach >= ends.from.reach - ROUNDING &&
        depth <= ROUNDING,
      intoNose,
      intoGuard,
      below,
      stroke: stroke
        ? {
            cut: {
              reach: Math.min(ends.from.reach, ends.to.reach),
              w: Math.min(ends.from.w, ends.to.w),
            },
            inward: ends.to.reach < ends.from.reach,
            offCentre: Math.max(Math.abs(start.v), Math.abs(end.v)),
            staysInside: insideBy(Math.max(ends.from.reach, ends.to.reach), Math.min(ends.from.w, ends.to.w)),
          }
        : 'none',
    };
  };

  /** How far metal above `w` reaches past the rim's inner edge when it stands farthest out. */
  const insideBy = (reach: number, w: number): number => {
    // A periphery is no hollow.
    if (periphery > 0) return 0;
    const swept = reach + job.wheel.rim;
    const { stock } = current;
    return highestUnder(stock, swept) > w + NOTHING_LEFT ? stock.edge - swept : 0;
  };

  return {
    turnTo: (at) => {
      indexed = true;
      const known = records.find((record) => between(record.at, at) <= SAME_INDEX);
      current = known ?? newRecord(job, at, blankSupport(job.blank, at));
      if (known === undefined) records.push(current);
    },
    forgetTurn: () => {
      indexed = false;
      current = newRecord(job, rad(0), turning);
    },
    meets,
    grind: ({ stroke, depth }) => {
      if (stroke === 'none') return;
      if (stroke.inward) note(current, stroke.cut, depth);
      if (which !== 'unworn') wear.stroke(current, records, stroke.cut);
      // What stands under the hollow of the cup stays, however little it is: creeping adds up.
      if (stroke.staysInside <= 0) current.stock = stockAfter(current.stock, stroke.cut);
    },
    isNear: (position, gap) => {
      const place = pointAt(position);
      if (place === 'unknown') return false;
      const { reach, w } = rim(place);
      const beside = Math.abs(place.v) > radius + periphery + turning;
      return !beside && highestUnder(current.stock, reach - gap) > w - gap;
    },
    setAnew: wear.setAnew,
    records: () => records,
    current: () => current,
    place: (position) => {
      const point = pointAt(position);
      return point === 'unknown' ? point : { ...point, w: rim(point).w };
    },
  };
}

/** The flats that are there already, as if an earlier program had left them. */
export const standingRecords = (job: Job): readonly IndexRecord[] =>
  job.standing.map((flat) => newRecord(job, flat.at, blankSupport(job.blank, flat.at), flat));

const newRecord = (
  { punch: { relief: slope }, wheel: { periphery } }: Job,
  at: Rad,
  support: Mm,
  flat: StandingFlat | 'none' = 'none',
): IndexRecord => ({
  at,
  stock: stockOf({
    support,
    periphery,
    // A flat that stands has taken the corner off the tip.
    edge: tipEdge(flat === 'none' ? support : mm(Math.min(support, distanceOf(flat, slope))), slope),
    slope,
    floors: flat === 'none' ? [] : flat.floors,
  }),
  passes: 0,
  deepestBite: 0,
  bites: 0,
  biting: 0,
  sparkOut: 0,
});

/** Top of the nose itself under a place; nothing past its front. */
function noseTop({ blank, holding, punch }: Job, u: number): number {
  const corner = noseCorner(blank.stickOut, holding.nose.halfHeight, punch.relief);
  return u > corner.u ? Number.NEGATIVE_INFINITY : corner.w + (corner.u - u) * Math.tan(punch.relief);
}

/** Places at which a slanting move of a plain wheel is held against the nose. */
const NOSE_LOOKS = 400;

/** The nose counts as endless to both sides, and as larger by the clearance the job keeps. */
function createNose(job: Job): {
  readonly top: (reach: number) => number;
  readonly steps: readonly number[];
} {
  const slope = job.punch.relief;
  const nose = noseCorner(job.blank.stickOut, job.holding.nose.halfHeight, slope);
  const clearance = job.grinding.clearance - 2 * ROUNDING;
  const edge = nose.u + clearance;
  const { periphery } = job.wheel;
  const topAt = (u: number): number => nose.w + clearance + Math.max(0, nose.u - u) * Math.tan(slope);
  if (periphery > 0)
    return {
      top: (u) => restsAt({ top: topAt, corners: [nose.u], end: edge }, u, periphery, slope),
      steps: Array.from(
        { length: NOSE_LOOKS },
        (_, i) => edge - periphery + (2 * periphery * i) / NOSE_LOOKS,
      ),
    };
  return {
    top: (reach) => (reach > edge ? Number.NEGATIVE_INFINITY : topAt(reach)),
    steps: [edge, nose.u],
  };
}

function note(record: IndexRecord, cut: Floor, depth: number): void {
  record.passes += 1;
  if (depth > NO_BITE) {
    record.deepestBite = Math.max(record.deepestBite, depth);
    record.bites += depth;
    record.biting += 1;
    record.sparkOut = 0;
    return;
  }
  const lowest = record.stock.floors.at(-1);
  const overAll = lowest !== undefined && cut.w <= lowest.w + NO_BITE && cut.reach <= lowest.reach + ROUNDING;
  if (overAll) record.sparkOut += 1;
}

/** Metal less than this over the rim's path is none, mm. */
const NOTHING_LEFT = 1e-6;

/** How deep a stroke at height `w` of the flat at `at` may bite: below the finish allowance, a finish infeed. */
export type AllowedBite = (at: Rad | 'unknown', w: number) => Mm;

/** @param section what the passes aim at. */
export function allowedBites(job: Job, section: Section): AllowedBite {
  const { roughInfeed, finishInfeed, finishAllowance } = job.grinding;
  const first = section[0];
  const alike = section.every(({ distance }) => distance === first?.distance);
  const roughedAt = (at: Rad | 'unknown'): number => {
    const own = at === 'unknown' ? undefined : section.find((flat) => between(flat.at, at) <= INDEX_WITHIN);
    // A section turned as a whole has its flats elsewhere; where all are alike it does not matter which this is.
    const flat = own ?? (alike && at !== 'unknown' ? first : undefined);
    return flat === undefined
      ? Number.NEGATIVE_INFINITY
      : flatHeight(flat.distance, job.punch.relief) + finishAllowance;
  };
  // Strokes come many at one flat.
  let last = { at: 'unknown' as Rad | 'unknown', roughed: roughedAt('unknown') };
  return (at, w) => {
    if (at !== last.at) last = { at, roughed: roughedAt(at) };
    return mm(w < last.roughed - ROUNDING ? finishInfeed : roughInfeed);
  };
}
