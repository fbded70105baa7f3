/**
 * What one pass takes: the layer between two parallel planes, within the blank and within the flats cut
 * already. Its width at a depth is the stretch the blank and the other flats leave; its area there the
 * integral of the width over the distance from the axis, A = integral of b(s) ds, and its volume that of the
 * area over the depth. On a round blank with nothing cut, A is the difference of two circular segments.
 * The width starts as a square root where a plane just enters the blank, so each integral is taken over
 * x with y = x^2 from the top, where it is smooth, by Gauss-Legendre points.
 * Source: Machinery's Handbook, 31st ed., p. 79, segments of a circle; the rest is plane geometry.
 */
import { type Mm, type Mm3, mm, mm3, type Rad } from '../quantity/unit.js';
import { type Blank, blankFlats, blankSupport, halfChordOf } from '../section/blank.js';
import type { Section } from '../section/flat.js';
import { clipperAt } from '../section/polygon.js';

/** The blank with the flats it has at the moment, each at its distance at the front face. */
export interface Stage {
  readonly blank: Blank;
  readonly flats: Section;
  readonly slope: Rad;
}

/** Two planes of one flat by their distances at the front face; `from` is the outer one. */
export interface Layer {
  readonly at: Rad;
  readonly from: Mm;
  readonly to: Mm;
}

/** Points on 0 to 1 and their weights; Abramowitz & Stegun, table 25.4, n = 4 (from memory). */
const [INNER, OUTER] = [0.339981043584856, 0.861136311594053];
const POINTS = [-INNER, INNER, -OUTER, OUTER].map((x) => (1 + x) / 2);
const WEIGHTS = [0.652145154862546, 0.652145154862546, 0.347854845137454, 0.347854845137454].map(
  (weight) => weight / 2,
);

/** Stretches of the depth taken one by one: a flat's edge may change its rule within. */
const STRETCHES = 4;

/** Integral of `f(y)`, y from 0 to `length`, where f may start like the root of y. */
function integral(f: (y: number) => number, length: number): number {
  let sum = 0;
  for (let i = 0; i < POINTS.length; i += 1) {
    const x = POINTS[i] ?? 0;
    sum += (WEIGHTS[i] ?? 0) * 2 * x * f(x * x * length);
  }
  return sum * length;
}

/** The width of the flat that a plane at a distance (front face) leaves at a depth; 0 where it meets no metal. */
type Widths = (distance: Mm, depth: Mm) => Mm;

/** A ruler for every plane of one direction: what hangs on the direction alone is worked out once. */
function widthsOf({ blank, flats, slope }: Stage, at: Rad): Widths {
  const tan = Math.tan(slope);
  const clip = clipperAt(at, flats, blankFlats(blank));
  const stretch = new Float64Array(2);
  return (distance, depth) => {
    const drop = mm(depth * tan);
    const here = mm(distance - drop);
    const half = halfChordOf(blank, here);
    stretch[0] = -half;
    stretch[1] = half;
    clip(stretch, here, drop);
    return mm(Math.max(0, (stretch[1] ?? 0) - (stretch[0] ?? 0)));
  };
}

/** Areas of the layer across the tool axis by depth, mm2. */
function areasOf(stage: Stage, { at, from, to }: Layer): (depth: Mm) => number {
  const widths = widthsOf(stage, at);
  const [tan, support] = [Math.tan(stage.slope), blankSupport(stage.blank, at)];
  return (depth) => {
    const top = Math.min(from, support + depth * tan);
    return top <= to ? 0 : integral((y) => widths(mm(top - y), depth), top - to);
  };
}

/** Area of the layer across the tool axis at `depth`, mm2. */
export const layerArea = (stage: Stage, layer: Layer, depth: Mm): number => areasOf(stage, layer)(depth);

/** Volume of the layer from the front face to the depth `end`. */
export function layerVolume(stage: Stage, layer: Layer, end: Mm): Mm3 {
  // A plane above the blank's side at the front face enters the metal only further back.
  const over = layer.to - blankSupport(stage.blank, layer.at);
  const start = Math.max(0, over / Math.tan(stage.slope));
  if (start >= end) return mm3(0);
  const areas = areasOf(stage, layer);
  const stretch = (end - start) / STRETCHES;
  let sum = 0;
  for (let i = 0; i < STRETCHES; i += 1) {
    sum += integral((y) => areas(mm(start + i * stretch + y)), stretch);
  }
  return mm3(sum);
}

/** Depths at which the greatest area is looked for; it is smooth, and ends count. */
const LOOKS = [0, 0.25, 0.5, 0.75, 1];

/** The greatest area of the layer anywhere from the front face to the depth `end`, mm2. */
export function greatestArea(stage: Stage, layer: Layer, end: Mm): number {
  const areas = areasOf(stage, layer);
  return Math.max(...LOOKS.map((share) => areas(mm(share * end))));
}

/** The widest the plane `to` of the layer runs in metal. */
export function greatestWidth(stage: Stage, at: Rad, distance: Mm, end: Mm): Mm {
  const widths = widthsOf(stage, at);
  return mm(Math.max(...LOOKS.map((share) => widths(distance, mm(share * end)))));
}

/**
 * Where a layer of that width ends on the mean: the rim is round, so beside the centre line it ends earlier, by
 * (b / 2)^2 / (6 Rw) on the mean of a width b. The periphery of a plain wheel runs out behind over a length of its
 * own (wheel/periphery); a round is narrower the shallower it is cut, so that counts pi / 4 of its length.
 * Source: sagitta of a chord, averaged over it; width as the root of the depth, averaged over a parabola.
 */
export const meanEnd = (
  end: Mm,
  width: Mm,
  { radius, periphery }: { readonly radius: Mm; readonly periphery: Mm },
  runsOut: Mm,
): Mm =>
  periphery > 0 ? mm(end + (Math.PI / 4) * runsOut) : mm(Math.max(0, end - (width / 2) ** 2 / (6 * radius)));
