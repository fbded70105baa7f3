/**
 * A section as the list of its flats. A flat stands at an angle, counter-clockwise seen from the tip,
 * from the direction that is up at index zero; its normal in the plane across the tool axis is
 * (-sin at, cos at) in (y', z'). Its distance is measured from the tool axis, at the front face.
 */
import { acosClamped } from '../quantity/angle.js';
import { INDEX_WITHIN } from '../quantity/tolerance.js';
import { type Mm, mm, type Rad, rad } from '../quantity/unit.js';

export interface Flat {
  /** Direction of the normal, counter-clockwise seen from the tip. */
  readonly at: Rad;
  /** From the tool axis to the flat, at the front face. */
  readonly distance: Mm;
}

export type Section = readonly Flat[];

/** A point across the tool axis: y' and z' of the part frame, mm. */
export interface CrossPoint {
  readonly y: number;
  readonly z: number;
}

/** Unit vector in direction `at`. */
export const normal = (at: Rad): CrossPoint => ({ y: -Math.sin(at), z: Math.cos(at) });

/** The smallest angle between two directions, 0 to pi. */
export const between = (a: Rad, b: Rad): Rad => acosClamped(Math.cos(a - b));

/**
 * `sides` equal flats at the same distance, the first one up.
 * @throws RangeError unless 3 <= sides <= 12 and distance > 0; the job reader refuses these first.
 */
export function regularSection(sides: number, distance: Mm): Section {
  if (!Number.isInteger(sides) || sides < 3 || sides > 12 || !(distance > 0)) {
    throw new RangeError(`no regular section of ${sides} sides at distance ${distance}`);
  }
  return Array.from({ length: sides }, (_, i) => ({ at: rad((2 * Math.PI * i) / sides), distance }));
}

/**
 * The section at `depth` behind the front face: every flat is nearer the axis by depth x tan(relief).
 * Source: the wedge's similar triangles; 10 mm at 1.5 deg narrows the flats by 0.5237 mm in all.
 */
export const atDepth = (section: Section, depth: Mm, relief: Rad): Section =>
  section.map(({ at, distance }) => ({ at, distance: mm(distance - depth * Math.tan(relief)) }));

/** The flat that faces flat `index` between a micrometer's anvils; `none` without one. */
export function opposite(section: Section, index: number): number | 'none' {
  const flat = section[index];
  if (flat === undefined) return 'none';
  const toward = rad(flat.at + Math.PI);
  const found = section.findIndex(({ at }) => between(at, toward) <= INDEX_WITHIN);
  return found < 0 ? 'none' : found;
}

/** The flats of a sequence by twos that face each other; a flat whose opposite does not follow it is alone. */
export function pairsOf(section: Section, sequence: readonly number[]): readonly (readonly number[])[] {
  const pairs: (readonly number[])[] = [];
  for (const flat of sequence) {
    const last = pairs.at(-1);
    if (last?.length === 1 && opposite(section, flat - 1) === (last[0] ?? 0) - 1)
      pairs[pairs.length - 1] = [...last, flat];
    else pairs.push([flat]);
  }
  return pairs;
}
