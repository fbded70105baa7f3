/**
 * Going on where a run was broken off: how the punch stands when the plan has come to a flat, and the job that goes on
 * from there. The stairs are those of the strokes before, at the heights the rim is to run at; a wheel that wore less or
 * more than predicted leaves them as much higher as its spread says, and the first stroke begins there.
 */
import { takenBack } from '../job/block.js';
import { type Job, layoutOf, onMachine } from '../job/job.js';
import { afterStroke, type Floor, type Standing, type StandingFlat, standingAt } from '../job/standing.js';
import { trimmed } from '../quantity/decimal.js';
import { type Mm, mm } from '../quantity/unit.js';
import type { Plan } from './plan.js';
import { type PassStep, passesIn } from './step.js';

/** The flat to begin with, and whether it is to be roughed first. */
export interface RestartPlace {
  readonly flat: number;
  readonly round: 'first' | 'finish';
  /** What the infeed axis read at the last stroke done of that flat, mm as programmed; `none` if it is not begun. */
  readonly height: Mm | 'none';
}

/** What the head of a program says that goes on from a file of how the punch stands. */
export const FROM_FILE = 'FROM A STANDING FILE';

/** Why a place is none of the plan's. */
export class RestartError extends Error {
  override readonly name = 'RestartError';
}

/** As a head says it, and as a person types it: `finish flat 4 at 2.9 mm`. */
export function restartText({ flat, round, height }: RestartPlace): string {
  const place = `${round === 'finish' ? 'finish ' : ''}flat ${flat}`;
  return height === 'none' ? place : `${place} at ${trimmed(height, 5)} mm`;
}

/** Reads `flat 4`, `finish flat 4` or `flat 4 at 2.9 mm`. @throws RestartError */
export function readRestart(text: string): RestartPlace {
  const read = /^\s*(finish\s+)?flat\s+(\d+)(?:\s+at\s+(-?\d+(?:\.\d+)?)\s+mm)?\s*$/i.exec(text);
  const [, finish, flat, height] = read ?? [];
  if (flat === undefined)
    throw new RestartError(`"${text}" is no place to begin at; write flat 4, or finish flat 4`);
  return {
    flat: Number(flat),
    round: finish === undefined ? 'first' : 'finish',
    height: height === undefined ? 'none' : mm(Number(height)),
  };
}

/**
 * The job as it goes on from `place`: the same, with the flats that stand by then.
 * @throws RestartError if the plan does not come there.
 */
export function goOnFrom(plan: Plan, place: RestartPlace): Job {
  const begin = stepOf(plan, place);
  if (begin < 0) {
    const flats = plan.flats.map(({ number }) => number).join(', ');
    throw new RestartError(
      `the plan does not come to ${restartText(place)}; it has the flats ${flats}, ${place.height === 'none' ? 'and finishes each where something is left to finish' : 'and nothing of that flat lies below'}`,
    );
  }
  const visits = plan.steps.filter((step) => step.kind === 'index' && step.flat.number === place.flat).length;
  if (plan.job.grinding.order === 'one pass all round' && place.height === 'none')
    throw new RestartError(
      `flat ${place.flat} comes up ${visits} times, a pass each; say how far down it is ground with --height`,
    );
  const done = passesIn(plan.steps.slice(0, begin));
  if (place.height !== 'none' && !done.some(({ flat }) => flat.number === place.flat))
    throw new RestartError(
      `at ${trimmed(place.height, 3)} mm flat ${place.flat} is not begun; leave --height out, or correct it`,
    );
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

/** Half the last digit of a height as somebody typed it off a display, mm. */
const HEIGHT_SLACK = 0.0006;

/** Where the work at a place begins among the steps; -1 if it never does. */
function stepOf({ job, steps }: Plan, { flat, round, height }: RestartPlace): number {
  const { axis, sign } = layoutOf(job).up;
  const reads = ({ flat: { at }, pass }: PassStep): number =>
    onMachine(job, { u: pass.end, v: 0, w: pass.w + takenBack(job, at) })[axis] * sign;
  return steps.findIndex(
    (step) =>
      step.kind === 'pass' &&
      step.flat.number === flat &&
      (round === 'first' || step.pass.kind !== 'rough') &&
      (height === 'none' || reads(step) < height * sign - HEIGHT_SLACK),
  );
}

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
