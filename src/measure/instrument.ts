/**
 * What the micrometer at hand shows. Anvils face each other: the reading is across the section, and a flat anvil meets a
 * flat that falls toward the shank at its edge nearest the front face, half its width before its middle. A V-anvil holds
 * two flats, the spindle is on the flat opposite, and it shows the diameter of a round that stands as deep:
 *   R = s / (1/2 + 1/(2 sin(V/2))),   s = d_k + (d_i + d_j) / (2 sin(V/2)),
 * for the flats i and j whose normals stand at +-(90 deg + V/2) from that of flat k. With all flats at h it shows 2 h.
 * Source: plane geometry; a round of diameter D stands D / (2 sin(V/2)) from the root of the V.
 */
import type { Job } from '../job/job.js';
import { INDEX_WITHIN } from '../quantity/tolerance.js';
import { type Mm, mm, type Rad, rad } from '../quantity/unit.js';
import { between, type Section } from '../section/flat.js';
import { acrossFlat } from '../section/outline.js';
import { ReadingError } from './reading-error.js';

export type Instrument =
  /** Depths count from where the anvil touches. */
  | { readonly kind: 'anvils' }
  /** Depths count to the middle of anvils so wide along the tool axis. */
  | { readonly kind: 'wide anvils'; readonly width: Mm }
  | { readonly kind: 'V-anvil'; readonly angle: Rad };

export const ANVILS: Instrument = { kind: 'anvils' };

/** Numbers of the flats that would lie in a V under flat `index`, -1 where there is none. */
function besideV(section: Section, index: number, angle: Rad): readonly [number, number] {
  const flat = section[index];
  const beside = (sign: 1 | -1): number =>
    section.findIndex(
      ({ at }) => between(at, rad((flat?.at ?? 0) + sign * (Math.PI / 2 + angle / 2))) <= INDEX_WITHIN,
    );
  return [beside(1), beside(-1)];
}

/** Whether two flats lie in a V under flat `index`. */
export const liesInV = (section: Section, index: number, angle: Rad): boolean =>
  besideV(section, index, angle).every((flat) => flat >= 0);

/** The two flats that lie in a V under flat `index`. @throws ReadingError if the section has none there. */
export function inTheV(section: Section, index: number, angle: Rad): readonly [number, number] {
  const [i, k] = besideV(section, index, angle);
  if (i < 0 || k < 0)
    throw new ReadingError(
      `no two flats lie in a V of ${Math.round((angle * 180) / Math.PI)} deg under flat ${index + 1}; a triangle wants 60 deg, a pentagon 108`,
    );
  return [i, k];
}

/** What the instrument shows on flat `index` of `section`, as it is where it touches. @throws ReadingError */
export function shows(job: Job, instrument: Instrument, section: Section, index: number): Mm {
  if (instrument.kind !== 'V-anvil') return acrossFlat(section, job.blank, index);
  const sine = Math.sin(instrument.angle / 2);
  const distance = (i: number): number => section[i]?.distance ?? 0;
  const [i, k] = inTheV(section, index, instrument.angle);
  const deep = distance(index) + (distance(i) + distance(k)) / (2 * sine);
  return mm(deep / (0.5 + 0.5 / sine));
}

/** Behind the front face, where anvils touch that are set down at `depth`. @throws ReadingError */
export function touchesAt({ punch }: Job, instrument: Instrument, depth: Mm): Mm {
  if (instrument.kind !== 'wide anvils') return depth;
  const half = instrument.width / 2;
  if (depth + half > punch.flatLength)
    throw new ReadingError(
      `anvils ${instrument.width} mm wide set down ${depth} mm behind the face meet the shoulder; at most ${(punch.flatLength - half).toFixed(1)} mm, or a blade`,
    );
  return mm(Math.max(0, depth - half));
}
