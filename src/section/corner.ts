/**
 * Corners of a regular section of n flats at inscribed radius h.
 * AC = AF / cos(pi / n) for even n; for odd n a flat faces a corner and the reading is
 * h (1 + 1 / cos(pi / n)). Corner relief: tan ac = tan a / cos(pi / n).
 * Source: Machinery's Handbook, 31st ed., p. 82, regular polygons (R/r); corner relief by projection.
 */
import { type Mm, mm, type Rad, rad } from '../quantity/unit.js';

/** Across corners from across flats, even n. */
export const acrossCorners = (acrossFlats: Mm, sides: number): Mm =>
  mm(acrossFlats / Math.cos(Math.PI / sides));

/** Flat to opposite corner from the inscribed radius, odd n. */
export const flatToCorner = (inscribedRadius: Mm, sides: number): Mm =>
  mm(inscribedRadius * (1 + 1 / Math.cos(Math.PI / sides)));

/** Relief along a corner of a regular section whose flats have `relief`. */
export const cornerRelief = (relief: Rad, sides: number): Rad =>
  rad(Math.atan(Math.tan(relief) / Math.cos(Math.PI / sides)));
