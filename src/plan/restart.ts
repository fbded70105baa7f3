/**
 * Going on where a run was broken off: how the punch stands when the plan has come to a flat, and the job that goes on
 * from there. The stairs are those of the strokes before, at the heights the rim is to run at; a wheel that wore less or
 * more than predicted leaves them as much higher as its spread says, and the first stroke begins there.
 */
import type { Job } from '../job/job.js';
import { afterStroke, type Floor, type Standing, type StandingFlat, standingAt } from '../job/standing.js';
import { mm } from '../quantity/unit.js';
import type { Plan } from './plan.js';
import { type PassStep, passesIn, type Step } from './step.js';

/** The flat to begin with, and whether it is to be roughed first. */
export interface RestartPlace {
  readonly flat: number;
  readonly round: 'first' | 'finish';
}

/** What the head of a program says that goes on from a file of how the punch stands. */
export const FROM_FILE = 'FROM A STANDING FILE';

/** Why a place is none of the plan's. */
export class RestartError extends Error {
  override readonly name = 'RestartError';
}

/** As a head says it, and as a person types it. */
export const restartText = ({ flat, round }: RestartPlace): string =>
  `${round === 'finish' ? 'finish ' : ''}flat ${flat}`;

/** Reads `flat 4` or `finish flat 4`. @throws RestartError */
export function readRestart(text: string): RestartPlace {
  const [, finish, flat] = /^\s*(finish\s+)?flat\s+(\d+)\s*$/i.exec(text) ?? [];
  if (flat === undefined)
    throw new RestartError(`"${text}" is no place to begin at; write flat 4, or finish flat 4`);
  return { flat: Number(flat), round: finish === undefined ? 'first' : 'finish' };
}

/**
 * The job as it goes on from `place`: the same, with the flats that stand by then.
 * @throws RestartError if the plan does not come there.
 */
export function goOnFrom(plan: Plan, place: RestartPlace): Job {
  const begin = stepOf(plan.steps, place);
  if (begin < 0) {
    const flats = plan.flats.map(({ number }) => number).join(', ');
    throw new RestartError(
      `the plan does not come to ${restartText(place)}; it has the flats ${flats}, and finishes each where something is left to finish`,
    );
  }
  const done = passesIn(plan.steps.slice(0, begin));
  if (done.length === 0)
    throw new RestartError(
      `the plan begins with ${restartText(place)}: that is the whole program, leave it out`,
    );
  return { ...plan.job, standing: standingAfter(plan, done) };
}

/** The job for some of the flats: the others stand finished. @throws RestartError if one is not there. */
export function onlyFlats(plan: Plan, flats: readonly number[]): Job {
  const missing = flats.find((flat) => !plan.flats.some(({ number }) => number === flat));
  if (missing !== undefined) throw new RestartError(`there is no flat ${missing}`);
  if (plan.flats.every(({ number }) => flats.includes(number)))
    throw new RestartError('these are all the flats: that is the whole program, leave it out');
  const others = passesIn(plan.steps).filter(({ flat }) => !flats.includes(flat.number));
  return { ...plan.job, standing: standingAfter(plan, others) };
}

/** Where the work at a place begins among the steps; -1 if it never does. */
const stepOf = (steps: readonly Step[], { flat, round }: RestartPlace): number =>
  steps.findIndex(
    (step) =>
      step.kind === 'pass' && step.flat.number === flat && (round === 'first' || step.pass.kind !== 'rough'),
  );

function standingAfter({ job, flats }: Plan, done: readonly PassStep[]): Standing {
  return flats.flatMap((flat): readonly StandingFlat[] => {
    const before = standingAt(job, flat.at);
    const passes = done.filter((step) => step.flat === flat);
    if (passes.length === 0) return before === 'none' ? [] : [before];
    const floors = passes.reduce<readonly Floor[]>(
      (stairs, { pass }) => afterStroke(stairs, { reach: pass.end - job.wheel.radius, w: pass.level }),
      before === 'none' ? [] : before.floors,
    );
    return [{ at: flat.at, floors, higher: passes.at(-1)?.pass.unforeseen ?? mm(0) }];
  });
}
