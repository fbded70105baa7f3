/**
 * Where the wheel is, and where it may be without touching anything. A coordinate may be unknown: at the start of a
 * program, and after every stop. Then only two things are taken for sure, as the start check says: the wheel stands
 * above everything, or past the tip. From there it may go up by itself to over all, or along to a place past the tip;
 * both keep clear from wherever it stood. Lengths mm.
 *   over all:  max((R / cos t + S sin t), Hn cos t + S sin t) + clearance, R the circle the blank turns in
 *   past the tip:  reach >= R sin t + clearance
 */
import { type Job, layoutOf, slopeOf, topOfBox } from '../../job/job.js';
import { countsOf, fromMachine, type LinearAxis, type MachinePoint } from '../../job/layout.js';
import { ROUNDING } from '../../quantity/tolerance.js';
import { mm } from '../../quantity/unit.js';
import { circumradius } from '../../section/blank.js';
import { noseCorner, stockTop, tipEdge, type WheelPoint } from '../../wheel/frame.js';
import { besideEdge, tangentRise } from '../../wheel/periphery.js';
import { arcSpan, PLANE_AXES } from '../read/arc.js';
import type { Action } from '../read/execute.js';
import { axesApart, isUnknown, LINEAR, type Position } from '../read/state.js';

export type Move = Extract<Action, { readonly kind: 'move' }>;

/** The wheel frame point of a position; `unknown` if any of its axes is. */
export function wheelPoint(job: Job, { x, y, z }: Position): WheelPoint | 'unknown' {
  if (x === 'unknown' || y === 'unknown' || z === 'unknown') return 'unknown';
  return fromMachine(layoutOf(job), slopeOf(job), { x, y, z });
}

/** The same of places one after the other: where a move ends the next one begins, so the last one is kept. */
export function createPlacer(job: Job): (position: Position) => WheelPoint | 'unknown' {
  let last: { readonly position: Position; readonly point: WheelPoint | 'unknown' } | undefined;
  return (position) => {
    if (last?.position !== position) last = { position, point: wheelPoint(job, position) };
    return last.point;
  };
}

/** Least and most of an axis during a move, of what is known of it; an arc by the part it sweeps. */
export function spanOn({ from, to, arc }: Move, axis: LinearAxis): readonly [number, number] {
  if (arc !== 'straight') {
    const index = (PLANE_AXES[arc.plane] as readonly string[]).indexOf(axis);
    if (index === 0 || index === 1) return arcSpan(arc, index);
  }
  const ends = [from[axis], to[axis]].filter((value) => value !== 'unknown');
  return ends.length === 0 ? [0, 0] : [Math.min(...ends), Math.max(...ends)];
}

/** The corners of the box a move runs in, in the wheel frame. */
export function boxCorners(job: Job, move: Move): readonly WheelPoint[] {
  const corners = LINEAR.map((axis) => spanOn(move, axis)).reduce<readonly (readonly number[])[]>(
    (rows, span) => rows.flatMap((row) => span.map((value) => [...row, value])),
    [[]],
  );
  return corners.map(([x = 0, y = 0, z = 0]) => {
    const point: MachinePoint = { x, y, z };
    return fromMachine(layoutOf(job), slopeOf(job), point);
  });
}

export const linearChanged = ({ from, to }: Move): boolean => axesApart(from, to) > 0;

/** A feed move is straight; of a rapid only one that moves a single axis is, whatever the control. */
export function isStraight({ rapid, arc, from, to }: Move): boolean {
  if (arc !== 'straight') return false;
  return !rapid || axesApart(from, to) <= 1;
}

/** The same move from the place a stop left the wheel at, where that was ever said; `none` where it never was. */
export function fromStop(move: Move): Move | 'none' {
  if (!isUnknown(move.from)) return 'none';
  const from = { ...move.from };
  for (const axis of LINEAR) {
    if (from[axis] !== 'unknown') continue;
    if (move.stoppedAt[axis] === 'unknown') return 'none';
    from[axis] = move.stoppedAt[axis];
  }
  // An axis the move does not name stays where the stop left it.
  const to = { ...move.to };
  for (const axis of LINEAR) if (to[axis] === 'unknown') to[axis] = from[axis];
  return { ...move, from, to };
}

/** What is clear of a job's punch, nose and fixture, wherever else the wheel may be. */
export interface ClearOf {
  /** True if the punch may turn, or hands come near, with the wheel there. */
  readonly place: (point: WheelPoint) => boolean;
  /** True if nothing is above: the infeed axis, as programmed, stands over everything. */
  readonly overAll: (up: number) => boolean;
  /** True if the wheel is past the tip at any height. */
  readonly pastTip: (position: Position) => boolean;
}

export function clearOf(job: Job): ClearOf {
  const layout = layoutOf(job);
  const { along, up } = layout;
  const slope = job.punch.relief;
  const tilted = slopeOf(job).by === 'head';
  const { radius, periphery } = job.wheel;
  const turning = circumradius(job.blank);
  const clearance = job.grinding.clearance - 2 * ROUNDING;
  const nose = noseCorner(job.blank.stickOut, job.holding.nose.halfHeight, slope);
  const edge = tipEdge(turning, slope) + clearance;
  // With the head tilted the punch lies level and the rim dips on the shank side.
  const work = tilted
    ? Math.max(job.holding.nose.halfHeight, turning) + radius * Math.sin(slope)
    : Math.max(stockTop(turning, mm(-job.blank.stickOut), slope), nose.w);
  const dip = tilted ? radius * Math.sin(slope) : 0;
  const boxes = job.holding.boxes.map((box) => topOfBox(layout, box) + dip);
  const over = Math.max(work, ...boxes) + clearance;
  return {
    place: ({ u, w }) => {
      const reach = mm(u - radius);
      // Beside the tip a periphery reaches farther than its lowest line, over a slope it stands higher.
      const beside = besideEdge(periphery, turning * Math.cos(slope) - w, clearance);
      const rise = tangentRise(periphery, slope);
      return (
        reach - beside >= tipEdge(turning, slope) || w >= stockTop(turning, reach, slope) + rise + clearance
      );
    },
    overAll: (value) => (value * up.sign) / countsOf(layout, up.axis) >= over,
    pastTip: (position) => {
      const value = position[along.axis];
      // A tilted head moves both ways at once: how far it is past the tip hangs on its height.
      if (tilted || value === 'unknown') return false;
      return (value * along.sign) / countsOf(layout, along.axis) - radius - periphery >= edge;
    },
  };
}

/** What may be said of a move whose start is not wholly known. */
export type Start = 'known' | 'certain' | 'as the start check says' | 'uncertain';

/** How sure it is that a move keeps clear, judged by what is known of its start. */
export function startOf(job: Job, clear: ClearOf, move: Move): Start {
  if (!isUnknown(move.from)) return 'known';
  const { up, along } = layoutOf(job);
  const [before, after] = [move.from[up.axis], move.to[up.axis]];
  const moves = (axis: LinearAxis): boolean => move.from[axis] !== move.to[axis];
  const levelMoves = LINEAR.some((axis) => axis !== up.axis && moves(axis));
  const rises = after !== 'unknown' && clear.overAll(after);
  const high = before !== 'unknown' && clear.overAll(before);
  if (!levelMoves) {
    if (rises || before === after) return 'certain';
    // Down is certain only where it is known to be past the tip.
    return clear.pastTip(move.to) ? 'certain' : 'uncertain';
  }
  if (high && (before === after || rises)) return 'certain';
  // Boxes may stand past the tip: there the height must be known.
  if (job.holding.boxes.length > 0 || (before !== after && !rises)) return 'uncertain';
  return clear.pastTip(move.to) || !moves(along.axis) ? 'as the start check says' : 'uncertain';
}
