/**
 * How hard a tilted punch presses. A face that leans by the tilt g meets the form only where it stands lower than the last
 * turn left it, f higher: over phi of the whole turn,
 *   1 - cos phi = f / (R tan g),   F = kc(f) A phi / (2 pi),   kc(f) = kc1 f^-m,
 * f the feed a revolution, R out to the corners, A what of the section the hole leaves to cut. Pushed straight in, all of
 * A would be cut at once. Source: phi and F are plane geometry; kc after Kienzle, its figures from memory.
 */
import { acosClamped } from '../quantity/angle.js';
import { toMm } from '../quantity/length.js';
import { type LengthUnit, type Mm, type Newton, newton, type Rad } from '../quantity/unit.js';

/** What is broached: its specific force at a chip of 1 mm, N/mm2, and how that grows in thinner ones. */
export interface Work {
  readonly specific: number;
  readonly exponent: number;
  /** Feed a revolution to start with. */
  readonly feed: (units: LengthUnit) => Mm;
}

/** Feed a revolution to start with; from memory. */
const START_FEED = { steel: { mm: 0.02, inch: 0.0008 }, soft: { mm: 0.05, inch: 0.002 } } as const;

const fed =
  (work: keyof typeof START_FEED) =>
  (units: LengthUnit): Mm =>
    toMm(START_FEED[work][units], units);

export const WORKS = {
  'soft and free-cutting': { specific: 780, exponent: 0.18, feed: fed('soft') },
  'mild and alloy steel': { specific: 2100, exponent: 0.25, feed: fed('steel') },
  'tough, stainless steel': { specific: 2350, exponent: 0.21, feed: fed('steel') },
} as const satisfies Record<string, Work>;

export type WorkName = keyof typeof WORKS;

/**
 * @param area of the section outside the hole, mm2.
 * @param reach out to the corners.
 */
export function pressingForce(work: WorkName, area: number, reach: Mm, tilt: Rad, feed: Mm): Newton {
  const { specific, exponent } = WORKS[work];
  const turn = acosClamped(1 - feed / (reach * Math.tan(tilt)));
  return newton((specific * feed ** -exponent * area * turn) / (2 * Math.PI));
}
