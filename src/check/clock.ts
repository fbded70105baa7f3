/**
 * How long a control takes for an action: t = L / F along the path of its linear axes, a turn at the axis' own speed,
 * whichever takes longer; a dwell its seconds. What hands take at a stop, and how fast a machine speeds up, is not in it.
 * Source: NISTIR 6556, 2.1.2.5 (feed along the path of the linear axes; of a rotary move alone in degrees).
 */
import { layouts } from '../job/layout.js';
import type { Machine } from '../job/machine.js';
import { type Seconds, seconds } from '../quantity/unit.js';
import type { Action } from './read/execute.js';
import { type Axis, type Coordinate, LINEAR } from './read/state.js';

type Move = Extract<Action, { kind: 'move' }>;

const change = (from: Coordinate, to: Coordinate): number =>
  typeof from === 'number' && typeof to === 'number' ? Math.abs(to - from) : 0;

/** Millimetres along a line or an arc; an axis whose place is not known counts nothing. */
function lengthOf({ from, to, arc }: Move, layout: Machine['layout']): number {
  // An X written as a diameter moves half of what is written.
  const moved = (axis: Axis): number =>
    change(from[axis], to[axis]) / (axis === 'x' && layouts[layout].xWritten === 'diameter' ? 2 : 1);
  if (arc === 'straight') return Math.hypot(...LINEAR.map(moved));
  const across = { G17: 'z', G18: 'y', G19: 'x' } as const;
  return Math.hypot(arc.radius * arc.sweep, moved(across[arc.plane]));
}

export function secondsOf(action: Action, machine: Machine): Seconds {
  if (action.kind === 'dwell') return seconds(action.seconds);
  if (action.kind !== 'move') return seconds(0);
  const [length, turned] = [lengthOf(action, machine.layout), change(action.from.a, action.to.a)];
  const alongPath = length === 0 ? 0 : length / (action.rapid ? machine.rapid : action.feed);
  const perMinute = (machine.rotary?.turnsPerMinute ?? Number.POSITIVE_INFINITY) * 360;
  const turning = turned / (action.rapid || length > 0 ? perMinute : action.feed);
  return seconds(60 * Math.max(alongPath, turning));
}
