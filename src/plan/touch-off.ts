/**
 * Touch-off: with the rim's edge `overlap` behind the tip's upper edge, over the blank, the first spark
 * comes under that edge, at w = R / cos t - u tan t: the stock rises toward the shank, so not at the tip.
 * The numbers are what to type into the work offset while the wheel stands there.
 */
import { type Job, onMachine } from '../job/job.js';
import type { MachinePoint } from '../job/layout.js';
import { heightAt, reachToward, standingAt } from '../job/standing.js';
import { toMm } from '../quantity/length.js';
import { type Mm, mm } from '../quantity/unit.js';
import { stockTop, tipEdge } from '../wheel/frame.js';

export interface TouchOff {
  /** How far behind the tip's upper edge the rim's edge stands. */
  readonly overlap: Mm;
  /** u of the wheel's centre there. */
  readonly u: Mm;
  /** Height of the first spark in the wheel frame. */
  readonly w: Mm;
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
  const w = standing === 'none' ? stockTop(reach, edge, slope) : heightAt(standing, edge);
  const u = mm(edge + job.wheel.radius);
  const reads = onMachine(job, { u, v: 0, w });
  return { overlap, u, w, reads };
}
