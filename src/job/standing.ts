/**
 * The punch as it stands before the work: flats that are there already, milled soft, ground before a stop, or measured.
 * A value that plan, post, check and sheet take from the job, and that check gives back for what a program leaves.
 * A flat at distance d from the axis stands at w = d cos t; a plane at w that runs to the depth D behind the front face
 * ends at u = (w sin t - D) / cos t. Source: geometry of wheel/frame.
 */
import { ROUNDING, SAME_INDEX } from '../quantity/tolerance.js';
import { type Mm, mm, type Rad } from '../quantity/unit.js';
import { type Blank, blankSupport } from '../section/blank.js';
import { between, type Section } from '../section/flat.js';
import { distanceFromHeight, flatHeight } from '../wheel/frame.js';

/** A level plane in the wheel frame: its height, and how far toward the shank it runs. */
export interface Floor {
  readonly reach: number;
  readonly w: number;
}

export interface StandingFlat {
  readonly at: Rad;
  /** Stairs toward the shank: farthest first, each lower than the one before. */
  readonly floors: readonly Floor[];
  /** It may stand as much higher: nobody measured it, or a wheel wore less than thought. */
  readonly higher: Mm;
}

export type Standing = readonly StandingFlat[];

/** As much of a job as says how its punch stands. */
export interface Stands {
  readonly standing: Standing;
  readonly blank: Blank;
  readonly punch: { readonly relief: Rad };
}

/** Milled this much longer than ordered, so that no stroke meets the raw blank behind; common practice, no source. */
export const MILLED_LONGER: Mm = mm(0.5);

/** Less is floating-point noise, mm. */
const NO_RISE = 1e-9;

/** Rise of a stair where a flat does not lie level, mm: what a flat may be taken to stand too high by. */
const STAIR = 0.002;

/**
 * A flat at `distance` from the axis at the front face, `length` long on its centre line. Ground at a slope of its own it is
 * not level in the wheel frame: w(D) = (d + D (tan t - tan t0)) cos t at depth D behind the face. Rising toward the shank it
 * is taken as stairs above it; falling, as level at its front.
 * @param slope of the wheel frame, t.
 */
export function flatStanding(
  { at, distance, own }: { readonly at: Rad; readonly distance: Mm; readonly own: Rad },
  length: Mm,
  slope: Rad,
  higher: Mm,
): StandingFlat {
  const rise = (Math.tan(slope) - Math.tan(own)) * Math.cos(slope);
  const steps = Math.max(1, Math.ceil((rise * length) / STAIR - ROUNDING));
  const place = (depth: number): Floor => ({
    w: flatHeight(distance, slope) + Math.max(0, rise) * depth,
    reach: (distance - depth * Math.tan(own)) * Math.sin(slope) - depth * Math.cos(slope),
  });
  const stairs = Array.from({ length: steps }, (_, i) => place((length * (steps - i)) / steps));
  // Its front edge stands where it stands.
  return { at, floors: rise * length > NO_RISE ? [...stairs, place(0)] : stairs, higher };
}

/**
 * The flat that stands at an index; `none` where the blank is raw there, or only begun behind the tip: it has no flat at
 * the front face yet.
 */
export function standingAt({ standing, blank, punch }: Stands, at: Rad): StandingFlat | 'none' {
  const flat = standing.find((each) => between(each.at, at) <= SAME_INDEX);
  if (flat === undefined) return 'none';
  return distanceOf(flat, punch.relief) < blankSupport(blank, at) ? flat : 'none';
}

/** The lowest floor under a reach: floors go up as stairs toward the shank, so the last that reaches it. */
export function floorAt(floors: readonly Floor[], reach: number): Floor | undefined {
  let [from, to] = [0, floors.length];
  while (from < to) {
    const middle = (from + to) >> 1;
    if ((floors[middle]?.reach ?? 0) <= reach) from = middle + 1;
    else to = middle;
  }
  return floors[from - 1];
}

/**
 * The stairs after a level stroke; the same list if it takes nothing. Only strokes that no other one outdoes are kept.
 * Strokes that end within a rounding of each other count as ending together: the sliver between them is no bite.
 */
export function afterStroke(floors: readonly Floor[], stroke: Floor): readonly Floor[] {
  const under = floorAt(floors, stroke.reach);
  if (under !== undefined && under.w <= stroke.w) return floors;
  const kept = floors.filter((floor) => floor.reach < stroke.reach - ROUNDING || floor.w < stroke.w);
  return [...kept, stroke].toSorted((a, b) => a.reach - b.reach);
}

/** The lowest plane of a flat, which is the flat itself. */
export const planeOf = ({ floors }: StandingFlat): Floor => {
  const lowest = floors.at(-1);
  if (lowest === undefined) throw new RangeError('a standing flat has a plane');
  return lowest;
};

/** Farthest toward the shank that it runs. */
export const farthestOf = ({ floors }: StandingFlat): number =>
  floors.reduce((least, { reach }) => Math.min(least, reach), Number.POSITIVE_INFINITY);

/** How high it stands where the wheel reaches `reach`: its highest there, or its own farthest. */
export const heightAt = ({ floors }: StandingFlat, reach: number): Mm =>
  mm((floorAt(floors, reach) ?? floors[0])?.w ?? 0);

/** How far a flat stands from the axis at the front face. */
export const distanceOf = (flat: StandingFlat, slope: Rad): Mm =>
  distanceFromHeight(mm(planeOf(flat).w), slope);

/** A flat of the section that stands before the work. */
export interface StandingSize {
  /** Its number in the order. */
  readonly number: number;
  readonly distance: Mm;
  /** Farther from the axis than ordered. */
  readonly over: Mm;
}

/** The flats of `section` that stand, in its order, at the front face. */
export const standingSizes = (job: Stands, section: Section): readonly StandingSize[] =>
  section.flatMap(({ at, distance: ordered }, i) => {
    const flat = standingAt(job, at);
    if (flat === 'none') return [];
    const distance = distanceOf(flat, job.punch.relief);
    return [{ number: i + 1, distance, over: mm(distance - ordered) }];
  });

/** How far the punch reaches toward the wheel at the front face: to a flat that stands there, or to the blank's outside. */
export function reachToward(job: Stands, at: Rad): Mm {
  const flat = standingAt(job, at);
  const blank = blankSupport(job.blank, at);
  return flat === 'none' ? blank : mm(Math.min(blank, distanceOf(flat, job.punch.relief)));
}
