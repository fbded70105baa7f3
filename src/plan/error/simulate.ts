/**
 * Punches ground in thought, many times, each with errors drawn anew: normal, with half a spread as standard
 * deviation, through the real geometry of plan/error-model, not its derivatives. The seed makes a run repeatable.
 * Source: JCGM 101, propagation of distributions by a Monte Carlo method (from memory).
 */
import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { aimShift } from '../../job/aim.js';
import { type InSteps, toTheEnd } from '../../quantity/in-steps.js';
import { type Mm, mm, rad } from '../../quantity/unit.js';
import { deviation, type ErrorBudget } from './budget.js';
import { centreOffset, type Errors, heldSize, realPunch } from './model.js';

export interface Simulated {
  readonly punches: number;
  readonly seed: number;
  /** Share of punches whose every size, as read, lies within tolerance. */
  readonly inTolerance: number;
  /** Mean and standard deviation of a size's error, of the size that scatters most. */
  readonly size: { readonly mean: Mm; readonly deviation: Mm };
  /** 19 of 20 punches have their centre nearer to the axis than this. */
  readonly offset: Mm;
}

/** Standard normal numbers, two for every two uniform ones; Box and Muller 1958 (from memory). */
function normals(seed: number): () => number {
  const random = xoroshiro128plus(seed);
  let kept: number | undefined;
  return () => {
    if (kept !== undefined) {
      const value = kept;
      kept = undefined;
      return value;
    }
    const radius = Math.sqrt(-2 * Math.log(1 - uniformFloat64(random)));
    const angle = 2 * Math.PI * uniformFloat64(random);
    kept = radius * Math.sin(angle);
    return radius * Math.cos(angle);
  };
}

/** The share of a sorted list that counts as nearly all. */
const NEARLY_ALL = 0.95;

/** @returns sizes in mm; the same seed gives the same punches. */
export const simulate = (budget: ErrorBudget, punches: number, seed: number): Simulated =>
  toTheEnd(simulating(budget, punches, seed));

/** So many punches between two looks at how far it is. */
const A_STEP = 200;

/** The same in steps. */
export function* simulating(
  { grinding, spreads }: ErrorBudget,
  punches: number,
  seed: number,
): InSteps<Simulated> {
  const { job, aimed } = grinding;
  const { section, tolerance, relief } = job.punch;
  const next = normals(seed);
  const draw = (spread: number): number => deviation(spread) * next();
  const list = (spread: number): number[] => section.map(() => draw(spread));
  // The aim lies off the order by as much on every size.
  const ordered = section.map(
    (_, i) => heldSize(grinding, { section: aimed, relief }, i) - 2 * aimShift(job),
  );
  const sums = section.map(() => ({ sum: 0, squares: 0 }));
  const offsets: number[] = [];
  let good = 0;
  for (let n = 0; n < punches; n += 1) {
    if (n % A_STEP === 0) yield n / punches;
    const errors: Errors = {
      touchOff: mm(draw(spreads['touch-off'])),
      edge: mm(draw(spreads.edge)),
      stopReading: mm(draw(spreads['stop reading'])),
      slope: rad(draw(spreads.slope)),
      creep: mm(draw(spreads.creep)),
      eccentricity: { y: mm(draw(spreads.eccentricity)), z: mm(draw(spreads.eccentricity)) },
      sides: list(spreads['block size']).map(mm),
      angles: list(spreads['index angle']).map((angle) => rad(angle + draw(spreads.backlash))),
      wear: draw(spreads.wear),
      temperature: draw(spreads.warmth),
      readings: list(spreads.reading).map(mm),
    };
    const punch = realPunch(grinding, errors);
    let within = true;
    section.forEach((_, i) => {
      const error = heldSize(grinding, punch, i) + (errors.readings[i] ?? 0) - (ordered[i] ?? 0);
      const of = sums[i];
      if (of !== undefined) {
        of.sum += error;
        of.squares += error * error;
      }
      within &&= error <= tolerance.plus && error >= -tolerance.minus;
    });
    if (within) good += 1;
    const { y, z } = centreOffset(grinding, punch);
    offsets.push(Math.hypot(y, z));
  }
  const scatter = sums.map(({ sum, squares }) => {
    const mean = sum / punches;
    return { mean: mm(mean), deviation: mm(Math.sqrt(Math.max(0, squares / punches - mean * mean))) };
  });
  offsets.sort((a, b) => a - b);
  return {
    punches,
    seed,
    inTolerance: good / punches,
    size: scatter.toSorted((a, b) => b.deviation - a.deviation)[0] ?? { mean: mm(0), deviation: mm(0) },
    offset: mm(offsets[Math.floor(NEARLY_ALL * (punches - 1))] ?? 0),
  };
}
