/**
 * What the steps come to: the greatest loads of rough and finish passes, how much higher each flat would stand
 * for the rim's wear, and what equal steps under the same limit would take.
 */

import type { Job } from '../job/job.js';
import { type Mm, mm, mm2PerS, mm3, mm3PerS, newton, type Seconds, watt } from '../quantity/unit.js';
import { type Loss, lossOf, rimLoss } from '../wheel/wear.js';
import type { PassLoad } from './load.js';
import type { PassKind } from './passes.js';
import { isMeasuring, passesIn, type Step } from './step.js';

export interface Loads {
  readonly rough: PassLoad | 'none';
  readonly finish: PassLoad | 'none';
}

export interface WearOutlook {
  /** Loss of height since the rim was last set, when a flat is done; each flat stands that much higher. */
  readonly perFlat: readonly { readonly flat: number; readonly loss: Loss }[];
  /** The last flat over the first, uncompensated and as predicted. */
  readonly drift: Mm;
  /** In all, from the first stroke to the last. */
  readonly total: Loss;
  /** When each flat was roughed that a stop measures; empty without one. */
  readonly atStop: readonly { readonly flat: number; readonly loss: Loss }[];
}

/** Passes and time with every rough infeed as small as the smallest that keeps the limit. */
export interface EqualSteps {
  readonly infeed: Mm;
  readonly passes: number;
  readonly running: Seconds;
}

/** Each figure the greatest of any pass, the volume their sum; `none` of no pass. */
export function greatest(loads: readonly PassLoad[]): PassLoad | 'none' {
  if (loads.length === 0) return 'none';
  const most = (of: (load: PassLoad) => number): number =>
    loads.reduce((so, load) => Math.max(so, of(load)), 0);
  return {
    bite: mm(most(({ bite }) => bite)),
    engaged: mm(most(({ engaged }) => engaged)),
    width: mm(most(({ width, bite }) => (bite > 0 ? width : 0))),
    volume: mm3(loads.reduce((sum, { volume }) => sum + volume, 0)),
    removalRate: mm3PerS(most(({ removalRate }) => removalRate)),
    specific: mm2PerS(most(({ specific }) => specific)),
    power: watt(most(({ power }) => power)),
    force: newton(most(({ force }) => force)),
    chip: mm(most(({ chip }) => chip)),
    bending: mm(most(({ bending }) => bending)),
  };
}

/** The greatest load of rough and of finish passes; `none` of a kind without passes. */
export function planLoads(steps: readonly Step[]): Loads {
  const of = (kind: PassKind): PassLoad | 'none' =>
    greatest(passesIn(steps).flatMap(({ pass }) => (pass.kind === kind ? [pass.load] : [])));
  return { rough: of('rough'), finish: of('finish') };
}

const lastOfEach = (steps: readonly Step[]): readonly { readonly flat: number; readonly loss: Loss }[] => {
  const lost = new Map<number, Loss>();
  for (const { flat, pass } of passesIn(steps)) lost.set(flat.number, pass.loss);
  return [...lost].map(([flat, loss]) => ({ flat, loss })).toSorted((a, b) => a.flat - b.flat);
};

/** What the rim has lost when each flat is done, as predicted, mm of height. */
export function planWear(job: Job, steps: readonly Step[]): WearOutlook {
  const perFlat = lastOfEach(steps);
  const heights = perFlat.map(({ loss }) => loss.taken);
  const removed = passesIn(steps).reduce((sum, { pass }) => sum + pass.load.volume, 0);
  return {
    perFlat,
    drift: mm(heights.length === 0 ? 0 : Math.max(...heights) - Math.min(...heights)),
    total: lossOf(rimLoss(job, mm3(removed)), job.grinding.roughInfeed),
    atStop: steps.flatMap((step, i) =>
      isMeasuring(step)
        ? lastOfEach(steps.slice(0, i)).filter(({ flat }) => step.measures.includes(flat))
        : [],
    ),
  };
}

/** The smallest infeed roughing uses to keep a removal rate: every later pass is one, the first may be less. */
export function smallestRough(steps: readonly Step[]): Mm | 'none' {
  const rough = passesIn(steps).filter(({ pass }) => pass.kind === 'rough');
  const infeeds = rough.flatMap(({ flat, pass }, i) => {
    const before = rough[i - 1];
    return before?.flat === flat ? [before.pass.level - pass.level] : [];
  });
  return infeeds.length === 0 ? 'none' : mm(infeeds.reduce((a, b) => Math.min(a, b)));
}
