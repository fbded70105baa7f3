/**
 * The life of a punch: each face cut of c takes 2 c tan t off its size and c off its flats, until it no longer cuts its
 * socket. A tip c shorter stands beside the point where the head's axes cross, and runs on a circle of 2 c sin(tilt); a
 * spacer of c behind the shank takes it back. A face dished at a rake g is AC / 2 tan g deep.
 *   AF_k = AF - 2 c k tan t,   L_k = L - c k,   depth_k = min(1.5 AF_k, 0.9 L_k)
 * Source: geometry of the sloped flats; depths by DEPTH of plan/size and shared practice, from memory.
 */
import { aimedSection } from '../job/aim.js';
import type { Job } from '../job/job.js';
import { type Mm, mm, type Rad } from '../quantity/unit.js';
import { acrossCorners } from '../section/corner.js';
import { DEPTH } from './size.js';

export interface Regrind {
  /** 0 as it is now. */
  readonly number: number;
  /** Off the face of a new one in all; a spacer of as much goes behind the shank. */
  readonly off: Mm;
  /** Across flats, or inscribed diameter. */
  readonly size: Mm;
  /** Of a regular even section with sharp corners. */
  readonly acrossCorners: Mm | 'none';
  readonly flatLength: Mm;
  /** Deepest form it broaches. */
  readonly depth: Mm;
}

export interface RegrindLife {
  readonly rows: readonly Regrind[];
  /** Size at which it is worn out. */
  readonly least: Mm;
  readonly cut: Mm;
  /** Circle on which the tip runs for each millimetre it is short. */
  readonly orbitPerMm: Mm;
  /** Depth of a face dished at `dish`. */
  readonly dish: { readonly rake: Rad; readonly depth: Mm } | 'none';
}

/** Of a flat's length a socket may take this share; common practice, no source. */
const USED_LENGTH = 0.9;
/** Guards the last row of a division that comes out whole. */
const WHOLE = 1e-9;

/** Why there is no life to reckon. */
export class RegrindError extends Error {
  override readonly name = 'RegrindError';
}

/**
 * @param size what it measures now, across flats or twice a flat's distance; `as ground` for a new one, at what passes aim at.
 * @param gone off its face already, by its length: its size does not tell, since no punch is ground to the last digit.
 * @throws RegrindError for a section without one size, and for one that is worn out already.
 */
export function regrindLife(
  job: Job,
  cut: Mm,
  size: Mm | 'as ground' = 'as ground',
  rake: Rad | 'none' = 'none',
  gone: Mm = mm(0),
): RegrindLife {
  const { sides, section, flatLength, relief, headTilt, tolerance, socket, corners } = job.punch;
  if (sides === 'free')
    throw new RegrindError('a free section has no one size; look at its tightest pair by hand');
  const ordered = mm(2 * (section[0]?.distance ?? 0));
  const now = size === 'as ground' ? mm(2 * (aimedSection(job)[0]?.distance ?? 0)) : size;
  const least = socket === 'none' ? mm(ordered - tolerance.minus) : socket.of.least;
  if (now < least - WHOLE) throw new RegrindError('it is under its least size already');
  const each = 2 * cut * Math.tan(relief);
  const last = Math.min(Math.floor((now - least) / each + WHOLE), Math.ceil((flatLength - gone) / cut) - 1);
  const cornersOf = (across: number): Mm | 'none' =>
    sides % 2 === 0 && corners === 'sharp' ? acrossCorners(mm(across), sides) : 'none';
  return {
    rows: Array.from({ length: last + 1 }, (_, k): Regrind => {
      const across = mm(now - k * each);
      const length = mm(flatLength - gone - k * cut);
      return {
        number: k,
        off: mm(gone + k * cut),
        size: across,
        acrossCorners: cornersOf(across),
        flatLength: length,
        depth: mm(Math.min(DEPTH.most * across, USED_LENGTH * length)),
      };
    }),
    least,
    cut,
    orbitPerMm: mm(2 * Math.sin(headTilt)),
    dish:
      rake === 'none'
        ? 'none'
        : {
            rake,
            depth: mm(((sides % 2 === 0 ? acrossCorners(now, sides) : now) / 2) * Math.tan(rake)),
          },
  };
}
