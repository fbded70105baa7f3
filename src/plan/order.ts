/**
 * The order of work, as a list of steps. Flat by flat needs the fewest hand indexes; rough first lets
 * wheel wear and heat even out and allows a measuring stop between. A rotary axis always arrives from
 * below, so that its backlash lies on one side: to go back it runs past its mark and returns.
 */
import type { Job } from '../job/job.js';
import { radFromDeg } from '../quantity/angle.js';
import { type Rad, rad } from '../quantity/unit.js';
import type { PlanFinding } from './finding.js';
import type { FlatPlan } from './flat.js';
import { cannotIndex, type Setting, settingFor } from './indexing.js';
import { type Pass, passesOf } from './passes.js';

export type Step =
  | {
      readonly kind: 'index';
      readonly flat: FlatPlan;
      readonly setting: Setting;
      /** Where a rotary axis goes first, to arrive from below; `direct` if it already comes from there. */
      readonly by: Rad | 'direct';
    }
  | { readonly kind: 'pass'; readonly flat: FlatPlan; readonly pass: Pass }
  | { readonly kind: 'measuring stop' };

/** How far beyond its backlash a rotary axis runs past its mark before it comes back; common practice, no source. */
const OVERRUN: Rad = radFromDeg(1);

const isRough = ({ kind }: Pass): boolean => kind === 'rough';

/** Steps of the whole job, and what the indexing device cannot do. */
export function orderSteps(
  job: Job,
  flats: readonly FlatPlan[],
): { readonly steps: readonly Step[]; readonly findings: readonly PlanFinding[] } {
  const { order, measuringStop } = job.grinding;
  const all = flats.map((flat) => ({ flat, passes: passesOf(flat, job.grinding) }));
  const rounds =
    order === 'flat by flat'
      ? [all]
      : [
          all.map(({ flat, passes }) => ({ flat, passes: passes.filter(isRough) })),
          all.map(({ flat, passes }) => ({ flat, passes: passes.filter((pass) => !isRough(pass)) })),
        ];
  const steps: Step[] = [];
  const findings: PlanFinding[] = [];
  let from: Rad | 'unknown' = 'unknown';
  rounds.forEach((round, turn) => {
    if (turn === 1 && measuringStop === 'after roughing') steps.push({ kind: 'measuring stop' });
    for (const { flat, passes } of round) {
      // Nothing to rough on this flat: no need to index to it.
      if (passes.length === 0) continue;
      const setting = settingOf(job, flat, from);
      if ('code' in setting) findings.push(setting);
      else steps.push({ kind: 'index', flat, setting, by: arrival(job, from, flat.at) });
      steps.push(...passes.map((pass): Step => ({ kind: 'pass', flat, pass })));
      from = flat.at;
    }
  });
  return { steps, findings: findings.filter(isFirstOfItsFlat) };
}

function settingOf(job: Job, flat: FlatPlan, from: Rad | 'unknown'): Setting | PlanFinding {
  const { device } = job.holding;
  const start = from === 'unknown' ? rad(0) : from;
  const setting = settingFor(device, start, flat.at);
  if (setting !== 'cannot') return setting;
  if (device === undefined) throw new Error('an axis reaches every angle');
  return cannotIndex(device, job, flat.number, start, flat.at);
}

function arrival(job: Job, from: Rad | 'unknown', to: Rad): Rad | 'direct' {
  const rotary = job.machine.rotary;
  if (job.holding.index !== 'rotary axis' || rotary === undefined) return 'direct';
  if (from !== 'unknown' && from < to) return 'direct';
  return rad(to - rotary.backlash - OVERRUN);
}

/** The second round meets the same impossible index again: once is enough. */
const isFirstOfItsFlat = (finding: PlanFinding, index: number, all: readonly PlanFinding[]): boolean =>
  all.findIndex((other) => 'flat' in other && 'flat' in finding && other.flat === finding.flat) === index;
