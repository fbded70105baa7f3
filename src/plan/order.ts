/**
 * The order of work, as a list of steps, each pass with the load it meets: what the other flats have lost by
 * then and how far the rim has worn are carried along. A rotary axis always arrives from
 * below, so that its backlash lies on one side: to go back it runs past its mark and returns.
 */

import { type Setting, settingFor } from '../job/indexing.js';
import { type DressingStop, type Job, layoutOf } from '../job/job.js';
import { rotarySign } from '../job/layout.js';
import { farthestOf, heightAt, standingAt } from '../job/standing.js';
import { radFromDeg } from '../quantity/angle.js';
import { type Mm, type Mm3, mm, type Rad, rad } from '../quantity/unit.js';
import { opposite } from '../section/flat.js';
import { distanceFromHeight } from '../wheel/frame.js';
import type { Stage } from '../wheel/layer.js';
import { lossOf, rimLoss } from '../wheel/wear.js';
import { type FlatPlan, reachAt } from './flat.js';
import { loadOf } from './load.js';
import { NO_SLACK, type PassHeight, passesOf, type Slack } from './passes.js';
import { type Round, roundsOf } from './round.js';
import type { Pass, Step } from './step.js';
import { strokeStart } from './stroke.js';

/** How far beyond its backlash a rotary axis runs past its mark before it comes back; common practice, no source. */
const OVERRUN: Rad = radFromDeg(1);

/**
 * Steps of the whole job.
 * @param clear u of the wheel's centre in the clear position.
 */
export function orderSteps(job: Job, flats: readonly FlatPlan[], clear: Mm): readonly Step[] {
  const ground = createGround(job, flats, clear);
  const dressing = createDressing(job.grinding.dressingStop);
  const steps: Step[] = [];
  // Roughed since they were last measured; what a run before has roughed is measured with the rest.
  const roughed = new Set<number>(
    flats.flatMap(({ number, stands, stock }) =>
      stands && stock > job.grinding.finishAllowance / 2 ? [number] : [],
    ),
  );
  let from: Rad | 'unknown' = 'unknown';
  const stop = (dresses: boolean, measures: readonly number[]): void => {
    steps.push({ kind: 'stop', dresses, measures, ...ground.lastStands() });
    for (const number of measures) roughed.delete(number);
    if (dresses) dressing.done();
    ground.setAnew(measures.length > 0 ? 'by a reading' : 'by the flat that is up');
  };
  for (const round of roundsOf(job)) {
    // Where nothing was roughed there is nothing to measure, and none to set the rim for where nothing comes after.
    const measures = round.measures.filter((number) => roughed.has(number));
    if (
      steps.length > 0 &&
      measures.length > 0 &&
      visits(round, flats, ground).some(({ heights }) => heights().length > 0)
    )
      stop(dressing.isDue(round), measures);
    for (const { flat, heights } of visits(round, flats, ground)) {
      // Nothing to grind on this flat: no need to index to it.
      if (heights().length === 0) continue;
      if (steps.at(-1)?.kind === 'pass' && dressing.isDue(round)) stop(true, []);
      const passes = heights();
      // Passes that only allowed for wear are not needed once the rim is set anew.
      if (passes.length === 0) continue;
      const setting = settingOf(job, flat, from);
      if (setting !== 'cannot') steps.push({ kind: 'index', flat, setting, by: arrival(job, from, flat.at) });
      for (const height of passes) {
        const pass = ground.pass(flat, height);
        dressing.took(pass.load.volume);
        steps.push({ kind: 'pass', flat, pass });
      }
      dressing.left(round);
      if (!round.kinds.includes('finish')) roughed.add(flat.number);
      from = flat.at;
    }
  }
  // A stop after which nothing is ground is none.
  return steps.slice(0, steps.findLastIndex(({ kind }) => kind !== 'stop') + 1);
}

/** A flat that comes up, and the heights of its passes by then. */
interface Visit {
  readonly flat: FlatPlan;
  readonly heights: () => readonly PassHeight[];
}

/** How the flats of a round come up. */
function visits(round: Round, flats: readonly FlatPlan[], ground: Ground): readonly Visit[] {
  const inOrder = round.flats.flatMap((number) => flats.filter((flat) => flat.number === number));
  const whole = (flat: FlatPlan): readonly PassHeight[] =>
    ground.heights(flat).filter(({ kind }) => round.kinds.includes(kind));
  if (round.turn === 'whole') return inOrder.map((flat) => ({ flat, heights: () => whole(flat) }));
  const each = inOrder.map((flat) => ({ flat, ladder: whole(flat) }));
  const most = Math.max(0, ...each.map(({ ladder }) => ladder.length));
  return Array.from({ length: most }, (_, k) => k).flatMap((k) =>
    each.map(({ flat, ladder }) => ({ flat, heights: () => ladder.slice(k, k + 1) })),
  );
}

interface Dressing {
  /** Whether the wheel is dressed before the next flat comes up. */
  readonly isDue: (round: Round) => boolean;
  readonly took: (volume: Mm3) => void;
  /** A flat is left. */
  readonly left: (round: Round) => void;
  readonly done: () => void;
}

/** Counts what the wheel has ground since it was dressed. */
function createDressing(stop: DressingStop): Dressing {
  let [flats, volume, roughed] = [0, 0, false];
  return {
    isDue: ({ kinds }) => {
      if (stop === 'none') return false;
      if (stop === 'before finishing') return roughed && !kinds.includes('rough');
      return 'flats' in stop ? flats >= stop.flats : volume >= stop.volume;
    },
    took: (more) => {
      volume += more;
    },
    left: ({ kinds }) => {
      flats += 1;
      roughed ||= kinds.includes('rough');
    },
    done: () => {
      [flats, volume, roughed] = [0, 0, false];
    },
  };
}

interface Ground {
  /** The heights of a flat's passes, from what the calls before took off. */
  readonly heights: (flat: FlatPlan) => readonly PassHeight[];
  /** Grinds one of them. */
  readonly pass: (flat: FlatPlan, height: PassHeight) => Pass;
  /** How the flat ground last stands, with what of the rim's loss nobody took back, and what reads across it. */
  readonly lastStands: () => { readonly stands: Mm; readonly across: Mm | 'none' };
  /** The rim is set anew: what it has lost counts from here. */
  readonly setAnew: (how: 'by a reading' | 'by the flat that is up') => void;
}

/** Grinds flats one after the other in thought. */
function createGround(job: Job, flats: readonly FlatPlan[], clear: Mm): Ground {
  const slope = job.punch.relief;
  const { roughInfeed, finishInfeed, wear } = job.grinding;
  const compensates = wear === 'compensate';
  const heights = new Map<FlatPlan, Mm>();
  const lastAt = new Map<FlatPlan, { readonly pass: Pass; readonly sets: number }>();
  let level = mm(0);
  let sets = 0;
  let carried = 0;
  let last: { readonly flat: FlatPlan; readonly pass: Pass } | 'none' = 'none';
  const standsAt = ({ level: height, loss }: Pass): Mm => mm(height + (compensates ? 0 : loss.taken));
  const stageFor = (flat: FlatPlan): Stage => ({
    blank: job.blank,
    slope,
    flats: flats.flatMap((other) => {
      const stands = standingAt(job, other.at);
      const height = heights.get(other) ?? (stands === 'none' ? undefined : heightAt(stands, other.reach));
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
    const ended = lastAt.get(flat);
    if (ended !== undefined && ended.sets !== sets)
      return { rough: mm(0), finish: mm(Math.max(0, ended.pass.unforeseen - (roughInfeed - finishInfeed))) };
    if (!compensates) return NO_SLACK;
    return ended === undefined
      ? { rough: now.taken, finish: mm(0) }
      : { rough: mm(0), finish: mm(now.taken - ended.pass.loss.taken) };
  };
  /** Where the metal of a flat ends before its first pass; what only may stand over a flat that is there is none. */
  const topOf = (flat: FlatPlan): Mm =>
    standingAt(job, flat.at) === 'none' ? mm(flat.stockTop + flat.higher) : flat.stockTop;
  /** How far a pass reaches; over a flat that stands no farther than that, or it would meet the raw blank behind. */
  const endOf = (flat: FlatPlan, height: Mm): number => {
    const stands = standingAt(job, flat.at);
    const reach = reachAt(job, flat, height);
    return stands === 'none' ? reach : Math.max(reach, Math.min(farthestOf(stands), flat.reach));
  };
  return {
    lastStands: () => {
      if (last === 'none') return { stands: mm(0), across: 'none' };
      const facing = opposite(job.punch.section, last.flat.number - 1);
      const other = flats.find(({ number }) => facing !== 'none' && number === facing + 1);
      const ended = other === undefined ? undefined : lastAt.get(other)?.pass;
      const stands = standsAt(last.pass);
      return {
        stands,
        across:
          ended === undefined
            ? 'none'
            : mm(distanceFromHeight(stands, slope) + distanceFromHeight(standsAt(ended), slope)),
      };
    },
    setAnew: (how) => {
      // A flat that is touched and not measured hands on what it stands higher than foreseen.
      carried = how === 'by a reading' || last === 'none' ? 0 : last.pass.unforeseen;
      level = mm(0);
      sets += 1;
    },
    heights: (flat) => passesOf(flat, job, stageFor(flat), slackFor(flat)),
    pass: (flat, { kind, level: height }) => {
      const before = heights.get(flat) ?? topOf(flat);
      const load = loadOf(job, flat, stageFor(flat), { level: height, before });
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
        unforeseen: mm(
          Math.max(0, carried + loss.most * (1 + job.spreads.wear) - (compensates ? loss.taken : 0)),
        ),
      };
      // A pass in the air, begun higher for an unworn wheel, puts no metal back.
      heights.set(flat, mm(Math.min(before, height)));
      lastAt.set(flat, { pass, sets });
      last = { flat, pass };
      level = mm(level + rimLoss(job, load.volume));
      return pass;
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
