/**
 * The dry run as the page's player takes it: whole micrometres, one short list a step. The sheet writes it, the
 * player draws it; what the stock has become at each step comes from the checker.
 */
import type { Blank } from '../section/blank.js';

/** What a step does. A step's number of kind is its place here, plus the length of this list while the wheel runs. */
export const STEP_KINDS = ['rapid', 'feed', 'turn', 'stop', 'wheel', 'wait', 'end'] as const;
export type StepKind = (typeof STEP_KINDS)[number];

/** [program, line, kind, u, w, index, clock, floors...]: micrometres, null where not known; whole seconds; floors as reach and height. */
export type StepRow = readonly (number | null)[];

/** Where the floors of a row begin. */
export const FLOORS_FROM = 7;

export interface PlayPin {
  readonly program: string;
  /** From 1; 0 for the program as a whole. */
  readonly line: number;
  readonly severity: 'error' | 'warning';
  readonly sentence: string;
  readonly step: number;
}

/** A direction of the punch that comes up in the run. */
export interface PlayIndex {
  /** Radians. */
  readonly at: number;
  readonly deg: string;
  /** Number of the flat ordered there; 0 if there is none. */
  readonly flat: number;
  /** Stairs that stand there before the first block: how far and how high in turn, micrometres. */
  readonly floors: readonly number[];
}

export interface PlayData {
  readonly programs: readonly { readonly name: string; readonly text: string }[];
  readonly indexes: readonly PlayIndex[];
  readonly steps: readonly StepRow[];
  readonly pins: readonly PlayPin[];
  /** Radians. */
  readonly slope: number;
  /** The punch lies level: the head is tilted instead. */
  readonly level: boolean;
  /** Millimetres, like all that follows. A plain wheel has no radius in its plane, but one of its periphery. */
  readonly wheel: {
    readonly radius: number;
    readonly rim: number;
    readonly height: number;
    readonly periphery: number;
  };
  readonly blank: Blank;
  readonly stickOut: number;
  readonly nose: number;
  /** Ordered distance of each flat. */
  readonly ordered: readonly number[];
  readonly unit: string;
  readonly perMm: number;
  readonly decimals: number;
}
