/**
 * What would save most: the job planned again with one thing changed at a time, by as much as is usual, and how much
 * sooner it is done. A change that brings an error or a warning the job does not have is none.
 */
import type { Job } from '../job/job.js';
import { flatStanding, MILLED_LONGER } from '../job/standing.js';
import { toMm } from '../quantity/length.js';
import { type Mm, type MmPerMin, mm, mmPerMin, type Seconds, seconds } from '../quantity/unit.js';
import { corners, isClosed } from '../section/polygon.js';
import { type Plan, planJob } from './plan.js';
import { LAND_MARGIN, nextSixteenths, nextStock } from './size.js';

export type Change =
  | { readonly kind: 'smaller blank'; readonly size: Mm }
  | { readonly kind: 'milled before'; readonly over: Mm }
  | { readonly kind: 'shorter flats'; readonly length: Mm; readonly depth: Mm }
  | { readonly kind: 'faster stroke'; readonly speed: MmPerMin }
  | { readonly kind: 'faster return'; readonly speed: MmPerMin }
  | { readonly kind: 'equal load'; readonly infeed: Mm };

export interface Saving {
  readonly change: Change;
  readonly saved: Seconds;
}

/** Left by a mill for the wheel, and for what hardening does; common practice, no source. */
const LEFT_BY_MILL = { mm: 0.25, inch: 0.01 } as const;
/** A stroke faster than this hands and slides do not like; common practice, no source. */
const FASTEST: MmPerMin = mmPerMin(2400);
/** Flats so many times the size long broach most sockets, to 0.9 of their length; common practice, no source. */
const SHORT = { times: 1.4, depth: 0.9, step: { mm: 0.5, inch: 1 / 16 } } as const;
/** Early passes may be so much deeper where each takes the same metal. */
const DEEPER = 2;
/** Less is not worth a word: a share of the running time. */
const WORTH = 0.05;

interface Variant {
  readonly change: Change;
  readonly job: Job;
}

/** The variants a careful toolmaker would think of, where the job leaves room for them. */
function variants({ job, loads }: Plan): readonly Variant[] {
  const { punch, blank, grinding, machine, standing, units } = job;
  const over = toMm(LEFT_BY_MILL[units], units);
  const list: Variant[] = [];
  const grind = (change: Change, part: Partial<Job['grinding']>): void => {
    list.push({ change, job: { ...job, grinding: { ...grinding, ...part } } });
  };
  const size = smallerBlank(job);
  if (size !== 'none')
    list.push({ change: { kind: 'smaller blank', size }, job: { ...job, blank: { ...blank, size } } });
  if (standing.length === 0)
    list.push({
      change: { kind: 'milled before', over },
      job: {
        ...job,
        standing: punch.section.map(({ at, distance }) =>
          flatStanding(
            { at, distance: mm(distance + over), own: punch.relief },
            mm(punch.flatLength + MILLED_LONGER),
            punch.relief,
            grinding.startAbove,
          ),
        ),
      },
    });
  const across = 2 * (punch.section[0]?.distance ?? 0);
  const step = toMm(SHORT.step[units], units);
  const length = mm(Math.ceil((SHORT.times * across) / step) * step);
  if (punch.flatLength > length)
    list.push({
      change: { kind: 'shorter flats', length, depth: mm(SHORT.depth * length) },
      job: { ...job, punch: { ...punch, flatLength: length } },
    });
  const speed = mmPerMin(Math.min(2 * grinding.strokeSpeed, machine.maxFeed, FASTEST));
  if (speed > grinding.strokeSpeed)
    grind(
      { kind: 'faster stroke', speed },
      { strokeSpeed: speed, returnSpeed: mmPerMin(Math.max(speed, grinding.returnSpeed)) },
    );
  const back = mmPerMin(Math.min(2 * grinding.strokeSpeed, machine.maxFeed));
  if (back > grinding.returnSpeed) grind({ kind: 'faster return', speed: back }, { returnSpeed: back });
  if (grinding.limit.removalRate === undefined && loads.rough !== 'none') {
    const infeed = mm(DEEPER * grinding.roughInfeed);
    grind(
      { kind: 'equal load', infeed },
      { roughInfeed: infeed, limit: { ...grinding.limit, removalRate: loads.rough.removalRate } },
    );
  }
  return list;
}

/** The smallest stock that still covers the corners, if it is smaller than the blank. */
function smallerBlank({ punch, blank, units, standing }: Job): Mm | 'none' {
  if (blank.shape !== 'round' || punch.corners !== 'sharp' || standing.length > 0 || !isClosed(punch.section))
    return 'none';
  const reach = Math.max(...corners(punch.section).map(({ y, z }) => Math.hypot(y, z)));
  const least = mm(2 * reach + LAND_MARGIN);
  const size = units === 'inch' ? toMm(nextSixteenths(least) / 16, 'inch') : nextStock(least);
  return size < blank.size ? size : 'none';
}

/** Changes that save time, the greatest first. Plans the job several times over. */
export function findSavings(plan: Plan): readonly Saving[] {
  const known = new Set(plan.findings.map(({ code }) => code));
  return variants(plan)
    .flatMap(({ change, job }) => {
      const other = planJob(job);
      if (other.findings.some(({ code }) => !known.has(code))) return [];
      const saved = seconds(plan.totals.running - other.totals.running);
      return saved > WORTH * plan.totals.running ? [{ change, saved }] : [];
    })
    .toSorted((a, b) => b.saved - a.saved);
}
