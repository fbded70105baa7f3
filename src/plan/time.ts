/**
 * How long the program runs: stroke lengths over stroke speed, rapids over rapid speed, dwells, and a
 * rotary axis' turns. What a hand needs at a program stop is not counted.
 */
import type { Job } from '../job/job.js';
import { degFromRad } from '../quantity/angle.js';
import { type Mm, mm, type Seconds, seconds } from '../quantity/unit.js';
import type { Step } from './order.js';
import type { Positions } from './position.js';

export interface Totals {
  readonly passes: number;
  /** Length of all strokes, in and out. */
  readonly strokeLength: Mm;
  readonly running: Seconds;
  /** Program stops at which a hand has to act. */
  readonly stops: number;
}

export function planTotals(job: Job, steps: readonly Step[], { clear, indexHeight }: Positions): Totals {
  const { strokeSpeed } = job.grinding;
  const { spinUp, coastDown } = job.machine.spindle;
  const rotary = job.machine.rotary;
  const byHand = job.holding.index === 'by hand';
  const stopped = spinUp + coastDown + job.holding.handsOff;
  let [passes, length, time, stops, height, angle] = [0, 0, spinUp as number, 0, indexHeight as number, 0];
  for (const step of steps) {
    if (step.kind === 'pass') {
      const there = 2 * (clear - step.flat.centreEnd);
      passes += 1;
      length += there;
      time += (60 * (there + Math.abs(height - step.pass.w))) / strokeSpeed;
      height = step.pass.w;
    } else {
      time += (60 * Math.abs(indexHeight - height)) / job.machine.rapid;
      height = indexHeight;
      if (byHand || step.kind === 'measuring stop') {
        stops += 1;
        time += stopped;
      } else if (rotary !== undefined) {
        const turn = Math.abs(degFromRad(step.flat.at) - angle) / 360;
        time += (60 * turn) / rotary.turnsPerMinute + (rotary.mayTurnWithSpindle ? 0 : stopped);
        angle = degFromRad(step.flat.at);
      }
    }
  }
  return { passes, strokeLength: mm(length), running: seconds(time), stops };
}
