/**
 * What the passes aim at. The size ordered often stands at an end of its tolerance; passes end where the tolerance
 * wants them, in its middle, unless the job says otherwise. A flat moves by a quarter of (plus - minus), since two
 * flats make a size. Where a socket gives the size it is already chosen within the socket's limits.
 * The last digit a program can write is rounded to the inside of the tolerance, so that no punch is predicted past it.
 */

import { type Mm, mm } from '../quantity/unit.js';
import type { Section } from '../section/flat.js';
import { flatHeight } from '../wheel/frame.js';
import { type Job, lastDigit, slopeOf } from './job.js';

/** How far every flat is aimed outward of where it is ordered. */
export function aimShift({ punch, grinding }: Job): Mm {
  const { plus, minus } = punch.tolerance;
  if (typeof grinding.aim === 'number') return mm((grinding.aim - 2 * (punch.section[0]?.distance ?? 0)) / 2);
  return mm(grinding.aim === 'size' || punch.socket !== 'none' ? 0 : (plus - minus) / 4);
}

/** The section the passes aim at, at the front face. */
export function aimedSection(job: Job): Section {
  const shift = aimShift(job);
  return shift === 0
    ? job.punch.section
    : job.punch.section.map(({ at, distance }) => ({ at, distance: mm(distance + shift) }));
}

/** A height this near to a whole digit is that digit, as a share of it. */
const WHOLE = 1e-6;

/** The rim's height for a flat aimed at `aimed` and ordered at `ordered`, in what the program can write. */
export function aimedHeight(job: Job, aimed: Mm, ordered: Mm): Mm {
  const { by, angle } = slopeOf(job);
  const { plus, minus } = job.punch.tolerance;
  const height = flatHeight(aimed, angle);
  const middle = flatHeight(mm(ordered + (plus - minus) / 4), angle);
  const digit = lastDigit(job);
  const inward = Math.sign(Math.abs(middle - height) < digit / 2 ? 0 : middle - height);
  // Both axes of a tilted head's stroke round, each by half a digit: only a height at an end is drawn in.
  if (by === 'head') {
    const room = (plus + minus) / 4;
    const worst = (digit / 2) * (Math.cos(angle) + Math.sin(angle));
    const atEnd = room > 0 && Math.abs(middle - height) > room - worst;
    return mm(height + (atEnd ? inward * worst : 0));
  }
  const count = height / digit;
  const whole =
    inward === 0 ? Math.round(count) : inward < 0 ? Math.floor(count + WHOLE) : Math.ceil(count - WHOLE);
  return mm(whole * digit);
}
