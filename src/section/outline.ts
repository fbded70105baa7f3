/**
 * The finished section: what flats and blank leave together. A flat's own edge is the stretch that
 * neither another flat nor the blank's outline cuts away; where two flats meet outside the blank a
 * land stays, a piece of the blank's outline, which has no relief.
 */
import { type Mm, mm, type Rad, rad } from '../quantity/unit.js';
import { type Blank, blankFlats, blankSpan, circumradius, outsideBlank } from './blank.js';
import { type CrossPoint, normal, type Section } from './flat.js';
import { corners, pointOn, type Span, shared, spanOf, withoutIndex } from './polygon.js';

/** The edge of flat `index` of the finished section, along v; `none` where nothing of it is left. */
export function edgeOf(section: Section, blank: Blank, index: number): Span | 'none' {
  const flat = section[index];
  if (flat === undefined) return 'none';
  return shared(spanOf(flat, withoutIndex(section, index)), blankSpan(blank, flat.at, flat.distance));
}

/** How far the finished section reaches in direction `at`. */
export function outlineSupport(section: Section, blank: Blank, at: Rad): Mm {
  const toward = normal(at);
  const along = ({ y, z }: CrossPoint): number => y * toward.y + z * toward.z;
  const points = section.flatMap((flat, i) => {
    const edge = edgeOf(section, blank, i);
    return edge === 'none' ? [] : [pointOn(flat, edge.from), pointOn(flat, edge.to)];
  });
  const own = blank.shape === 'round' ? [scaled(toward, blank.size / 2)] : corners(blankFlats(blank));
  return mm(Math.max(...[...points, ...own.filter((point) => insideSection(section, point))].map(along)));
}

const scaled = ({ y, z }: CrossPoint, by: number): CrossPoint => ({ y: y * by, z: z * by });

/** A point on a flat counts as inside, whatever the last binary digit says. */
const ON_THE_LINE = 1e-9;

/** True if no flat of `section` cuts `point` off. */
export function insideSection(section: Section, point: CrossPoint): boolean {
  return section.every(({ at, distance }) => {
    const out = normal(at);
    return point.y * out.y + point.z * out.z <= distance + ON_THE_LINE;
  });
}

/**
 * What a micrometer reads across flat `index`: its distance plus the reach of the finished section on
 * the other side. Over an opposite flat this is across flats, over a corner flat-to-corner,
 * h (1 + 1 / cos(pi / n)) for odd n; over the round of a D, h + R.
 */
export function acrossFlat(section: Section, blank: Blank, index: number): Mm {
  const flat = section[index];
  if (flat === undefined) return mm(0);
  return mm(flat.distance + outlineSupport(section, blank, rad(flat.at + Math.PI)));
}

/** A step of the distances for their derivative, mm. */
const STEP = 1e-4;

/**
 * How far the reading across flat `index` moves for each mm that every flat moves out: 2 over an opposite flat,
 * 1 + 1 / cos(pi / n) over a corner of a regular section, 1 over the blank's own round.
 */
export function readingShare(section: Section, blank: Blank, index: number): number {
  const moved = section.map(({ at, distance }) => ({ at, distance: mm(distance + STEP) }));
  return (acrossFlat(moved, blank, index) - acrossFlat(section, blank, index)) / STEP;
}

/** The farthest corner that sticks out of the blank, by how much; 0 or less if all corners lie inside. */
export function cornerOutside(section: Section, blank: Blank): Mm {
  return mm(Math.max(...corners(section).map((corner) => outsideBlank(blank, corner))));
}

/** Directions at which a round outline is looked at, in a whole turn. */
const RAYS = 180;

/** The finished outline as points, counter-clockwise: along each ray the nearer of blank and flats, and every corner. */
export function outlinePoints(section: Section, blank: Blank): readonly CrossPoint[] {
  const flats = [...section, ...blankFlats(blank)];
  const radius = circumradius(blank);
  const turn = 2 * Math.PI;
  const angles = [
    ...Array.from({ length: RAYS }, (_, i) => (turn * i) / RAYS),
    ...corners(flats).map(({ y, z }) => (Math.atan2(-y, z) + turn) % turn),
  ].toSorted((a, b) => a - b);
  return angles.map((angle) => {
    const reach = flats.reduce((least, { at, distance }) => {
      const along = Math.cos(angle - at);
      return along > ON_THE_LINE ? Math.min(least, distance / along) : least;
    }, radius as number);
    return scaled(normal(rad(angle)), reach);
  });
}
