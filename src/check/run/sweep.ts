/**
 * The wheel sweeps the blank and the holding nose, move by move. What is certain: level strokes through
 * the axis, and straight moves that touch nothing. Everything else that meets metal is a finding, taken
 * on the safe side: an arc, or a rapid that moves two axes, counts as the whole box it runs in.
 */
import { type Job, layoutOf, slopeOf } from '../../job/job.js';
import { fromMachine, type MachinePoint } from '../../job/layout.js';
import { NO_BITE, ROUNDING, SAME_INDEX } from '../../quantity/tolerance.js';
import { type Mm, mm, mm3PerS, mmPerMin, type Rad } from '../../quantity/unit.js';
import { blankSupport, circumradius } from '../../section/blank.js';
import { between } from '../../section/flat.js';
import { flatHeight, noseCorner, stockTop, tipEdge, type WheelPoint } from '../../wheel/frame.js';
import { greatestArea } from '../../wheel/layer.js';
import type { FindingBody } from '../finding.js';
import { PLANE_AXES } from '../read/arc.js';
import type { Action } from '../read/execute.js';
import { LINEAR, type Position } from '../read/state.js';
import { afterStroke, breaks, deepest, type Floor, highestUnder, type IndexRecord } from './stock.js';
import { createWear, layerTaken } from './wear.js';

export type Move = Extract<Action, { readonly kind: 'move' }>;

/** Which way the wheel is off the axis beyond which a stroke is not vouched for, mm. */
const OFF_CENTRE: Mm = mm(0.05);
/** A rapid closer to ground metal than this rubs. */
const RUBS: Mm = mm(0.002);

/** A hair over an ordered feed is how its last digit rounds. */
const FEED_SLACK = 1.001;

export interface Sweep {
  /** Turns the punch to `at`; the stock seen from there is what earlier strokes there left. */
  readonly turnTo: (at: Rad) => void;
  readonly move: (move: Move) => readonly FindingBody[];
  /** True if the punch may turn, or hands come near, with the wheel at this place. */
  readonly isClear: (position: Position) => boolean;
  /** True if the last move met metal. */
  readonly touched: () => boolean;
  readonly records: () => readonly IndexRecord[];
  /** The index that is up: its direction and the stock there. */
  readonly current: () => IndexRecord;
  /** Where the rim's centre really stands, wear taken in. */
  readonly place: (position: Position) => WheelPoint | 'unknown';
}

/** The wheel frame point of a position whose linear axes are all known. */
export function wheelPoint(job: Job, position: Position): WheelPoint | 'unknown' {
  const known: Record<'x' | 'y' | 'z', number> = { x: 0, y: 0, z: 0 };
  for (const axis of LINEAR) {
    const value = position[axis];
    if (value === 'unknown') {
      if (job.machine.travel[axis] !== undefined) return 'unknown';
    } else known[axis] = value;
  }
  return fromMachine(layoutOf(job), slopeOf(job), known);
}

/** A compensated pass may bite so much deeper with a wheel that has not worn; the planner keeps losses under it. */
const UNWORN_SLACK = 1.1;

/** Which wheel is swept: as the job has it, worn where it compensates, or as if it never wore. */
type Rim = 'as predicted' | 'unworn';

/**
 * The sweep of a job. Where wear is compensated the punch is measured with the wheel worn as predicted, but nothing
 * may be hit by a wheel that has not worn either: both are swept, and what either meets is found.
 */
export function createSweep(job: Job): Sweep {
  const predicted = createOne(job, 'as predicted');
  if (job.grinding.wear !== 'compensate') return predicted;
  const unworn = createOne(job, 'unworn');
  return {
    ...predicted,
    turnTo: (at) => {
      predicted.turnTo(at);
      unworn.turnTo(at);
    },
    move: (move) => {
      const findings = predicted.move(move);
      const more = unworn.move(move).filter(({ code }) => !findings.some((known) => known.code === code));
      return more.length === 0 ? findings : [...findings, ...more];
    },
    isClear: (position) => predicted.isClear(position) && unworn.isClear(position),
    touched: () => predicted.touched() || unworn.touched(),
  };
}

function createOne(job: Job, which: Rim): Sweep {
  const slope = job.punch.relief;
  const wheelRadius = job.wheel.radius;
  const turning = circumradius(job.blank);
  const nose = noseCorner(job.blank.stickOut, job.holding.nose.halfHeight, slope);
  const records: IndexRecord[] = [];
  const recordAt = (at: Rad, support: Mm): IndexRecord => ({
    at,
    stock: { support, slope, floors: [] },
    passes: 0,
    deepestBite: 0,
    bites: 0,
    biting: 0,
    sparkOut: 0,
  });
  // Before the first index any side of the blank may be up.
  let current = recordAt(0 as Rad, turning);
  let indexed = false;
  let touched = false;

  const wear = createWear(job);
  const lost = (): number => (which === 'unworn' ? 0 : wear.lost());
  const rim = ({ u, w }: WheelPoint): Floor => ({ reach: u - wheelRadius, w: w + lost() });
  // The nose counts as endless to both sides, and as larger by the clearance the job keeps.
  const clearance = job.grinding.clearance - 2 * ROUNDING;
  const noseEdge = nose.u + clearance;
  const noseTop = (reach: number): number =>
    reach > noseEdge
      ? Number.NEGATIVE_INFINITY
      : nose.w + clearance + Math.max(0, nose.u - reach) * Math.tan(slope);
  const overAll =
    Math.max(stockTop(turning, mm(-job.blank.stickOut), slope), nose.w) + job.grinding.clearance;
  const noseSteps = [noseEdge, nose.u];
  const lowest = Math.min(...job.punch.section.map(({ distance }) => flatHeight(distance, slope)));

  const turnTo = (at: Rad): void => {
    indexed = true;
    const known = records.find((record) => between(record.at, at) <= SAME_INDEX);
    current = known ?? recordAt(at, blankSupport(job.blank, at));
    if (known === undefined) records.push(current);
  };

  const isClear = (position: Position): boolean => {
    const place = wheelPoint(job, position);
    if (place === 'unknown') return false;
    const { reach, w } = rim(place);
    return (
      reach >= tipEdge(turning, slope) + clearance || w >= stockTop(turning, mm(reach), slope) + clearance
    );
  };

  /** The least the wheel's centre lies beside the tool axis during a move. */
  const besideWork = (action: Move): number => {
    const across = layoutOf(job).across;
    // Not said yet: it may stand anywhere, over the work too.
    if (across === 'none' || action.from[across.axis] === 'unknown') return 0;
    const [least, most] = spanOn(action, across.axis);
    return least <= 0 && most >= 0 ? 0 : Math.min(Math.abs(least), Math.abs(most));
  };

  const move = (action: Move): readonly FindingBody[] => {
    touched = false;
    const to = wheelPoint(job, action.to);
    const from = wheelPoint(job, action.from);
    if (from === 'unknown' && !action.rapid && linearChanged(action)) return [{ code: 'start-unknown' }];
    // The rim comes down only where it is known to be; up to where nothing stands it may always go.
    if (to === 'unknown') {
      const { z } = action.to;
      return z === action.from.z || (z !== 'unknown' && z >= overAll) ? [] : [{ code: 'start-unknown' }];
    }
    // From an unknown start the wheel comes, as the start check says, from above and beyond the tip.
    const straight = isStraight(action) && from !== 'unknown';
    const ends = straight ? { from: rim(from), to: rim(to) } : boxOf(job, action, rim);
    const findings: FindingBody[] = [];
    const low = rim(to).w;
    // How far an unworn wheel cuts under the flats is a matter of size, not of safety.
    if (which !== 'unworn' && low < lowest - RUBS)
      findings.push({ code: 'below-the-flats', by: mm(lowest - low) });
    const intoNose = deepest(noseTop, () => noseSteps, ends);
    if (intoNose > 0) findings.push({ code: 'wheel-near-nose', clearance: job.grinding.clearance });
    if (besideWork(action) > wheelRadius + turning) return findings;
    const depth = deepest(
      (reach) => highestUnder(current.stock, reach),
      () => breaks(current.stock),
      ends,
    );
    if (action.rapid) {
      touched = depth > -RUBS;
      return touched ? [...findings, { code: 'rapid-in-stock', depth: mm(Math.max(0, depth)) }] : findings;
    }
    touched = depth > -ROUNDING;
    const level = straight && Math.abs(to.w - from.w) <= ROUNDING;
    if (!level || ends.from.reach === ends.to.reach) {
      return depth > ROUNDING ? [...findings, { code: 'infeed-in-stock', depth: mm(depth) }] : findings;
    }
    if (!touched) return findings;
    const offCentre = Math.max(Math.abs(from.v), Math.abs(to.v));
    if (offCentre > OFF_CENTRE) findings.push({ code: 'stroke-off-centre', v: mm(offCentre) });
    return [...findings, ...stroke(action, ends, depth)];
  };

  /** A held removal rate: area of the layer times the feed. */
  const overLimit = (cut: Floor, feed: number): readonly FindingBody[] => {
    const limit = job.grinding.limit.removalRate;
    if (limit === undefined) return [];
    const taken = layerTaken(job, current, records, cut);
    if (taken === 'nothing') return [];
    const { stage, layer, end } = taken;
    // Two rounded heights may lie that much farther apart than they were meant to.
    const area = greatestArea(stage, { ...layer, to: mm(layer.to + ROUNDING) }, end);
    const rate = mm3PerS((area * feed) / 60);
    return rate > limit ? [{ code: 'stroke-over-limit', rate, limit }] : [];
  };

  const stroke = (
    action: Move,
    ends: { readonly from: Floor; readonly to: Floor },
    depth: number,
  ): FindingBody[] => {
    const cut: Floor = {
      reach: Math.min(ends.from.reach, ends.to.reach),
      w: Math.min(ends.from.w, ends.to.w),
    };
    const findings: FindingBody[] = [];
    const allowed =
      which === 'unworn'
        ? mm(job.grinding.roughInfeed * UNWORN_SLACK)
        : allowedBite(job, current.at, cut.w, indexed);
    if (depth > allowed + ROUNDING) findings.push({ code: 'stroke-too-deep', depth: mm(depth), allowed });
    const ordered = job.grinding.strokeSpeed;
    if (action.feed > ordered * FEED_SLACK) {
      findings.push({ code: 'stroke-too-fast', feed: mmPerMin(action.feed), allowed: ordered });
    }
    if (which !== 'unworn') findings.push(...overLimit(cut, action.feed));
    if (ends.to.reach < ends.from.reach) note(current, cut, depth);
    if (which !== 'unworn') wear.stroke(current, records, cut);
    current.stock = afterStroke(current.stock, cut);
    return findings;
  };

  const place = (position: Position): WheelPoint | 'unknown' => {
    const point = wheelPoint(job, position);
    return point === 'unknown' ? point : { ...point, w: rim(point).w };
  };

  return {
    turnTo,
    move,
    isClear,
    touched: () => touched,
    records: () => records,
    current: () => current,
    place,
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

/** A stroke that ends below the finish allowance of its flat may bite no more than a finish infeed. */
function allowedBite(job: Job, at: Rad, w: number, indexed: boolean): Mm {
  const { roughInfeed, finishInfeed, finishAllowance } = job.grinding;
  const flat = indexed
    ? job.punch.section.find((ordered) => between(ordered.at, at) <= SAME_INDEX)
    : undefined;
  if (flat === undefined) return roughInfeed;
  const roughed = flatHeight(flat.distance, job.punch.relief) + finishAllowance;
  return w < roughed - ROUNDING ? finishInfeed : roughInfeed;
}

const linearChanged = ({ from, to }: Move): boolean => LINEAR.some((axis) => from[axis] !== to[axis]);

/** A feed move is straight; of a rapid only one that moves a single axis is, whatever the control. */
function isStraight({ rapid, arc, from, to }: Move): boolean {
  if (arc !== 'straight') return false;
  return !rapid || LINEAR.filter((axis) => from[axis] !== to[axis]).length <= 1;
}

/** The nearest the rim can come to the work within the box a move runs in, as a move that stays there. */
function boxOf(
  job: Job,
  move: Move,
  rim: (point: WheelPoint) => Floor,
): { readonly from: Floor; readonly to: Floor } {
  const spans = LINEAR.map((axis) => spanOn(move, axis));
  const corners = spans.reduce<readonly (readonly number[])[]>(
    (rows, span) => rows.flatMap((row) => span.map((value) => [...row, value])),
    [[]],
  );
  const rims = corners.map(([x = 0, y = 0, z = 0]) => {
    const point: MachinePoint = { x, y, z };
    return rim(fromMachine(layoutOf(job), slopeOf(job), point));
  });
  const nearest = {
    reach: Math.min(...rims.map(({ reach }) => reach)),
    w: Math.min(...rims.map(({ w }) => w)),
  };
  return { from: nearest, to: nearest };
}

/** Least and most of an axis during a move; an arc may bulge out as far as its circle. */
export function spanOn({ from, to, arc }: Move, axis: (typeof LINEAR)[number]): readonly [number, number] {
  const ends = [from[axis], to[axis]].filter((value) => value !== 'unknown');
  if (arc !== 'straight') {
    const index = (PLANE_AXES[arc.plane] as readonly string[]).indexOf(axis);
    const centre = arc.centre[index];
    if (centre !== undefined) return [centre - arc.radius, centre + arc.radius];
  }
  return ends.length === 0 ? [0, 0] : [Math.min(...ends), Math.max(...ends)];
}
