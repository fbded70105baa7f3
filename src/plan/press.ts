/**
 * How hard a tilted punch presses. A face that leans by the tilt g meets the form where it stands lower than the last turn
 * left it, f higher: a point at r from the axis over the angle phi of each turn,
 *   1 - cos phi = f / (r tan g),
 * so that at any moment what of the section lies outside the hole and within phi behind the lowest direction is cut, all of it
 * on one side: F = kc(f) times that area, kc(f) = kc1 f^-m. The section turns under the lowest direction, and a corner that
 * comes there presses hardest. Beside the axis by e it bends the end of the flats, F (1 / A + e / Z) at its outermost fibre.
 * Source: phi, area and e are plane geometry, summed over small cells; kc after Kienzle, its figures from memory.
 */
import { acosClamped } from '../quantity/angle.js';
import { toMm } from '../quantity/length.js';
import {
  type LengthUnit,
  type Mm,
  mm,
  type Newton,
  type NPerMm2,
  newton,
  nPerMm2,
  type Rad,
  rad,
} from '../quantity/unit.js';
import { between, type Section } from '../section/flat.js';

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
  'brass, aluminium': { specific: 780, exponent: 0.18, feed: fed('soft') },
  'mild and alloy steel': { specific: 2300, exponent: 0.25, feed: fed('steel') },
  'tough, stainless steel': { specific: 2600, exponent: 0.25, feed: fed('steel') },
} as const satisfies Record<string, Work>;

export type WorkName = keyof typeof WORKS;

/**
 * A hardened punch bends to some 3000 N/mm2 and breaks; from memory. The force is known within a factor of two: over half of
 * that it may break, over twice that it will.
 */
export const MAY_BREAK: NPerMm2 = nPerMm2(1500);
export const WILL_BREAK: NPerMm2 = nPerMm2(6000);

/** A round with flats: the front of a punch. */
export interface Front {
  readonly section: Section;
  /** Its corners end there, or the round between flats stands there. */
  readonly round: Mm;
}

export interface Pressing {
  readonly mean: Newton;
  /** As the section turns under the lowest direction. */
  readonly most: Newton;
  /** Of the most, from the axis. */
  readonly beside: Mm;
}

/** Directions and rings of the cells that are summed: good to a per cent. */
const [DIRECTIONS, RINGS] = [360, 16] as const;
/** Sums this near to each other, as a share, are the same. */
const ALIKE = 1e-6;

/** How far the front reaches in a direction. */
const reachOf = ({ section, round }: Front, direction: Rad): number =>
  section.reduce((least, { at, distance }) => {
    const away = between(at, direction);
    return away < Math.PI / 2 - 1e-9 ? Math.min(least, distance / Math.cos(away)) : least;
  }, round as number);

/** @param hole its radius. */
export function pressing(work: WorkName, front: Front, hole: Mm, tilt: Rad, feed: Mm): Pressing {
  const { specific, exponent } = WORKS[work];
  const wide = (2 * Math.PI) / DIRECTIONS;
  // A cell is cut while the lowest direction lies up to phi before it: a run of directions that begins and ends, so only its
  // beginning and end are noted, and summed up afterwards.
  const begins = Array.from({ length: 2 * DIRECTIONS + 2 }, () => ({ area: 0, y: 0, z: 0 }));
  const note = (at: number, area: number, y: number, z: number): void => {
    const into = begins[at];
    if (into === undefined) return;
    into.area += area;
    into.y += y;
    into.z += z;
  };
  for (let i = 0; i < DIRECTIONS; i += 1) {
    const direction = (i + 0.5) * wide;
    const deep = (reachOf(front, rad(direction)) - hole) / RINGS;
    for (let k = 0; deep > 0 && k < RINGS; k += 1) {
      const r = hole + (k + 0.5) * deep;
      const area = r * deep * wide;
      const [y, z] = [area * r * Math.sin(direction), area * r * Math.cos(direction)];
      const steps = acosClamped(1 - feed / (r * Math.tan(tilt))) / wide;
      const whole = Math.floor(steps);
      const part = steps - whole;
      const last = i + DIRECTIONS;
      // The direction where it begins counts in part.
      note(last - whole, part * area, part * y, part * z);
      note(last - whole + 1, (1 - part) * area, (1 - part) * y, (1 - part) * z);
      note(last + 1, -area, -y, -z);
    }
  }
  const cut = Array.from({ length: DIRECTIONS }, () => ({ area: 0, y: 0, z: 0 }));
  let [area, y, z] = [0, 0, 0];
  begins.forEach((each, i) => {
    area += each.area;
    y += each.y;
    z += each.z;
    const into = cut[i % DIRECTIONS];
    if (into === undefined) return;
    into.area += area;
    into.y += y;
    into.z += z;
  });
  const force = specific * feed ** -exponent;
  const far = (cell: { readonly y: number; readonly z: number }): number => Math.hypot(cell.y, cell.z);
  // Where a corner is cut whole for a while the force stands still: its farthest place from the axis counts.
  const most = cut.reduce((a, b) =>
    b.area > a.area * (1 + ALIKE) || (b.area > a.area * (1 - ALIKE) && far(b) > far(a)) ? b : a,
  );
  return {
    mean: newton((force * cut.reduce((sum, { area }) => sum + area, 0)) / DIRECTIONS),
    most: newton(force * most.area),
    beside: mm(most.area === 0 ? 0 : far(most) / most.area),
  };
}

/** What the most of it does to a section of that area and smallest modulus. */
export const bendingAt = (
  { most, beside }: Pressing,
  { area, modulus }: { readonly area: number; readonly modulus: number },
): NPerMm2 => nPerMm2(most * (1 / area + beside / modulus));
