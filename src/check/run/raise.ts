/**
 * A run in the air: the operator has made the work offset of the infeed axis larger by so much, so that the whole program
 * runs higher over the punch. Every place it says lies that much farther up; what it says in machine coordinates does not.
 */
import { type Job, layoutOf } from '../../job/job.js';
import type { Machine } from '../../job/machine.js';
import type { Mm } from '../../quantity/unit.js';
import { type Arc, PLANE_AXES } from '../read/arc.js';
import type { Action } from '../read/execute.js';
import type { ModalState, Position } from '../read/state.js';

/** The machine with its work zero as the control then has it. */
export function raisedMachine(job: Job, by: Mm): Machine {
  const { axis, sign } = layoutOf(job).up;
  const { workZero } = job.machine;
  const zero = workZero?.[axis];
  if (by === 0 || workZero === undefined || zero === undefined) return job.machine;
  return { ...job.machine, workZero: { ...workZero, [axis]: zero + sign * by } };
}

function raised(job: Job, by: Mm, position: Position): Position {
  const { axis, sign } = layoutOf(job).up;
  const at = position[axis];
  return at === 'unknown' ? position : { ...position, [axis]: at + sign * by };
}

/** What a block does, where it really does it. */
export function raiseAction(job: Job, by: Mm, action: Action): Action {
  if (by === 0) return action;
  const up = (position: Position): Position => raised(job, by, position);
  if (action.kind === 'home') return { ...action, from: up(action.from) };
  if (action.kind !== 'move') return action;
  const { from, to, stoppedAt, arc } = action;
  const moved = { ...action, from: up(from), to: up(to), stoppedAt: up(stoppedAt) };
  return arc === 'straight' ? moved : { ...moved, arc: raiseArc(job, by, arc) };
}

/** How the control stands, its places where they really are. */
export const raiseState = (job: Job, by: Mm, state: ModalState): ModalState =>
  by === 0
    ? state
    : {
        ...state,
        position: raised(job, by, state.position),
        stoppedAt: raised(job, by, state.stoppedAt),
      };

/** An arc whose plane holds the infeed axis lies higher as a whole. */
function raiseArc(job: Job, by: Mm, arc: Arc): Arc {
  const { axis, sign } = layoutOf(job).up;
  const [first, second] = arc.centre;
  const index = (PLANE_AXES[arc.plane] as readonly string[]).indexOf(axis);
  if (index < 0) return arc;
  return { ...arc, centre: index === 0 ? [first + sign * by, second] : [first, second + sign * by] };
}
