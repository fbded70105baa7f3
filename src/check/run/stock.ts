/**
 * The stock under the wheel at one index, along the centre line of the flat, exact for level strokes
 * through the axis. Untouched it is the blank's top, R / cos t - u tan t for u <= R sin t; a level stroke
 * of height w that reached r leaves at most w for all u >= r. Only strokes that no other one outdoes are
 * kept: sorted by reach, farthest first, each lies lower than the one before. The stock never rises
 * toward the tip, so the highest stock under a wheel whose rim reaches r is the stock at r.
 * A plain wheel leaves its own curve behind: w + lift(r - u) for u < r; what lies highest under it is found among the places
 * where that changes its rule, by wheel/periphery.
 * Source: geometry of section/frame; half-plane sweeps. Lengths mm.
 */

import { afterStroke, type Floor, floorAt } from '../../job/standing.js';
import { ROUNDING } from '../../quantity/tolerance.js';
import { type Mm, mm, type Rad } from '../../quantity/unit.js';
import { stockTop } from '../../wheel/frame.js';
import { halfChord, liftAt, meetsSlope, restsAt } from '../../wheel/periphery.js';

export interface Stock {
  /** How far the blank reaches toward the wheel at this index. */
  readonly support: Mm;
  /** u of the tip's upper edge, the last metal toward +u. */
  readonly edge: Mm;
  readonly slope: Rad;
  /** The raw top as a line: its height at u = 0, and how much it falls along u. */
  readonly top: number;
  readonly fall: number;
  readonly floors: readonly Floor[];
  /** Radius of the periphery that grinds; 0 of a cup. */
  readonly periphery: Mm;
}

/** Stock by what it is made of. */
export const stockOf = (made: Omit<Stock, 'top' | 'fall'>): Stock => ({
  ...made,
  top: stockTop(made.support, mm(0), made.slope),
  fall: Math.tan(made.slope),
});

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
export function highestUnder(stock: Stock, rim: number, raised = 0): number {
  if (stock.periphery > 0) return highestUnderPeriphery(stock, rim, raised);
  const { edge, top, fall, floors } = stock;
  const reach = rim + ROUNDING;
  if (reach > edge) return NOTHING;
  const raw = top - reach * fall + raised;
  const floor = floorAt(floors, reach);
  return floor === undefined ? raw : Math.min(raw, floor.w);
}

/** The same for the lowest line of a plain wheel at `rim`. */
function highestUnderPeriphery(
  { edge, slope, top: topAtZero, fall, floors, periphery }: Stock,
  rim: number,
  raised: number,
): number {
  const raw = (u: number): number => topAtZero - u * fall + raised;
  const under = ({ reach, w }: Floor, u: number): number =>
    u >= reach ? w : w + liftAt(reach - u, periphery);
  const top = (u: number): number =>
    floors.reduce((least, floor) => Math.min(least, under(floor, u)), raw(u));
  const corners = floors.flatMap((floor, i) => [
    floor.reach,
    ...curveMeetsRaw(floor, raw, slope, periphery),
    ...floors.slice(i + 1).flatMap((other) => curvesMeet(floor, other, periphery)),
  ]);
  return restsAt({ top, corners, end: edge }, rim + ROUNDING, periphery, slope);
}

/** Where raw metal meets what a stroke left: over its plane, or on its curve behind. */
function curveMeetsRaw(
  { reach, w }: Floor,
  raw: (u: number) => number,
  slope: Rad,
  periphery: Mm,
): readonly number[] {
  const onPlane = reach + (raw(reach) - w) / Math.tan(slope);
  const behind = meetsSlope(periphery, raw(reach) - w, slope);
  return [onPlane, ...behind.filter((x) => x >= 0).map((x) => reach - x)];
}

/** Where the curves of two strokes cross: both are of one radius, so on the line square to that of their centres. */
function curvesMeet(one: Floor, other: Floor, periphery: Mm): readonly number[] {
  const [du, dw] = [other.reach - one.reach, other.w - one.w];
  const apart = Math.hypot(du, dw);
  if (apart === 0 || apart >= 2 * periphery) return [];
  const aside = Math.sqrt(periphery ** 2 - (apart / 2) ** 2) / apart;
  const middle = (one.reach + other.reach) / 2;
  // The curve of one also meets the plane of the other.
  const [low, high] = one.w < other.w ? [one, other] : [other, one];
  const rise = high.w - low.w;
  const onPlane = rise >= periphery ? [] : [low.reach - halfChord(periphery, rise)];
  return [middle - dw * aside, middle + dw * aside, ...onPlane];
}

/** How finely a slanting move of a plain wheel is looked at, mm. */
const LOOK = 0.05;

/** Reaches at which the highest stock changes its rule; of a plain wheel, which has none, closely set places. */
export function breaks({ edge, top, fall, floors, periphery }: Stock): readonly number[] {
  if (periphery > 0) {
    const from = Math.min(edge, ...floors.map(({ reach }) => reach)) - periphery;
    return Array.from({ length: Math.ceil((edge + periphery - from) / LOOK) }, (_, i) => from + i * LOOK);
  }
  const crossings = floors.map(({ w }) => (top - w) / fall);
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
