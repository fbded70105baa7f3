/** The steps of a plan: an index, a pass or a stop for hands. Where a stroke begins and ends hangs on its neighbours. */

import type { Setting } from '../job/indexing.js';
import type { Mm, Rad } from '../quantity/unit.js';
import type { Loss } from '../wheel/wear.js';
import type { FlatPlan } from './flat.js';
import type { PassLoad } from './load.js';
import type { PassKind } from './passes.js';

export interface Pass {
  readonly kind: PassKind;
  /** Height the rim is to run at. */
  readonly level: Mm;
  /** Height the machine is told: lower than `level` by what the rim has lost, where the job compensates. */
  readonly w: Mm;
  /** u of the wheel's centre at the infeed, where the stroke starts, and at its end. */
  readonly start: Mm;
  readonly end: Mm;
  readonly load: PassLoad;
  /** Height the rim has lost before this pass since it was last set, as predicted. */
  readonly loss: Loss;
  /** How much higher than `level` its plane may stand, by the spread of the wear. */
  readonly unforeseen: Mm;
}

export type Step =
  | {
      readonly kind: 'index';
      readonly flat: FlatPlan;
      readonly setting: Setting;
      /** Where a rotary axis goes first, to arrive from below; `direct` if it already comes from there. */
      readonly by: Rad | 'direct';
    }
  | { readonly kind: 'pass'; readonly flat: FlatPlan; readonly pass: Pass }
  | {
      readonly kind: 'stop';
      /** The wheel is dressed. */
      readonly dresses: boolean;
      /** Roughed flats to measure; empty for none. */
      readonly measures: readonly number[];
      /** How the flat that is up stands, w in the wheel frame, with the wear predicted. */
      readonly stands: Mm;
      /** What a micrometer should read over it and the flat opposite, if that is ground too. */
      readonly across: Mm | 'none';
    };

export type StopStep = Extract<Step, { readonly kind: 'stop' }>;
export type PassStep = Extract<Step, { readonly kind: 'pass' }>;

/** The passes among `steps`. */
export const passesIn = (steps: readonly Step[]): readonly PassStep[] =>
  steps.filter((step) => step.kind === 'pass');

/** A stop to measure, whatever else is done there. */
export const isMeasuring = (step: Step | undefined): step is StopStep =>
  step?.kind === 'stop' && step.measures.length > 0;

/** How many passes of a kind a flat gets. */
export const countPasses = (steps: readonly Step[], flat: FlatPlan, kind: PassKind): number =>
  passesIn(steps).filter((step) => step.flat === flat && step.pass.kind === kind).length;

/** Where a stroke out ends: at the infeed of the next pass, or in the clear position after the last. */
export const strokeEnd = (next: Step | undefined, clear: Mm): Mm =>
  next?.kind === 'pass' ? next.pass.start : clear;

/** Where a stroke in starts: the first one after an index comes from the clear position. */
export const strokeBegin = (previous: Step | undefined, { start }: Pass, clear: Mm): Mm =>
  previous?.kind === 'pass' ? start : clear;
