/**
 * Touch-off: with the rim's edge `overlap` behind the tip's upper edge, over the blank, the first spark
 * comes under that edge, at w = R / cos t - u tan t: the stock rises toward the shank, so not at the tip. A plain wheel
 * touches it farther back and stands Rg (1 / cos t - 1) higher.
 * The numbers are what to type into the work offset while the wheel stands there.
 */
import { takenBack } from '../job/block.js';
import { settingFor } from '../job/indexing.js';
import { type Job, onMachine } from '../job/job.js';
import type { MachinePoint } from '../job/layout.js';
import { heightAt, reachToward, standingAt } from '../job/standing.js';
import { toMm } from '../quantity/length.js';
import { type Mm, mm, type Rad, rad } from '../quantity/unit.js';
import { stockTop, tipEdge } from '../wheel/frame.js';
import { tangentRise } from '../wheel/periphery.js';

export interface TouchOff {
  /** How far behind the tip's upper edge the rim's edge stands. */
  readonly overlap: Mm;
  /** u of the wheel's centre there. */
  readonly u: Mm;
  /** Height of the first spark in the wheel frame. */
  readonly w: Mm;
  /** Index angles at which it is touched; the mean of the places counts. */
  readonly at: readonly Rad[];
  /** How much higher the axis stands there than on the mean, where programs take that back. */
  readonly rise: Mm;
  /** What the axes must read at the first spark. */
  readonly reads: MachinePoint;
}

/** Far enough onto the blank to see the spark; less on a short flat. Common practice, no source. */
const OVERLAP = { mm: 2, inch: 0.08 } as const;

/** Where to touch off, and what the axes must read there, mm as programmed. */
export function planTouchOff(job: Job): TouchOff {
  const slope = job.punch.relief;
  const first = job.punch.section[0];
  if (first === undefined) throw new RangeError('a section has at least one flat');
  const reach = reachToward(job, first.at);
  const standing = standingAt(job, first.at);
  const overlap = mm(Math.min(toMm(OVERLAP[job.units], job.units), job.punch.flatLength / 2));
  const edge = mm(tipEdge(reach, slope) - overlap);
  const w =
    standing === 'none'
      ? mm(stockTop(reach, edge, slope) + tangentRise(job.wheel.periphery, slope))
      : heightAt(standing, edge);
  const u = mm(edge + job.wheel.radius);
  const over = rad((first.at + Math.PI) % (2 * Math.PI));
  // Turned over it must be the raw blank again: a spark on a flat would spoil it, and the mean of both the zero.
  const turnsOver =
    settingFor(job.holding.device, first.at, over) !== 'cannot' && standingAt(job, over) === 'none';
  const at = turnsOver && standing === 'none' ? [first.at, over] : [first.at];
  const rise = at.reduce((sum, each) => sum + takenBack(job, each), 0) / at.length;
  const reads = onMachine(job, { u, v: 0, w: w + rise });
  return { overlap, u, w, at, rise: mm(rise), reads };
}
