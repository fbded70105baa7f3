/** Tolerances that planner and checker share: name, unit, and why each is that size. One file's own stand in that file. */
import { type Mm, mm, type Rad, rad } from './unit.js';

/** Promise of the product: a posted flat lies within this of the plan. */
export const FLAT_WITHIN: Mm = mm(0.001);

/**
 * Slack on a bite, on a stroke's straightness and on touching: two program numbers, each rounded to
 * 0.001 mm, differ from the plan by at most half a micrometre each.
 */
export const ROUNDING: Mm = mm(0.0012);

/**
 * Below this a removal is no bite: the stroke is a spark-out stroke. With a tilted head both axes of a stroke's
 * two ends are rounded to 0.001 mm, which moves the height by 0.0005 (cos + sin) at each.
 */
export const NO_BITE: Mm = mm(0.0011);

const DEG = Math.PI / 180;

/** Two directions closer than this are one index: well under what a rotary axis can resolve. */
export const SAME_INDEX: Rad = rad(0.001 * DEG);

/** A flat ground this near to where it is ordered is that flat: half of what a careful index holds. */
export const INDEX_WITHIN: Rad = rad(0.025 * DEG);

/** A hair over a feed is how its last digit rounds: F with one decimal, from 1 mm/min up. */
export const FEED_SLACK = 1.001;
