/**
 * The wheel frame over the sloped punch. Part frame (x', y', z'): origin at the centre of the front
 * face, x' out of the face along the tool axis. Wheel frame (u, v, w): same origin, u along the stroke
 * toward the tip, w normal to the rim plane, v to the right. The tool axis slopes by t, tip down:
 *   u = x' cos t + z' sin t,   w = -x' sin t + z' cos t,   v = y'.
 * R blank radius or support, h distance of a flat, L flat length, S stick-out, Hn nose half-height.
 * Source: rotation by t about y'. Lengths mm, angles rad.
 */
import { type Mm, mm, type Rad } from '../quantity/unit.js';

/** A point in the wheel frame, mm. */
export interface WheelPoint {
  readonly u: number;
  readonly v: number;
  readonly w: number;
}

/** A point in the part frame, mm; x' is `x` and so on. */
export interface PartPoint {
  readonly x: number;
  readonly y: number;
  readonly z: number;
}

/** Part frame to wheel frame, the axis sloping by `slope`. */
export const toWheelFrame = ({ x, y, z }: PartPoint, slope: Rad): WheelPoint => ({
  u: x * Math.cos(slope) + z * Math.sin(slope),
  v: y,
  w: -x * Math.sin(slope) + z * Math.cos(slope),
});

/** Wheel frame to part frame; undoes `toWheelFrame`. */
export const toPartFrame = ({ u, v, w }: WheelPoint, slope: Rad): PartPoint => ({
  x: u * Math.cos(slope) - w * Math.sin(slope),
  y: v,
  z: u * Math.sin(slope) + w * Math.cos(slope),
});

/** Height of the rim over a finished flat: w = h cos t. */
export const flatHeight = (distance: Mm, slope: Rad): Mm => mm(distance * Math.cos(slope));

/** The distance at the front edge of a flat ground with the rim at `w`: h = w / cos t. */
export const distanceFromHeight = (w: Mm, slope: Rad): Mm => mm(w / Math.cos(slope));

/** u on the flat at `depth` behind the front face: h sin t - depth / cos t. */
export const flatAtDepth = (distance: Mm, depth: Mm, slope: Rad): Mm =>
  mm(distance * Math.sin(slope) - depth / Math.cos(slope));

/** Depth behind the front face of the point (u, w). */
export const depthOf = (u: Mm, w: Mm, slope: Rad): Mm => mm(w * Math.sin(slope) - u * Math.cos(slope));

/** Top of stock that reaches `reach` from the axis, under the wheel at u: reach / cos t - u tan t. */
export const stockTop = (reach: Mm, u: Mm, slope: Rad): Mm =>
  mm(reach / Math.cos(slope) - u * Math.tan(slope));

/** u of the tip's upper edge, the last metal toward +u: reach sin t. */
export const tipEdge = (reach: Mm, slope: Rad): Mm => mm(reach * Math.sin(slope));

/** The holding nose's top front corner, the point of the holding nearest the wheel. */
export const noseCorner = (stickOut: Mm, halfHeight: Mm, slope: Rad): { readonly u: Mm; readonly w: Mm } => ({
  u: mm(-stickOut * Math.cos(slope) + halfHeight * Math.sin(slope)),
  w: mm(stickOut * Math.sin(slope) + halfHeight * Math.cos(slope)),
});

/** The stick-out that puts the nose's top corner at `u`: (Hn sin t - u) / cos t. */
export const stickOutForCorner = (u: Mm, halfHeight: Mm, slope: Rad): Mm =>
  mm((halfHeight * Math.sin(slope) - u) / Math.cos(slope));
