/** What a control holds between blocks, in the checker's units: mm, degrees, seconds. */
import type { Machine } from '../../job/machine.js';
import type { LengthUnit } from '../../quantity/unit.js';

export const LINEAR = ['x', 'y', 'z'] as const;
export const AXES = [...LINEAR, 'a'] as const;
export type Axis = (typeof AXES)[number];

/** A coordinate the program has not said yet. */
export type Coordinate = number | 'unknown';

/** Programmed position: linear axes in mm, the rotary axis (whatever its letter) in degrees. */
export type Position = Readonly<Record<Axis, Coordinate>>;

export interface ModalState {
  readonly motion: 'G0' | 'G1' | 'G2' | 'G3' | 'none';
  readonly plane: 'G17' | 'G18' | 'G19';
  readonly units: LengthUnit | 'unsaid';
  readonly distance: 'absolute' | 'incremental' | 'unsaid';
  readonly feedMode: 'per minute' | 'inverse time';
  /** F as written: program units or degrees per minute, or 1/min in inverse time; 0 until said. */
  readonly feed: number;
  /** rev/min; `unsaid` until an S word. */
  readonly speed: number | 'unsaid';
  readonly spindle: 'off' | 'clockwise' | 'counter-clockwise';
  readonly flood: boolean;
  readonly mist: boolean;
  readonly position: Position;
  /** Where each axis stood when a program stop made it unknown: the operator may have left it there. */
  readonly stoppedAt: Position;
  /** Start-up codes said so far, of those that a left-over would make dangerous. */
  readonly said: ReadonlySet<string>;
  /** The last tool word. */
  readonly tool: number | 'unsaid';
  readonly ended: boolean;
}

/** True if any linear axis of the position is not known. */
export const isUnknown = ({ x, y, z }: Position): boolean =>
  x === 'unknown' || y === 'unknown' || z === 'unknown';

/** How many linear axes stand elsewhere. */
export const axesApart = (one: Position, other: Position): number =>
  Number(one.x !== other.x) + Number(one.y !== other.y) + Number(one.z !== other.z);

const NOWHERE: Position = { x: 'unknown', y: 'unknown', z: 'unknown', a: 'unknown' };

/**
 * What is taken as said before a program says anything: nothing that matters. The plane is RS274/NGC's
 * default (NISTIR 6556, 3.5); feed per minute and the offsets the watch asks for.
 */
const START: ModalState = {
  motion: 'none',
  plane: 'G17',
  units: 'unsaid',
  distance: 'unsaid',
  feedMode: 'per minute',
  feed: 0,
  speed: 'unsaid',
  spindle: 'off',
  flood: false,
  mist: false,
  position: NOWHERE,
  stoppedAt: NOWHERE,
  said: new Set(),
  tool: 'unsaid',
  ended: false,
};

/** An axis the machine has not got stands at zero for good. */
const withoutMissing = (position: Position, machine: Machine): Position =>
  machine.travel.y === undefined ? { ...position, y: 0 } : position;

/** A control of `machine` at power-up. Without a word for it, axis letters are absolute. */
export const powerUp = (machine: Machine): ModalState => ({
  ...START,
  distance: machine.program.absoluteCode === 'none' ? 'absolute' : 'unsaid',
  position: withoutMissing(NOWHERE, machine),
});

/** After a stop the operator may have moved every axis, and controls differ in what they restore. */
export function afterStop(state: ModalState, machine: Machine): ModalState {
  const stoppedAt = { ...state.stoppedAt };
  for (const axis of AXES) if (state.position[axis] !== 'unknown') stoppedAt[axis] = state.position[axis];
  return { ...state, position: withoutMissing(NOWHERE, machine), stoppedAt, speed: 'unsaid', feed: 0 };
}
