/**
 * The blank across the tool axis, as its support function: how far it reaches in a direction. A round
 * blank reaches R everywhere; a square or hex one is a regular section, turned by an angle against the
 * first flat of the punch, and reaches as far as its farthest corner does.
 */
import { sqrtClamped } from '../quantity/angle.js';
import { type Mm, mm, type Rad, rad } from '../quantity/unit.js';
import { type CrossPoint, normal, regularSection, type Section } from './flat.js';
import { corners, type Span, spanOf } from './polygon.js';

export type BlankShape = 'round' | 'square' | 'hex';

export interface Blank {
  readonly shape: BlankShape;
  /** Diameter of a round blank, across flats of the others. */
  readonly size: Mm;
  /** Direction of one of the blank's flats, against the punch's first; 0 for a round blank. */
  readonly turned: Rad;
}

const sidesOf: Record<Exclude<BlankShape, 'round'>, number> = { square: 4, hex: 6 };

interface Outline {
  readonly flats: Section;
  readonly corners: readonly CrossPoint[];
}

/** Outlines worked out already: integrals ask for the same one a thousand times. */
const outlines = new WeakMap<Blank, Outline>();

function outlineOf(blank: Blank, shape: Exclude<BlankShape, 'round'>): Outline {
  const known = outlines.get(blank);
  if (known !== undefined) return known;
  const flats = regularSection(sidesOf[shape], mm(blank.size / 2)).map(({ at, distance }) => ({
    at: rad(at + blank.turned),
    distance,
  }));
  const outline = { flats, corners: corners(flats) };
  outlines.set(blank, outline);
  return outline;
}

/** The blank's own flats; none for a round one. */
export const blankFlats = (blank: Blank): Section =>
  blank.shape === 'round' ? [] : outlineOf(blank, blank.shape).flats;

/** Radius of the circle the blank turns in. */
export const circumradius = (blank: Blank): Mm =>
  blank.shape === 'round'
    ? mm(blank.size / 2)
    : mm(blank.size / 2 / Math.cos(Math.PI / sidesOf[blank.shape]));

/** How far the blank reaches in direction `at` (its support), at most the circumradius. */
export function blankSupport(blank: Blank, at: Rad): Mm {
  if (blank.shape === 'round') return mm(blank.size / 2);
  const toward = normal(at);
  return mm(
    Math.max(...outlineOf(blank, blank.shape).corners.map(({ y, z }) => y * toward.y + z * toward.z)),
  );
}

/** Where the line at `distance` in direction `at` runs inside the blank, along v; `none` if it misses. */
export function blankSpan(blank: Blank, at: Rad, distance: Mm): Span | 'none' {
  if (blank.shape !== 'round') return spanOf({ at, distance }, blankFlats(blank));
  const half = halfChordOf(blank, distance);
  return half > 0 ? { from: mm(-half), to: half } : 'none';
}

/** Half the chord at `distance` from the axis of a round blank; 0 outside it, infinite in one that has flats for sides. */
export function halfChordOf(blank: Blank, distance: Mm): Mm {
  if (blank.shape !== 'round') return mm(Number.POSITIVE_INFINITY);
  return mm(sqrtClamped((blank.size / 2) ** 2 - distance ** 2));
}

/** How far outside the blank a point lies; negative inside. */
export function outsideBlank(blank: Blank, point: CrossPoint): Mm {
  if (blank.shape === 'round') return mm(Math.hypot(point.y, point.z) - blank.size / 2);
  const over = blankFlats(blank).map(({ at, distance }) => {
    const toward = normal(at);
    return point.y * toward.y + point.z * toward.z - distance;
  });
  return mm(Math.max(...over));
}
