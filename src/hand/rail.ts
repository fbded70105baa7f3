/**
 * A block whose own sides slope, lying on its seat before the wheel. With its bore Hf over the side at the front end, the punch
 * out by S and a flat h from the axis, the finished flat stands over the seat by
 *   G = (Hf + h - S tan t) cos t:
 * along the axis the tip lies S in front, where the side, carried on, is S tan t nearer.
 * Roughing by eye on any grinder, the width of a flat on a round blank of radius R tells how far from the axis it is:
 *   W = 2 sqrt(R^2 - s^2), at its front s = h + what is left, behind by L less L tan t.
 * Source: plane geometry; chord of a circle, Machinery's Handbook, 31st ed., p. 79, segments of a circle.
 */
import { type Mm, mm, type Rad } from '../quantity/unit.js';

/** Height of the finished flat, or the rim, over the seat. */
export const railHeight = (boreOverFront: Mm, distance: Mm, stickOut: Mm, slope: Rad): Mm =>
  mm((boreOverFront + distance - stickOut * Math.tan(slope)) * Math.cos(slope));

/** Width of a flat `distance` from the axis on a round of `radius`; `none` where it does not cut the round. */
export const widthOnRound = (radius: Mm, distance: number): Mm | 'none' =>
  Math.abs(distance) >= radius ? 'none' : mm(2 * Math.sqrt(radius ** 2 - distance ** 2));

export interface EyeRow {
  /** Still to go at the front. */
  readonly left: Mm;
  readonly front: Mm;
  /** At the end of the flat, behind. */
  readonly behind: Mm;
}

/** What the eye sees of the first flat of a round blank, by what is left over it. */
export function widthsByEye(
  radius: Mm,
  distance: Mm,
  length: Mm,
  slope: Rad,
  lefts: readonly Mm[],
): readonly EyeRow[] {
  return lefts.flatMap((left) => {
    const at = distance + left;
    const front = widthOnRound(radius, at);
    const behind = widthOnRound(radius, at - length * Math.tan(slope));
    return front === 'none' || behind === 'none' ? [] : [{ left, front, behind }];
  });
}
