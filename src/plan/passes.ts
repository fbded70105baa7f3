/**
 * The heights of a flat's passes. Counted up from the finished flat in whole infeeds, so that only the
 * first pass of a kind is shallower and none is deeper: roughing ends the finish allowance above the
 * flat, finishing on it, spark-out stays there. A pass is an infeed in the clear position, a stroke in
 * and a stroke out. The first lies `startAbove` over the stock, for the blank's run-out.
 */
import type { Job } from '../job/job.js';
import { type Mm, mm } from '../quantity/unit.js';
import type { FlatPlan } from './flat.js';

export type PassKind = 'rough' | 'finish' | 'spark-out';

export interface Pass {
  readonly kind: PassKind;
  /** Height of the rim. */
  readonly w: Mm;
}

export function passesOf(flat: FlatPlan, grinding: Job['grinding']): readonly Pass[] {
  const { roughInfeed, finishInfeed, finishAllowance, startAbove, sparkOut } = grinding;
  const start = flat.stockTop + startAbove;
  const roughed = flat.w + finishAllowance;
  return [
    ...ladder(roughed, start, roughInfeed).map((w): Pass => ({ kind: 'rough', w })),
    ...ladder(flat.w, Math.min(roughed, start), finishInfeed).map((w): Pass => ({ kind: 'finish', w })),
    ...Array.from({ length: sparkOut }, (): Pass => ({ kind: 'spark-out', w: flat.w })),
  ];
}

/** A whole number of steps that misses by less than this is whole. */
const WHOLE = 1e-9;

/** Heights from just below `top` down to `bottom`, whole `step`s above it; none if top is not above. */
function ladder(bottom: number, top: number, step: number): readonly Mm[] {
  const count = Math.max(0, Math.ceil((top - bottom) / step - WHOLE));
  return Array.from({ length: count }, (_, i) => mm(bottom + (count - 1 - i) * step));
}
