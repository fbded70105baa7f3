/**
 * The dry run of a program that grinds a face: the punch stands upright, its face at height 0 round work zero. Words, modes,
 * wheel, waits and stops are judged by the rules of every run, high over the punch those know of; beside that each move is
 * held against the face as it is by then: rapids keep clear, infeeds lie beside it, strokes run level over all of it and bite
 * no more than an infeed, nothing goes lower than the cut, and the face ends there. A move is judged by its whole length.
 */
import { type Job, lastDigit, layoutOf } from '../job/job.js';
import { FEED_SLACK, ROUNDING } from '../quantity/tolerance.js';
import { type Mm, mm, mmPerMin } from '../quantity/unit.js';
import { circumradius } from '../section/blank.js';
import { type BesideReport, type Judge, type Report, runBeside } from './beside.js';
import { atContact } from './contact.js';
import type { Action } from './read/execute.js';
import type { ModalState, Position } from './read/state.js';
import { nearestTo } from './segment.js';

/** What a face stroke may bite; twice the usual, common practice, no source. */
const MOST_BITE: Mm = mm(0.02);
/** The run is judged so much higher than the punch lying in its slope, which is not there now, mm. */
const ABOVE: Mm = mm(100_000);

type Move = Extract<Action, { readonly kind: 'move' }>;

interface Place {
  readonly u: number;
  readonly v: number;
  readonly up: number;
}

/** The job upright: no fixture of the lying punch, and travel that is not the work's. */
function upright(job: Job): Job {
  const { machine, holding } = job;
  const anywhere = [mm(-1e7), mm(1e7)] as const;
  const { y } = machine.travel;
  return {
    ...job,
    holding: { ...holding, boxes: [], table: undefined },
    machine: {
      ...machine,
      travel: { x: anywhere, z: anywhere, ...(y === undefined ? {} : { y: anywhere }) },
    },
  };
}

/** Checks `text` as the program that takes `cut` off the face of `job`'s punch. Never throws on any text. */
export function checkFace(text: string, name: string, job: Job, cut: Mm): BesideReport {
  return runBeside({ text, name }, upright(job), { raised: ABOVE }, (report) => faceJudge(job, cut, report));
}

function faceJudge(job: Job, cut: Mm, report: Report): Judge {
  const { machine } = job;
  const { along, across, up } = layoutOf(job);
  const radius = circumradius(job.blank);
  const reach = job.wheel.radius + radius;
  const clear = job.grinding.clearance;
  let face = 0;
  let at: Place | 'unknown' = 'unknown';
  /** Height over the face; at the top of the travel, said in machine coordinates, it is over everything. */
  const heightOf = (position: Position): number | 'unknown' => {
    const value = position[up.axis];
    if (value === 'unknown') return 'unknown';
    const height = up.sign * value - ABOVE;
    return height < -ABOVE / 2 ? ABOVE : height;
  };
  const placeOf = (position: Position): Place | 'unknown' => {
    const [u, v, height] = [
      position[along.axis],
      across === 'none' ? 0 : position[across.axis],
      heightOf(position),
    ];
    if (u === 'unknown' || v === 'unknown' || height === 'unknown') return 'unknown';
    return { u: along.sign * u, v, up: height };
  };
  const isOver = ({ u, v }: Place): boolean => Math.hypot(u, v) < reach;

  const unknownMove = ({ rapid, from, to }: Move): void => {
    const [before, after] = [heightOf(from), heightOf(to)];
    const level = from[up.axis] === to[up.axis];
    const safe = level ? before !== 'unknown' && before >= clear : after !== 'unknown' && after >= clear;
    const alone = level || (from[along.axis] === to[along.axis] && from.y === to.y && from.x === to.x);
    if (!rapid || !safe || !alone) report({ code: 'start-unknown', up: up.axis });
  };

  const move = (action: Move, state: ModalState, waited: number): void => {
    const { rapid, from, to, feed, arc } = action;
    const [begin, end] = [placeOf(from), placeOf(to)];
    at = end;
    if (arc !== 'straight') report({ code: 'arc-bad', reason: 'a face is ground by straight strokes' });
    if (to.a !== from.a) report({ code: 'axis-turns-nothing', axis: machine.rotary?.axis ?? 'A' });
    if (begin === 'unknown' || end === 'unknown') {
      unknownMove(action);
      return;
    }
    const lowest = Math.min(begin.up, end.up);
    const under = -cut - lowest;
    if (under > lastDigit(job) + ROUNDING)
      report({
        code: 'wheel-meets-fixture',
        what: 'holding of the punch, lower than any cut,',
        by: mm(under),
      });
    const over = nearestTo({ u: 0, v: 0 }, begin, end) < reach - ROUNDING;
    if (!over) return;
    const depth = face - lowest;
    const level = begin.up === end.up;
    if (rapid) {
      if (depth > -ROUNDING) report({ code: 'rapid-in-stock', depth: mm(Math.max(0, depth)) });
      else if (-depth < job.grinding.startAbove)
        report({ code: 'rapid-near-stock', gap: mm(-depth), needed: job.grinding.startAbove });
      return;
    }
    if (!level) {
      if (depth > -ROUNDING) report({ code: 'infeed-in-stock', depth: mm(Math.max(0, depth)) });
      return;
    }
    if (depth < -ROUNDING) return;
    for (const finding of atContact(job, state, waited)) report(finding);
    if (depth > MOST_BITE + ROUNDING)
      report({ code: 'stroke-too-deep', depth: mm(depth), allowed: MOST_BITE });
    const beside = Math.max(Math.abs(begin.v), Math.abs(end.v));
    if (beside > ROUNDING) report({ code: 'stroke-off-centre', v: mm(beside) });
    if (feed > job.grinding.strokeSpeed * FEED_SLACK)
      report({ code: 'stroke-too-fast', feed: mmPerMin(feed), allowed: job.grinding.strokeSpeed });
    // All of the face has been under the outer edge once that is past its far side.
    const far = Math.min(Math.abs(begin.u), Math.abs(end.u));
    if (far > job.wheel.radius - radius + ROUNDING && depth > 0)
      report({ code: 'stroke-stays-inside', by: mm(far - (job.wheel.radius - radius)) });
    face = Math.min(face, end.up);
  };

  return {
    act: ({ action, state }, waited) => {
      if (action.kind === 'move') move(action, state, waited);
      const ends = action.kind === 'end' || (action.kind === 'stop' && !action.optional);
      if (ends && at !== 'unknown' && at.up < face + clear - ROUNDING && isOver(at))
        report({ code: action.kind === 'end' ? 'end-near-work' : 'stop-near-work' });
      if (action.kind === 'stop' && !action.optional) at = 'unknown';
    },
    end: () => {
      if (Math.abs(face + cut) > 2 * ROUNDING + lastDigit(job))
        report({ code: 'face-off', face: mm(-face), ordered: cut });
      return mm(Math.max(0, -face));
    },
  };
}
