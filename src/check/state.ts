/** What a control holds between blocks, in the checker's units: mm, degrees, seconds. */
import type { LengthUnit } from '../quantity/unit.js';

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
  readonly workOffset: string;
  /** mm/min or deg/min as the move wants it; 0 until said. */
  readonly feed: number;
  /** rev/min; `unsaid` until an S word. */
  readonly speed: number | 'unsaid';
  readonly spindle: 'off' | 'clockwise' | 'counter-clockwise';
  readonly flood: boolean;
  readonly mist: boolean;
  readonly position: Position;
  readonly ended: boolean;
}

/** What a control may be taken to hold when a program starts. Source: NISTIR 6556, 3.5 and Table 4 defaults. */
export const START: ModalState = {
  motion: 'none',
  plane: 'G17',
  units: 'unsaid',
  distance: 'unsaid',
  feedMode: 'per minute',
  workOffset: 'unsaid',
  feed: 0,
  speed: 'unsaid',
  spindle: 'off',
  flood: false,
  mist: false,
  position: { x: 'unknown', y: 'unknown', z: 'unknown', a: 'unknown' },
  ended: false,
};
