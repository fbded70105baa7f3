/**
 * Where a stroke starts: the rim need only clear the stock that stands at its height, not the whole tip. Above
 * the tip's edge the blank's top meets height w at u = (R / cos t - w) / tan t; below it the metal ends at the
 * tip's edge, u = R sin t. The infeed to that height happens there, `approach` past the metal of a blank that
 * is larger by `startAbove`. The engaged length is from there, without these margins, to the farthest reach.
 */
import { type Job, lastDigit, slopeOf } from '../job/job.js';
import { reachToward } from '../job/standing.js';
import { type Mm, type MmPerMin, mm, type Rad } from '../quantity/unit.js';
import { tipEdge } from '../wheel/frame.js';
import { halfChord, tangentRise } from '../wheel/periphery.js';
import { type FlatPlan, reachAt } from './flat.js';
import type { PassKind } from './passes.js';

/** u where the stock at or above height `w` ends toward the tip, the blank reaching `reach`. */
export const metalEnd = (reach: Mm, w: Mm, slope: Rad): Mm =>
  mm(Math.min(tipEdge(reach, slope), (reach / Math.cos(slope) - w) / Math.tan(slope)));

/**
 * u of the lowest line of a plain wheel at `level` that just touches the raw metal, which may stand `higher`: its top where the
 * wheel meets that, else the edge of the tip. A level is lower by its last digit, since beside an edge a hair of height is
 * much along the stroke.
 */
function peripheryEnd(job: Job, { at, higher }: FlatPlan, level: Mm): number {
  const { relief: slope } = job.punch;
  const { periphery } = job.wheel;
  const reach = reachToward(job, at);
  const lowest = level - lastDigit(job);
  const edge = tipEdge(mm(reach + higher * Math.cos(slope)), slope);
  const over = reach / Math.cos(slope) + higher + tangentRise(periphery, slope) - lowest;
  const onTop = over / Math.tan(slope);
  if (onTop - periphery * Math.sin(slope) <= edge) return onTop;
  return edge + halfChord(periphery, reach * Math.cos(slope) + higher - lowest);
}

/** u of the wheel's centre where the infeed to `level` happens and the stroke starts. */
export function strokeStart(job: Job, flat: FlatPlan, level: Mm, clear: Mm): Mm {
  const { approach } = job.grinding;
  const slope = job.punch.relief;
  const largest = mm(reachToward(job, flat.at) + flat.higher * Math.cos(slope));
  const { radius, periphery } = job.wheel;
  const end = periphery > 0 ? peripheryEnd(job, flat, level) : metalEnd(largest, level, slope);
  return mm(Math.min(clear, end + approach + radius));
}

/** Speed of a stroke out; spark-out, where what is left springs back under the wheel, runs alike both ways. */
export const outSpeed = ({ grinding }: Job, kind: PassKind): MmPerMin =>
  kind === 'spark-out' ? grinding.strokeSpeed : grinding.returnSpeed;

/** Lifted this much more than the play, so that the next infeed comes from above; common practice, no source. */
const OVER_PLAY: Mm = mm(0.02);

/**
 * How far the wheel is lifted along the machine's infeed axis before a stroke out. With a tilted head a stroke out
 * climbs, and the slide, which play lets hang, would cut deeper all the way; level strokes need none.
 */
export const returnLift = (job: Job): Mm =>
  mm(slopeOf(job).by === 'head' && job.machine.play > 0 ? job.machine.play + OVER_PLAY : 0);

/**
 * Length of metal under the rim's foremost edge in one stroke; 0 if it meets none.
 * @param before height of the pass before at this flat, or of the stock's top.
 */
export function engagedLength(job: Job, flat: FlatPlan, level: Mm, before: Mm): Mm {
  const slope = job.punch.relief;
  const reach = reachToward(job, flat.at);
  // What stands between the two heights ends at the front face, which leans: u = w tan t.
  const end = Math.min(metalEnd(reach, level, slope), before * Math.tan(slope));
  return mm(Math.max(0, end - reachAt(job, flat, level)));
}
