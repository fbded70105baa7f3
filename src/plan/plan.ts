/**
 * From a job to a plan: the flats under the wheel, where nothing is touched, the steps in order, what
 * speaks against it. Pure; everything in the wheel frame, so every layout follows from one plan.
 * A plan with an error among its findings must not be posted.
 */

import { type Job, slopeOf } from '../job/job.js';
import type { Slope } from '../job/layout.js';
import { usesBar } from '../job/set-up.js';
import { surfaceSpeed } from '../quantity/speed.js';
import { type Mm, type MPerS, mm, type Rad, rad } from '../quantity/unit.js';
import { cornerRelief } from '../section/corner.js';
import { acrossFlat, readingShare } from '../section/outline.js';
import { dialFindings, onDials } from './dials.js';
import { biasOf, grindingOf } from './error/budget.js';
import type { PlanFinding } from './finding.js';
import { type FlatPlan, planFlats } from './flat.js';
import { type HandStep, planHands } from './hands.js';
import { type Heat, planHeat } from './heat.js';
import { orderSteps } from './order.js';
import { machinePlaces, type Positions, planPositions } from './position.js';
import { applyRules } from './rules.js';
import { sectionAt } from './stage.js';
import type { Step } from './step.js';
import { planTotals, type Totals } from './time.js';
import {
  type EqualSteps,
  type Loads,
  planLoads,
  planWear,
  smallestRough,
  type WearOutlook,
} from './totals.js';
import { planTouchOff, type TouchOff } from './touch-off.js';

export interface Reading {
  readonly flat: number;
  /** What the passes aim at. */
  readonly finished: Mm;
  readonly roughed: Mm;
  /** The tolerance is on across flats or twice a distance; these are its limits as this reading shows them. */
  readonly least: Mm;
  readonly most: Mm;
  /** How far the reading moves for each mm the rim stands too high. */
  readonly share: number;
}

export interface Plan {
  readonly job: Job;
  readonly slope: Slope;
  /** Height of the gauge blocks under a sine bar: length x sin t; `none` without a bar. */
  readonly sineBarHeight: Mm | 'none';
  /** Working clearance in the head: relief less head tilt. */
  readonly workingClearance: Rad;
  /** Relief along the corners of a regular section; `none` for a free one. */
  readonly cornerRelief: Rad | 'none';
  /** What the micrometer should read across each flat at the front face, finished and after roughing. */
  readonly readings: readonly Reading[];
  readonly surface: MPerS;
  readonly flats: readonly FlatPlan[];
  readonly positions: Positions;
  readonly touchOff: TouchOff;
  /** What hands do to find the zero, in order. */
  readonly hands: readonly HandStep[];
  readonly steps: readonly Step[];
  readonly totals: Totals;
  readonly loads: Loads;
  readonly heat: Heat;
  readonly wear: WearOutlook;
  /** How much larger, or smaller below 0, a size comes out on the mean: wear that nobody takes back, warmth. */
  readonly bias: Mm;
  /** What equal steps under the same limit would take; `none` where the job holds no removal rate. */
  readonly equalSteps: EqualSteps | 'none';
  readonly findings: readonly PlanFinding[];
}

/** Plans `asked`, or what hand wheels can follow of it. Never throws on a job the reader accepted: what is wrong is in `findings`. */
export function planJob(asked: Job): Plan {
  const job = onDials(asked);
  const { flats, findings: flatFindings } = planFlats(job);
  const positions = planPositions(job, flats);
  const steps = orderSteps(job, flats, positions.clear);
  const places = machinePlaces(job, flats, positions);
  const loads = planLoads(steps);
  const wear = planWear(job, steps);
  const totals = planTotals(job, steps, positions);
  const heat = planHeat(job, steps, totals);
  const touchOff = planTouchOff(job);
  const bias = biasOf(grindingOf({ job, touchOff, wear })).size;
  const { sides, relief, headTilt, section, tolerance } = job.punch;
  const { sineBar } = job.holding.slope;
  const [finished, roughed] = [sectionAt(job, 'finished'), sectionAt(job, 'roughed')];
  return {
    job,
    slope: slopeOf(job),
    sineBarHeight: sineBar === undefined || !usesBar(job) ? 'none' : mm(sineBar * Math.sin(relief)),
    workingClearance: rad(relief - headTilt),
    cornerRelief: sides === 'free' ? 'none' : cornerRelief(relief, sides),
    readings: section.map((_, i) => {
      const ordered = acrossFlat(section, job.blank, i);
      const share = readingShare(section, job.blank, i);
      return {
        flat: i + 1,
        finished: acrossFlat(finished, job.blank, i),
        roughed: acrossFlat(roughed, job.blank, i),
        least: mm(ordered - (tolerance.minus * share) / 2),
        most: mm(ordered + (tolerance.plus * share) / 2),
        share,
      };
    }),
    surface: surfaceSpeed(job.wheel.diameter, job.grinding.spindleSpeed),
    flats,
    positions,
    touchOff,
    hands: planHands(job, touchOff),
    steps,
    totals,
    heat,
    loads,
    wear,
    bias,
    equalSteps: equalSteps(job, flats, steps, positions),
    findings: [
      ...flatFindings,
      ...applyRules({ job, flats, steps, places, loads, wear, heat, bias }),
      ...dialFindings(asked, job),
    ],
  };
}

function equalSteps(
  job: Job,
  flats: readonly FlatPlan[],
  steps: readonly Step[],
  positions: Positions,
): EqualSteps | 'none' {
  const infeed = smallestRough(steps);
  if (job.grinding.limit.removalRate === undefined || infeed === 'none') return 'none';
  const { removalRate: _, ...limit } = job.grinding.limit;
  const equal: Job = { ...job, grinding: { ...job.grinding, roughInfeed: infeed, limit } };
  const totals = planTotals(equal, orderSteps(equal, flats, positions.clear), positions);
  return { infeed, passes: totals.passes, running: totals.running };
}

/** True if nothing refuses the plan. */
export const isPostable = (plan: Plan): boolean =>
  !plan.findings.some(({ severity }) => severity === 'error');
