/**
 * How long the program runs: stroke lengths over their speeds, rapids over rapid speed, dwells, and a
 * rotary axis' turns. What a hand needs at a program stop is not counted. The least possible is the engaged
 * length of every pass over the stroke speed, and back over that of a stroke out.
 */
import type { Job } from '../job/job.js';
import { degFromRad } from '../quantity/angle.js';
import { type Mm, mm, type Seconds, seconds } from '../quantity/unit.js';
import type { Positions } from './position.js';
import type { PassStep, Step } from './step.js';
import { strokeBegin, strokeEnd } from './step.js';
import { outSpeed } from './stroke.js';
import {
  BEFORE_MOVING,
  handsIn,
  restsUntilIndexed,
  SPIN_DRY,
  SPIN_DRY_AT_END,
  SWITCH_STOPS,
} from './wait.js';

export interface Totals {
  readonly passes: number;
  /** Length of all strokes, in and out. */
  readonly strokeLength: Mm;
  /** How much of it the rim's edge runs over metal. */
  readonly engagedLength: Mm;
  /** Strokes, infeeds, rapids, indexes and waits. */
  readonly running: Seconds;
  /** Strokes and infeeds alone. */
  readonly grinding: Seconds;
  /** The wheel clear of the punch, for it to cool. */
  readonly resting: Seconds;
  /** A rotary axis brings flats up. */
  readonly indexing: Seconds;
  /** Engaged length over the speed of the stroke, in and out: no program at these infeeds is faster. */
  readonly least: Seconds;
  /** Grinding of each flat, by its number. */
  readonly perFlat: readonly { readonly flat: number; readonly grinding: Seconds }[];
  /** Program stops at which a hand has to act. */
  readonly stops: number;
}

/** Lengths of a pass's strokes, in and out. */
function lengthsOf(
  steps: readonly Step[],
  i: number,
  { pass }: PassStep,
  clear: Mm,
): { readonly into: number; readonly out: number } {
  const begin = strokeBegin(steps[i - 1], pass, clear);
  return { into: begin - pass.end, out: strokeEnd(steps[i + 1], clear) - pass.end };
}

/** Lengths in mm and times in seconds of all steps. */
export function planTotals(job: Job, steps: readonly Step[], { clear, indexHeight }: Positions): Totals {
  const { strokeSpeed } = job.grinding;
  const { spinUp } = job.machine.spindle;
  const rotary = job.machine.rotary;
  const byHand = job.holding.index === 'by hand';
  // A pause before moving, and the wheel spun dry where it was wet.
  const wet = job.grinding.coolant !== 'none';
  const rest = handsIn(job) + (wet ? SPIN_DRY : 0);
  const stopped = spinUp + rest + BEFORE_MOVING;
  const bySwitch = job.machine.spindle.switched === 'by hand';
  const perFlat = new Map<number, number>();
  let [passes, length, engaged, least, resting, indexing, time, stops] = [
    0,
    0,
    0,
    0,
    0,
    0,
    spinUp + handsIn(job) + (wet ? SPIN_DRY_AT_END : 0),
    0,
  ];
  const { rest: pause } = job.grinding;
  let sinceIndex = 0;
  let [height, angle] = [indexHeight as number, 0];
  steps.forEach((step, i) => {
    if (step.kind === 'pass') {
      const { flat, pass } = step;
      const { into, out } = lengthsOf(steps, i, step, clear);
      const back = outSpeed(job, pass.kind);
      const taken = 60 * ((into + Math.abs(height - pass.w)) / strokeSpeed + out / back);
      passes += 1;
      length += into + out;
      engaged += 2 * pass.load.engaged;
      least += 60 * (pass.load.engaged / strokeSpeed + pass.load.engaged / back);
      time += taken;
      perFlat.set(flat.number, (perFlat.get(flat.number) ?? 0) + taken);
      sinceIndex += 1;
      if (pause !== undefined && sinceIndex % pause.every === 0 && steps[i + 1]?.kind === 'pass')
        resting += pause.for;
      height = pass.w;
      return;
    }
    sinceIndex = 0;
    const up = (60 * Math.abs(indexHeight - height)) / job.machine.rapid;
    indexing += up;
    time += up;
    height = indexHeight;
    // A stop and the hand's index after it are one.
    const joined = byHand && steps[i - 1]?.kind === 'stop';
    if (!joined && (byHand || step.kind === 'stop')) {
      stops += bySwitch ? SWITCH_STOPS : 1;
      time += i === 0 ? BEFORE_MOVING : stopped;
    } else if (step.kind === 'index' && !byHand && rotary !== undefined) {
      const begins = i === 0 || (steps[i - 1]?.kind === 'stop' && restsUntilIndexed(job));
      const turn = Math.abs(degFromRad(step.flat.at) - angle) / 360;
      const taken =
        (60 * turn) / rotary.turnsPerMinute + (rotary.mayTurnWithSpindle || begins ? 0 : spinUp + rest);
      indexing += taken;
      time += taken;
      angle = degFromRad(step.flat.at);
    }
  });
  const grinding = [...perFlat].map(([flat, taken]) => ({ flat, grinding: seconds(taken) }));
  return {
    passes,
    strokeLength: mm(length),
    engagedLength: mm(engaged),
    running: seconds(time + resting),
    grinding: seconds(grinding.reduce((sum, { grinding: taken }) => sum + taken, 0)),
    resting: seconds(resting),
    indexing: seconds(indexing),
    least: seconds(least),
    perFlat: grinding.toSorted((a, b) => a.flat - b.flat),
    stops,
  };
}
