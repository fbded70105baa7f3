/**
 * The order of work, as a list of steps, each pass with the load it meets: what the other flats have lost by
 * then and how far the rim has worn are carried along. Flat by flat needs the fewest hand indexes; rough first lets
 * wheel wear and heat even out and allows a measuring stop between. A rotary axis always arrives from
 * below, so that its backlash lies on one side: to go back it runs past its mark and returns.
 */

import { type Setting, settingFor } from '../job/indexing.js';
import { type Job, layoutOf } from '../job/job.js';
import { rotarySign } from '../job/layout.js';
import { planeOf, standingAt } from '../job/standing.js';
import { radFromDeg } from '../quantity/angle.js';
import { type Mm, mm, type Rad, rad } from '../quantity/unit.js';
import { distanceFromHeight } from '../wheel/frame.js';
import type { Stage } from '../wheel/layer.js';
import { type Loss, lossOf, rimLoss } from '../wheel/wear.js';
import { type FlatPlan, reachAt } from './flat.js';
import { loadOf } from './load.js';
import { NO_SLACK, type PassKind, passesOf, type Slack } from './passes.js';
import type { Pass, Step } from './step.js';
import { strokeStart } from './stroke.js';

/** How far beyond its backlash a rotary axis runs past its mark before it comes back; common practice, no source. */
const OVERRUN: Rad = radFromDeg(1);

/** Which kinds a round of the order makes. */
const ROUNDS: Record<Job['grinding']['order'], readonly (readonly PassKind[])[]> = {
  'flat by flat': [['rough', 'finish', 'spark-out']],
  'rough first': [['rough'], ['finish', 'spark-out']],
};

/**
 * Steps of the whole job.
 * @param clear u of the wheel's centre in the clear position.
 */
export function orderSteps(job: Job, flats: readonly FlatPlan[], clear: Mm): readonly Step[] {
  const { order, measuringStop } = job.grinding;
  const ground = createGround(job, flats, clear);
  const steps: Step[] = [];
  let from: Rad | 'unknown' = 'unknown';
  ROUNDS[order].forEach((kinds, turn) => {
    // Where nothing was roughed there is nothing to measure.
    if (turn === 1 && measuringStop === 'after roughing' && steps.length > 0) {
      steps.push({ kind: 'measuring stop' });
      ground.setAnew();
    }
    for (const number of job.grinding.sequence) {
      const flat = flats.find((each) => each.number === number);
      if (flat === undefined) continue;
      const passes = ground.passes(flat, kinds);
      // Nothing to rough on this flat: no need to index to it.
      if (passes.length === 0) continue;
      const setting = settingOf(job, flat, from);
      if (setting !== 'cannot') steps.push({ kind: 'index', flat, setting, by: arrival(job, from, flat.at) });
      steps.push(...passes.map((pass): Step => ({ kind: 'pass', flat, pass })));
      from = flat.at;
    }
  });
  return steps;
}

interface Ground {
  /** Grinds a flat: what the calls before took off is gone. */
  readonly passes: (flat: FlatPlan, kinds: readonly PassKind[]) => readonly Pass[];
  /** The rim is set anew: what it has lost counts from here. */
  readonly setAnew: () => void;
}

/** Grinds flats one after the other in thought. */
function createGround(job: Job, flats: readonly FlatPlan[], clear: Mm): Ground {
  const slope = job.punch.relief;
  const { roughInfeed, finishInfeed, wear } = job.grinding;
  const compensates = wear === 'compensate';
  const heights = new Map<FlatPlan, Mm>();
  const lossAt = new Map<FlatPlan, Loss>();
  let level = mm(0);
  let wasSet = false;
  const stageFor = (flat: FlatPlan): Stage => ({
    blank: job.blank,
    slope,
    flats: flats.flatMap((other) => {
      const stands = standingAt(job, other.at);
      const height = heights.get(other) ?? (stands === 'none' ? undefined : mm(planeOf(stands).w));
      return other === flat || height === undefined
        ? []
        : [{ at: other.at, distance: distanceFromHeight(height, slope) }];
    }),
  });
  /**
   * How much higher passes begin, so that no stroke bites more than a rough infeed whatever of the predicted wear has
   * really happened. Lowered for wear, a wheel that has not worn bites that much deeper at once; and once the rim is set
   * anew, a flat stands as much higher as the wheel had lost unforeseen when it was roughed, at the worst of its spread.
   */
  const slackFor = (flat: FlatPlan): Slack => {
    const now = lossOf(level, roughInfeed);
    const before = lossAt.get(flat);
    if (wasSet && before !== undefined) {
      const unforeseen = before.most * (1 + job.spreads.wear) - (compensates ? before.taken : 0);
      return { rough: mm(0), finish: mm(Math.max(0, unforeseen - (roughInfeed - finishInfeed))) };
    }
    if (!compensates) return NO_SLACK;
    return before === undefined
      ? { rough: now.taken, finish: mm(0) }
      : { rough: mm(0), finish: mm(now.taken - before.taken) };
  };
  /** Where the metal of a flat ends before its first pass; what only may stand over a flat that is there is none. */
  const topOf = (flat: FlatPlan): Mm =>
    standingAt(job, flat.at) === 'none' ? mm(flat.stockTop + flat.higher) : flat.stockTop;
  /** How far a pass reaches; over a flat that stands no farther than that, or it would meet the raw blank behind. */
  const endOf = (flat: FlatPlan, height: Mm): number => {
    const stands = standingAt(job, flat.at);
    const reach = reachAt(job, flat, height);
    return stands === 'none' ? reach : Math.max(reach, Math.min(planeOf(stands).reach, flat.reach));
  };
  return {
    setAnew: () => {
      level = mm(0);
      wasSet = true;
    },
    passes: (flat, kinds) => {
      const stage = stageFor(flat);
      return passesOf(flat, job, stage, slackFor(flat))
        .filter(({ kind }) => kinds.includes(kind))
        .map(({ kind, level: height }) => {
          const before = heights.get(flat) ?? topOf(flat);
          const load = loadOf(job, flat, stage, { level: height, before });
          const loss = lossOf(level, roughInfeed);
          const w = compensates ? mm(height - loss.taken) : height;
          const pass: Pass = {
            kind,
            level: height,
            w,
            // As if the rim had not worn: then it stands lowest, and the metal ends farthest out.
            start: strokeStart(job, flat, w, clear),
            // A pass in the air goes no farther than the metal has been ground: a wheel that has not worn would bite there.
            end: mm(endOf(flat, mm(Math.min(before, height))) + job.wheel.radius),
            load,
            loss,
          };
          // A pass in the air, begun higher for an unworn wheel, puts no metal back.
          heights.set(flat, mm(Math.min(before, height)));
          lossAt.set(flat, loss);
          level = mm(level + rimLoss(job, load.volume));
          return pass;
        });
    },
  };
}

/** How the flat is brought up; `cannot` is a fault of the job, which refuses the plan. */
function settingOf(job: Job, flat: FlatPlan, from: Rad | 'unknown'): Setting | 'cannot' {
  return settingFor(job.holding.device, from === 'unknown' ? rad(0) : from, flat.at);
}

function arrival(job: Job, from: Rad | 'unknown', to: Rad): Rad | 'direct' {
  const rotary = job.machine.rotary;
  if (job.holding.index !== 'rotary axis' || rotary === undefined) return 'direct';
  if (from !== 'unknown' && from < to) return 'direct';
  // An axis that counts within a turn arrives with its words rising, whichever way the section counts.
  const falls = rotary.counts !== 'on and on' && rotarySign(layoutOf(job), rotary.sense) < 0;
  return rad(to - (falls ? -1 : 1) * (rotary.backlash + OVERRUN));
}
