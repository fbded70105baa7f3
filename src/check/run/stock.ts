/**
 * The stock under the wheel at one index, along the centre line of the flat, exact for level strokes
 * through the axis. Untouched it is the blank's top, R / cos t - u tan t for u <= R sin t; a level stroke
 * of height w that reached r leaves at most w for all u >= r. Only strokes that no other one outdoes are
 * kept: sorted by reach, farthest first, each lies lower than the one before. The stock never rises
 * toward the tip, so the highest stock under a wheel whose rim reaches r is the stock at r.
 * Source: geometry of section/frame; half-plane sweeps. Lengths mm.
 */

import { afterStroke, type Floor, floorAt } from '../../job/standing.js';
import { ROUNDING } from '../../quantity/tolerance.js';
import type { Mm, Rad } from '../../quantity/unit.js';
import { stockTop } from '../../wheel/frame.js';

export interface Stock {
  /** How far the blank reaches toward the wheel at this index. */
  readonly support: Mm;
  /** u of the tip's upper edge, the last metal toward +u. */
  readonly edge: Mm;
  readonly slope: Rad;
  readonly floors: readonly Floor[];
}

/** What was done to the punch at one index. */
export interface IndexRecord {
  readonly at: Rad;
  stock: Stock;
  /** Strokes toward the shank that met the stock or ran over the finished flat. */
  passes: number;
  deepestBite: number;
  /** Sum of all bites, for the average. */
  bites: number;
  biting: number;
  /** Strokes since the last bite, at the lowest height and full reach. */
  sparkOut: number;
}

/** No metal here. */
const NOTHING = Number.NEGATIVE_INFINITY;

/**
 * Highest stock under a wheel whose rim reaches `rim`.
 * @param raised how much higher the raw blank is taken, for its run-out.
 */
export function highestUnder({ support, edge, slope, floors }: Stock, rim: number, raised = 0): number {
  const reach = rim + ROUNDING;
  if (reach > edge) return NOTHING;
  const raw = stockTop(support, reach as Mm, slope) + raised;
  const floor = floorAt(floors, reach);
  return floor === undefined ? raw : Math.min(raw, floor.w);
}

/** Reaches at which the highest stock changes its rule. */
export function breaks({ support, edge, slope, floors }: Stock): readonly number[] {
  const crossings = floors.map(({ w }) => (support / Math.cos(slope) - w) / Math.tan(slope));
  return [edge, ...floors.map(({ reach }) => reach), ...crossings].map((at) => at - ROUNDING);
}

/** The stock after a level stroke. */
export function stockAfter(stock: Stock, stroke: Floor): Stock {
  const floors = afterStroke(stock.floors, stroke);
  return floors === stock.floors ? stock : { ...stock, floors };
}

/** The rim along a straight move: reach and height at both ends. */
export interface RimMove {
  readonly from: Floor;
  readonly to: Floor;
}

/** Just on the stock's side of a step. */
const STEP_SIDE = 1e-9;

/**
 * How deep the wheel goes into what `highest` describes anywhere along a straight move; negative if it
 * stays clear by that much, -infinity if it never stands over metal.
 */
export function deepest(
  highest: (reach: number) => number,
  steps: () => readonly number[],
  { from, to }: RimMove,
): number {
  const depthAt = (reach: number, w: number): number => highest(reach) - w;
  let depth = Math.max(depthAt(from.reach, from.w), depthAt(to.reach, to.w));
  const change = to.reach - from.reach;
  // Level or upright, the deepest place is an end: what lies under the wheel never rises toward the tip.
  if (change === 0 || from.w === to.w) return depth;
  for (const step of steps()) {
    const along = (step - from.reach) / change;
    if (along > 0 && along < 1) {
      depth = Math.max(depth, depthAt(step - STEP_SIDE, from.w + along * (to.w - from.w)));
    }
  }
  return depth;
}
