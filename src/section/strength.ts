/**
 * Area and bending strength of a regular section of inscribed radius r and n sides:
 *   A = n r^2 tan(pi / n),   I = A (6 R^2 - S^2) / 24 about any axis through the centre,   Z = I / R at the corners,
 * R the circumradius, S the side. Source: Machinery's Handbook, 31st ed., p. 82 (A, R, S); I of a regular polygon
 * from any table of sections (from memory): a square of side S gives S^4 / 12.
 */
import { type Mm, mm } from '../quantity/unit.js';

export interface SectionStrength {
  /** mm2. */
  readonly area: number;
  /** Second moment of area, mm4. */
  readonly moment: number;
  /** Smallest section modulus, mm3. */
  readonly modulus: number;
}

/** @throws RangeError unless radius > 0 and sides >= 3. */
export function regularStrength(radius: Mm, sides: number): SectionStrength {
  if (!(radius > 0) || sides < 3) throw new RangeError(`no section of ${sides} sides at ${radius}`);
  const tangent = Math.tan(Math.PI / sides);
  const area = sides * radius ** 2 * tangent;
  const circumradius = mm(radius / Math.cos(Math.PI / sides));
  const side = 2 * radius * tangent;
  const moment = (area * (6 * circumradius ** 2 - side ** 2)) / 24;
  return { area, moment, modulus: moment / circumradius };
}

/**
 * Share of the length of each flat that a round hole `hole` times the inscribed radius takes away, from its middle out:
 * sqrt(k^2 - 1) / tan(pi / n) for k over 1. Source: chord of a circle.
 */
export const flatLost = (sides: number, hole: number): number =>
  Math.min(1, Math.sqrt(Math.max(0, hole ** 2 - 1)) / Math.tan(Math.PI / sides));

/** Share of a regular section of inscribed radius 1 that lies outside a round hole of radius `hole`. */
export function shareOutsideHole(sides: number, hole: number): number {
  const angle = Math.PI / sides;
  if (hole <= 1) return 1 - (Math.PI * hole ** 2) / (sides * Math.tan(angle));
  const corner = 1 / Math.cos(angle);
  if (hole >= corner) return 0;
  // Each corner outside the hole: a triangle from the centre less the sector within it.
  const cut = Math.acos(1 / hole);
  const outside = Math.tan(angle) - Math.tan(cut) - hole ** 2 * (angle - cut);
  return outside / Math.tan(angle);
}

/** A round of `radius` with flats that do not meet: its area less a segment for each. Source: segment of a circle. */
export const roundedArea = (radius: Mm, distances: readonly Mm[]): number =>
  distances.reduce(
    (area, distance) =>
      area - (radius ** 2 * Math.acos(distance / radius) - distance * Math.sqrt(radius ** 2 - distance ** 2)),
    Math.PI * radius ** 2,
  );
