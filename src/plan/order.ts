/**
 * The order of work, as a list of steps, each pass with the load it meets: what the other flats have lost by
 * then and how far the rim has worn are carried along. Flat by flat needs the fewest hand indexes; rough first lets
 * wheel wear and heat even out and allows a measuring stop between. A rotary axis always arrives from
 * below, so that its backlash lies on one side: to go back it runs past its mark and returns.
 */

import { type Setting, settingFor } from '../job/indexing.js';
import { type Job, layoutOf } from '../job/job.js';
import { rotarySign } from '../job/layout.js';
import { radFromDeg } from '../quantity/angle.js';
import { type Mm, mm, type Rad, rad } from '../quantity/unit.js';
import { distanceFromHeight } from '../wheel/frame.js';
import type { Stage } from '../wheel/layer.js';
import { rimLoss } from '../wheel/wear.js';
import type { FlatPlan } from './flat.js';
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
    }
    for (const flat of flats) {
      const passes = ground(flat, kinds);
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

/** Grinds flats one after the other in thought: each call sees what the calls before it took off. */
function createGround(
  job: Job,
  flats: readonly FlatPlan[],
  clear: Mm,
): (flat: FlatPlan, kinds: readonly PassKind[]) => readonly Pass[] {
  const slope = job.punch.relief;
  const heights = new Map<FlatPlan, Mm>();
  const lastWorn = new Map<FlatPlan, Mm>();
  let worn = mm(0);
  const stageFor = (flat: FlatPlan): Stage => ({
    blank: job.blank,
    slope,
    flats: flats.flatMap((other) => {
      const height = heights.get(other);
      return other === flat || height === undefined
        ? []
        : [{ at: other.at, distance: distanceFromHeight(height, slope) }];
    }),
  });
  /** Lowered for wear, a wheel that has not worn would bite that much deeper at once: passes begin higher. */
  const slackFor = (flat: FlatPlan): Slack => {
    if (job.grinding.wear !== 'compensate') return NO_SLACK;
    const before = lastWorn.get(flat);
    return before === undefined
      ? { rough: worn, finish: mm(0) }
      : { rough: mm(0), finish: mm(worn - before) };
  };
  return (flat, kinds) => {
    const stage = stageFor(flat);
    return passesOf(flat, job, stage, slackFor(flat))
      .filter(({ kind }) => kinds.includes(kind))
      .map(({ kind, level }) => {
        const before = heights.get(flat) ?? mm(flat.stockTop + job.grinding.startAbove);
        const load = loadOf(job, flat, stage, { level, before });
        const w = job.grinding.wear === 'compensate' ? mm(level - worn) : level;
        // As if the rim had not worn: then it stands lowest, and the metal ends farthest out.
        const pass: Pass = { kind, level, w, start: strokeStart(job, flat, w, clear), load, worn };
        // A pass in the air, begun higher for an unworn wheel, puts no metal back.
        heights.set(flat, mm(Math.min(before, level)));
        lastWorn.set(flat, worn);
        worn = mm(worn + rimLoss(job, load.volume));
        return pass;
      });
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
