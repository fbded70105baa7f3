/**
 * Dressing by a diamond at a known place: the rim is drawn over its point from outside to inside and back, a little deeper
 * each time, and once without. The rim's plane then runs at the height of the point by definition: what the passes took off
 * the wheel the offset falls by, and nothing is touched off.
 *   wheel centre from Rw + 1 beyond the point to Rw - b - 1, b the rim; feed a share of a millimetre a turn times the speed
 * Source: 0.02 to 0.05 mm a turn, 0.01 to 0.02 mm a pass, common practice, no source.
 */
import { type Job, lastDigit, layoutOf, slopeOf } from '../job/job.js';
import { fromMachine } from '../job/layout.js';
import { trimmed } from '../quantity/decimal.js';
import { type Mm, type MmPerMin, mm, mmPerMin } from '../quantity/unit.js';
import { circumradius } from '../section/blank.js';
import { tipEdge } from '../wheel/frame.js';

export interface DressPlan {
  readonly job: Job;
  readonly depth: Mm;
  readonly passes: number;
  /** Heights of the rim's plane, the last once more without infeed. */
  readonly levels: readonly Mm[];
  /** Place of the point in the wheel frame. */
  readonly point: { readonly u: Mm; readonly v: Mm; readonly w: Mm };
  /** Wheel centre outside the point and past the rim's inside. */
  readonly outside: Mm;
  readonly inside: Mm;
  readonly feed: MmPerMin;
}

const BESIDE: Mm = mm(1);
/** A turn of the wheel, mm along the rim's width. */
const A_TURN = 0.03;
/** Deeper passes break diamond and wheel; common practice, no source. */
export const MOST_DRESSED: Mm = mm(0.03);

/** Why the wheel cannot be dressed by a program. */
export class DressError extends Error {
  override readonly name = 'DressError';
}

/** @throws DressError where the job has no diamond, or its spindle is leaned so that the rim is not level. */
export function planDress(job: Job, passes: number, depth: Mm): DressPlan {
  const { diamond } = job.holding;
  if (diamond === undefined)
    throw new DressError(
      'the job does not say where a diamond stands; write holding.diamond: { x: 60, y: 0, z: -5 }, its point from work zero',
    );
  if (slopeOf(job).by === 'head')
    throw new DressError('with the head tilted the rim is not level; dress by hand');
  if (job.wheel.shape === 'plain')
    throw new DressError(
      "a plain wheel is dressed across its periphery, by the machine's own cross feed; dress by hand",
    );
  if (depth > MOST_DRESSED)
    throw new DressError(`a pass takes ${MOST_DRESSED} mm at most; more passes instead`);
  const tip = tipEdge(circumradius(job.blank), job.punch.relief) + job.grinding.clearance;
  const point = fromMachine(layoutOf(job), slopeOf(job), { x: diamond.x, y: diamond.y ?? 0, z: diamond.z });
  const { radius, rim } = job.wheel;
  // Drawn in as far as it goes, the wheel must still be clear of the punch.
  const short = tip - (point.u - rim - BESIDE);
  if (short > 0)
    throw new DressError(
      `the diamond stands where the wheel would meet the punch; ${trimmed(short, 1)} mm farther from the tip would do`,
    );
  const digit = lastDigit(job);
  const level = (k: number): Mm => mm(Math.round((point.w - k * depth) / digit) * digit);
  const heights = Array.from({ length: passes }, (_, k) => level(k + 1));
  return {
    job,
    depth,
    passes,
    levels: [...heights, level(passes)],
    point: { u: mm(point.u), v: mm(point.v), w: mm(point.w) },
    outside: mm(point.u + radius + BESIDE),
    inside: mm(point.u + radius - rim - BESIDE),
    feed: mmPerMin(Math.min(A_TURN * job.grinding.spindleSpeed, job.machine.maxFeed)),
  };
}
