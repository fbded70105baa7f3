/**
 * Convex sections by clipping: a flat is a line, every other flat cuts it short.
 * On flat i, at v along it, flat j allows v sin(ai - aj) <= sj - si cos(ai - aj), with a the directions
 * and s the distances. Source: intersection of half-planes, plane geometry.
 */
import { type Mm, mm, type Rad } from '../quantity/unit.js';
import { type CrossPoint, type Flat, normal, opposite, type Section } from './flat.js';

/** A stretch of a flat along v, where v is to the right seen from the tip with the flat up. */
export interface Span {
  readonly from: Mm;
  readonly to: Mm;
}

/** Below this the sine of the angle between two flats is taken as parallel. */
const PARALLEL = 1e-12;

/** The stretch of `flat` that every other line of `section` leaves; infinite where nothing cuts it. */
export function spanOf(flat: Flat, section: Section): Span | 'none' {
  const stretch = Float64Array.of(Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY);
  clipperAt(flat.at, section)(stretch, flat.distance, mm(0));
  const [from, to] = [mm(stretch[0] ?? 0), mm(stretch[1] ?? 0)];
  return from < to ? { from, to } : 'none';
}

/** Cuts a stretch (where it begins, where it ends) of the line at `distance` short; what is left of none begins past its end. */
type Clip = (stretch: Float64Array, distance: Mm, drop: Mm) => void;

/**
 * What lines leave of many parallel ones: all that hangs on the direction alone is worked out once, and the stretch is
 * written in place, since every layer of every pass comes through here.
 * @param still lines that stay where they are while those of `sinking` come nearer to the axis by `drop`.
 */
export function clipperAt(at: Rad, sinking: Section, still: Section = []): Clip {
  const sink = sinking.length;
  const count = sink + still.length;
  const [distances, shares, rates] = [
    new Float64Array(count),
    new Float64Array(count),
    new Float64Array(count),
  ];
  const lay = (other: Flat, i: number): void => {
    distances[i] = other.distance;
    shares[i] = Math.cos(at - other.at);
    rates[i] = Math.sin(at - other.at);
  };
  sinking.forEach(lay);
  still.forEach((other, i) => {
    lay(other, sink + i);
  });
  return (stretch, distance, drop) => {
    let from = stretch[0] ?? 0;
    let to = stretch[1] ?? 0;
    for (let i = 0; i < count; i += 1) {
      const rate = rates[i] ?? 0;
      const room = (distances[i] ?? 0) - (i < sink ? drop : 0) - distance * (shares[i] ?? 0);
      if (Math.abs(rate) < PARALLEL) {
        // Behind an opposite flat, or outside a parallel one that lies deeper: nothing is left.
        if (room < 0) to = Number.NEGATIVE_INFINITY;
      } else if (rate > 0) to = Math.min(to, room / rate);
      else from = Math.max(from, room / rate);
    }
    stretch[0] = from;
    stretch[1] = to;
  };
}

/** The stretch both spans share. */
export function shared(a: Span | 'none', b: Span | 'none'): Span | 'none' {
  if (a === 'none' || b === 'none') return 'none';
  const from = mm(Math.max(a.from, b.from));
  const to = mm(Math.min(a.to, b.to));
  return from < to ? { from, to } : 'none';
}

/** The point at `v` along `flat`. */
export function pointOn(flat: Flat, v: Mm): CrossPoint {
  const out = normal(flat.at);
  return { y: flat.distance * out.y + v * out.z, z: flat.distance * out.z - v * out.y };
}

/** True if the flats alone close the section: every flat exists and is cut short on both sides. */
export function isClosed(section: Section): boolean {
  return section.every((flat, i) => {
    const span = spanOf(flat, withoutIndex(section, i));
    return span !== 'none' && Number.isFinite(span.from) && Number.isFinite(span.to);
  });
}

/** The corners of a closed section, one after each flat, counter-clockwise seen from the tip. */
export function corners(section: Section): readonly CrossPoint[] {
  return section.flatMap((flat, i) => {
    const span = spanOf(flat, withoutIndex(section, i));
    // Seen from the tip v runs to the right, so the counter-clockwise end of an upper flat is at -v.
    return span === 'none' || !Number.isFinite(span.from) ? [] : [pointOn(flat, span.from)];
  });
}

export const withoutIndex = (section: Section, index: number): Section =>
  section.filter((_, i) => i !== index);

/** What a micrometer on flat `index` meets on the other side: a flat, by its index, a corner, or the blank's round. */
export function measuredTo(section: Section, index: number): number | 'corner' | 'round' {
  const facing = opposite(section, index);
  if (facing !== 'none') return facing;
  return isClosed(section) ? 'corner' : 'round';
}
