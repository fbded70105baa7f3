/** What a control holds between blocks, in the checker's units: mm, degrees, seconds. */
import type { LengthUnit } from '../../quantity/unit.js';

export const LINEAR = ['x', 'y', 'z'] as const;
export type Axis = (typeof LINEAR)[number] | 'a';

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
  /** Start-up codes said so far, of those that a left-over would make dangerous. */
  readonly said: ReadonlySet<string>;
  readonly ended: boolean;
}

/**
 * What is taken as said before a program says anything: nothing that matters. The plane is RS274/NGC's
 * default (NISTIR 6556, 3.5); feed per minute and the offsets the watch asks for.
 */
export const START: ModalState = {
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
  position: { x: 'unknown', y: 'unknown', z: 'unknown', a: 'unknown' },
  said: new Set(),
  ended: false,
};
