/**
 * Metal removed, mm3: the blank less what the flats leave, by cross-sections. Along a ray from the axis,
 * at angle f from a flat's normal, its cut takes away rho between rho cos f >= s (the plane) and the
 * roots of (q^2 + sin^2 f) rho^2 - 2 k q rho + k^2 - Rw^2 <= 0 (under the round rim), with
 * q = cos f sin t, k = uc + d cos t, uc the wheel's centre at the end of the stroke, d the depth.
 * Source: circle geometry in the wheel frame. Midpoint rule over rays and depths.
 */
import { type Mm, type Mm3, mm3, type Rad } from '../quantity/unit.js';
import { type Blank, blankFlats } from '../section/blank.js';

/** A finished cut: direction of the flat, its distance at the front face, the wheel's centre at the end. */
export interface Cut {
  readonly at: Rad;
  readonly distance: Mm;
  readonly centreEnd: Mm;
}

/** Enough that doubling them changes the volume by less than 1 in 10,000. */
const RAYS = 720;
const DEPTHS = 16;

/** @param slope the relief; `full` where the shallowest flat's full width ends, `end` past the last metal cut. */
export function removedVolume(
  blank: Blank,
  cuts: readonly Cut[],
  wheelRadius: Mm,
  slope: Rad,
  full: Mm,
  end: Mm,
): Mm3 {
  const part = (from: number, to: number): number => {
    const step = (to - from) / DEPTHS;
    let sum = 0;
    for (let i = 0; i < DEPTHS; i += 1)
      sum += areaAt(blank, cuts, wheelRadius, slope, from + (i + 0.5) * step);
    return sum * step;
  };
  return mm3(part(0, full) + part(full, Math.max(full, end)));
}

function areaAt(blank: Blank, cuts: readonly Cut[], wheelRadius: Mm, slope: Rad, depth: number): number {
  const flats = blankFlats(blank);
  let area = 0;
  for (let ray = 0; ray < RAYS; ray += 1) {
    const angle = (2 * Math.PI * (ray + 0.5)) / RAYS;
    let outer = flats.length === 0 ? blank.size / 2 : Number.POSITIVE_INFINITY;
    for (const flat of flats) {
      const along = Math.cos(angle - flat.at);
      if (along > 0) outer = Math.min(outer, flat.distance / along);
    }
    area += removedAlong(cuts, wheelRadius, slope, depth, angle, outer);
  }
  return (area * Math.PI) / RAYS;
}

/** Sum of rho_b^2 - rho_a^2 over what is cut away along a ray. */
function removedAlong(
  cuts: readonly Cut[],
  wheelRadius: Mm,
  slope: Rad,
  depth: number,
  angle: number,
  outer: number,
): number {
  const stretches: (readonly [number, number])[] = [];
  for (const { at, distance, centreEnd } of cuts) {
    const [cos, sin] = [Math.cos(angle - at), Math.sin(angle - at)];
    if (cos <= 0) continue;
    const plane = (distance - depth * Math.tan(slope)) / cos;
    if (plane >= outer) continue;
    const q = cos * Math.sin(slope);
    const k = centreEnd + depth * Math.cos(slope);
    const square = q * q + sin * sin;
    const under = k * k * q * q - square * (k * k - wheelRadius * wheelRadius);
    if (under <= 0) continue;
    const from = Math.max(plane, (k * q - Math.sqrt(under)) / square);
    const to = Math.min(outer, (k * q + Math.sqrt(under)) / square);
    if (to > from) stretches.push([from, to]);
  }
  stretches.sort((a, b) => a[0] - b[0]);
  let sum = 0;
  let reached = 0;
  for (const [from, to] of stretches) {
    const start = Math.max(from, reached);
    if (to > start) sum += to * to - start * start;
    reached = Math.max(reached, to);
  }
  return sum;
}
