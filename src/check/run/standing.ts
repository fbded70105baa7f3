/** How things stand when a rule is asked: a plain record, which no rule changes. */
import type { Job } from '../../job/job.js';
import type { Section } from '../../section/flat.js';
import type { FindingBody } from '../finding.js';
import type { Action } from '../read/execute.js';
import type { ModalState } from '../read/state.js';
import type { Index } from './indexing.js';
import type { ClearOf, Move, Start } from './place.js';
import type { AllowedBite, Sweep, Swept } from './sweep.js';

/** Times in seconds, speeds in rev/min. */
export interface WheelStands {
  /** Since the wheel was last started, stopped or told to run faster. */
  readonly waited: number;
  /** The speed it has been told last; 0 before any. */
  readonly speed: number;
  readonly running: boolean;
  /** It has been started in this program. */
  readonly everStarted: boolean;
}

/** What a move comes to with each wheel that may have to be reckoned with, worst first. */
export interface Met {
  readonly move: Move;
  readonly start: Start;
  /** With the wheel as predicted. */
  readonly swept: Swept;
  /** With a wheel that has not worn, where the job compensates. */
  readonly unworn: Swept | 'none';
  readonly touched: boolean;
}

/** What a rule needs that looks at machine and text alone, whatever is made. */
export interface MachineStanding {
  readonly job: Pick<Job, 'machine'>;
  readonly state: ModalState;
  readonly action: Action;
  readonly wheel: WheelStands;
  /** The program only shows places, with the wheel at rest. */
  readonly shows: boolean;
  /** A linear axis has moved in this program. */
  readonly moved: boolean;
}

export interface Standing extends MachineStanding {
  readonly job: Job;
  /** What the passes aim at. */
  readonly aimed: Section;
  readonly allowedBite: AllowedBite;
  readonly clear: ClearOf;
  /** As the program has said; nobody knows before. */
  readonly clamped: boolean | 'unknown';
  /** Flats that were measured, roughed and not finished, at a stop said to be for that. */
  readonly measured: ReadonlySet<number>;
  /** Stops said to be for dressing the wheel. */
  readonly dressings: number;
  readonly index: Index;
  readonly sweep: Sweep;
  readonly met: Met | 'none';
}

export type Found = readonly FindingBody[];
