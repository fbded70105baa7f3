/**
 * The heights of a flat's passes. Counted up from the finished flat in infeeds, so that only the first pass
 * of a kind is shallower and none is deeper: roughing ends the finish allowance above the flat, finishing on
 * it, spark-out stays there. A pass is an infeed beside the metal, a stroke in and a stroke out. The first
 * lies as much over the stock as that may stand higher, by the blank's run-out for one. Where a removal rate Q is to be held, each infeed
 * is the largest whose layer keeps Q = A x stroke speed, A the layer's greatest area across the tool axis, and
 * never more than the infeed asked for: early passes are deep and few, late ones gentle.
 */
import { type Job, lastDigit } from '../job/job.js';
import { FLAT_WITHIN } from '../quantity/tolerance.js';
import { type Mm, mm } from '../quantity/unit.js';
import { depthOf, distanceFromHeight } from '../wheel/frame.js';
import { greatestArea, type Stage } from '../wheel/layer.js';
import { type FlatPlan, reachAt } from './flat.js';

/** In the order a flat meets them. */
export const PASS_KINDS = ['rough', 'finish', 'spark-out'] as const;
export type PassKind = (typeof PASS_KINDS)[number];

export interface PassHeight {
  readonly kind: PassKind;
  /** Height of the rim over the tool axis. */
  readonly level: Mm;
}

/** Gives the infeed to go down to `level`, at most `most`. */
type InfeedTo = (level: Mm, most: Mm) => Mm;

/** How much higher roughing and finishing begin, for a wheel that has not worn as predicted. */
export interface Slack {
  readonly rough: Mm;
  readonly finish: Mm;
}

export const NO_SLACK: Slack = { rough: mm(0), finish: mm(0) };

/** @param stage the blank and what the other flats have lost when this flat's passes begin. */
export function passesOf(
  flat: FlatPlan,
  job: Job,
  stage: Stage,
  slack: Slack = NO_SLACK,
): readonly PassHeight[] {
  const { roughInfeed, finishInfeed, finishAllowance, sparkOut, limit } = job.grinding;
  // A flat that stands where it is wanted is done.
  if (flat.stock <= FLAT_WITHIN) return [];
  const start = flat.stockTop + flat.higher + slack.rough;
  const roughed = flat.w + finishAllowance;
  const infeed: InfeedTo =
    limit.removalRate === undefined ? (_, most) => most : equalLoad(flat, job, stage, limit.removalRate);
  // A flat that stands is finished from where it may stand highest, if it stands not far over.
  const rough = flat.stock > finishAllowance * (flat.stands ? FINISHED_ALONE : 1) + WHOLE;
  const finishFrom = rough ? Math.min(roughed + slack.finish, start) : start;
  const down = rough ? ladder(roughed, start, roughInfeed, infeed) : [];
  return [
    ...down.map((level): PassHeight => ({ kind: 'rough', level })),
    ...ladder(flat.w, finishFrom, finishInfeed, infeed).map(
      (level): PassHeight => ({ kind: 'finish', level }),
    ),
    ...Array.from({ length: sparkOut }, (): PassHeight => ({ kind: 'spark-out', level: flat.w })),
  ];
}

/** So many finish allowances over a flat that stands are finished by finish infeeds alone; common practice, no source. */
const FINISHED_ALONE = 3;

/** A step that misses the top by less than this share of an infeed is none. */
const WHOLE = 1e-9;

/** Passes of one kind and flat beyond which nobody counts: the plan is refused long before. */
const MOST_PASSES = 25_000;

/** Heights from just below `top` down to `bottom`, counted up from there; none if top is not above. */
function ladder(bottom: number, top: number, most: Mm, infeed: InfeedTo): readonly Mm[] {
  const levels: Mm[] = [];
  let level = bottom;
  while (top - level > WHOLE * most && levels.length < MOST_PASSES) {
    levels.push(mm(level));
    level += infeed(mm(level), most);
  }
  return levels.toReversed();
}

/** Steps of the search; each brings the area nearer to its limit, from below. */
const STEPS = 6;

function equalLoad(flat: FlatPlan, job: Job, stage: Stage, limit: number): InfeedTo {
  const slope = job.punch.relief;
  // mm2 a layer may have across the tool axis.
  const allowed = (limit * 60) / job.grinding.strokeSpeed;
  const digit = lastDigit(job);
  return (level, most) => {
    const end = depthOf(reachAt(job, flat, level), level, slope);
    const to = distanceFromHeight(level, slope);
    const area = (infeed: number): number =>
      greatestArea(stage, { at: flat.at, from: distanceFromHeight(mm(level + infeed), slope), to }, end);
    let infeed = Math.min(most, digit);
    for (let i = 0; i < STEPS; i += 1) {
      const now = area(infeed);
      if (now <= 0) return most;
      infeed = Math.min(most, infeed * (allowed / now));
    }
    // Whole digits of the program, so that rounding makes no stroke deeper than its neighbours; where not even one
    // digit keeps the limit a rule says so.
    return infeed === most ? most : mm(Math.max(1, Math.floor(infeed / digit + WHOLE)) * digit);
  };
}
