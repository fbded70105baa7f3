/**
 * The dry run of a program that grinds a face: the punch stands upright, its face at height 0 round work zero. Like the run
 * over flats it reads the text alone, and holds each move against the face as it is by then: rapids keep clear, infeeds lie
 * beside it, strokes run level over all of it and bite no more than an infeed, the wheel is up to speed before it touches
 * and stands before a hand goes in, and the face ends at the cut ordered.
 */
import { type Job, lastDigit, layoutOf } from '../job/job.js';
import { FEED_SLACK, ROUNDING } from '../quantity/tolerance.js';
import { type Mm, mm, mmPerMin, revPerMin, seconds } from '../quantity/unit.js';
import { circumradius } from '../section/blank.js';
import { type BlockPlace, type CheckFinding, type FindingBody, severityOf } from './finding.js';
import type { Action } from './read/execute.js';
import { linesOf } from './read/lines.js';
import { createSession } from './read/session.js';
import type { ModalState, Position } from './read/state.js';

export interface FaceReport {
  readonly verdict: 'run' | 'refused';
  readonly findings: readonly CheckFinding[];
  readonly lines: number;
  /** What comes off the face. */
  readonly off: Mm;
}

/** What a face stroke may bite; twice the usual, common practice, no source. */
const MOST_BITE: Mm = mm(0.02);
/** Waits within this are long enough: the last digit of a dwell. */
const DWELL_SLACK = 0.0015;

type Move = Extract<Action, { readonly kind: 'move' }>;

interface Place {
  readonly along: number;
  readonly across: number;
  readonly up: number;
}

/** Checks `text` as the program that takes `cut` off the face of `job`'s punch. Never throws on any text. */
export function checkFace(text: string, name: string, job: Job, cut: Mm): FaceReport {
  // Upright, the profile's work zero is not this one's: travel is not judged.
  const { machine } = job;
  const session = createSession(machine, 'unsaid');
  const { along, across, up } = layoutOf(job);
  const radius = circumradius(job.blank);
  const reach = job.wheel.radius + radius;
  const findings: CheckFinding[] = [];
  let place: BlockPlace = { program: name, line: 0, text: '' };
  let face = 0;
  let [waited, lines] = [0, 0];
  let known = false;
  const report = (finding: FindingBody): void => {
    findings.push({ ...finding, severity: severityOf(finding.code), place });
  };
  const placeOf = (position: Position): Place | 'unknown' => {
    const [a, b, c] = [
      position[along.axis],
      across === 'none' ? 0 : position[across.axis],
      position[up.axis],
    ];
    if (a === 'unknown' || b === 'unknown' || c === 'unknown') return 'unknown';
    return { along: along.sign * a, across: b, up: up.sign * c };
  };
  /** Whether the rim stands over the face anywhere. */
  const isOver = ({ along: u, across: v }: Place): boolean => Math.hypot(u, v) < reach;

  const move = ({ rapid, from, to, feed, arc }: Move, state: ModalState): void => {
    const [begin, end] = [placeOf(from), placeOf(to)];
    if (arc !== 'straight') report({ code: 'arc-bad', reason: 'a face is ground by straight strokes' });
    if (to.a !== from.a) report({ code: 'axis-turns-nothing', axis: machine.rotary?.axis ?? 'A' });
    if (!rapid && feed > machine.maxFeed * FEED_SLACK)
      report({ code: 'feed-over-machine', feed: mmPerMin(feed), max: machine.maxFeed });
    if (begin === 'unknown' || end === 'unknown') {
      // From a place not known only up, in machine coordinates, or along at that height.
      if (!rapid || (known && to[up.axis] !== from[up.axis])) report({ code: 'start-unknown', up: up.axis });
      if (to[up.axis] !== 'unknown') known = true;
      return;
    }
    known = true;
    const lowest = Math.min(begin.up, end.up);
    const touches = lowest < face + ROUNDING && (isOver(begin) || isOver(end) || begin.along * end.along < 0);
    if (rapid) {
      const needed = job.grinding.startAbove;
      if (touches) report({ code: 'rapid-in-stock', depth: mm(Math.max(0, face - lowest)) });
      else if (lowest < face + needed && isOver(end))
        report({ code: 'rapid-near-stock', gap: mm(lowest - face), needed });
      return;
    }
    if (begin.up !== end.up) {
      // An infeed belongs beside the face.
      if (isOver(begin) || isOver(end))
        report({ code: 'infeed-in-stock', depth: mm(Math.max(0, face - end.up)) });
      return;
    }
    if (!touches) return;
    const bite = face - end.up;
    if (bite > MOST_BITE + ROUNDING) report({ code: 'stroke-too-deep', depth: mm(bite), allowed: MOST_BITE });
    if (Math.abs(begin.across) > ROUNDING || Math.abs(end.across) > ROUNDING)
      report({ code: 'stroke-off-centre', v: mm(Math.max(Math.abs(begin.across), Math.abs(end.across))) });
    const byProgram = machine.spindle.switched === 'by program';
    if (byProgram && state.spindle === 'off') report({ code: 'wheel-not-turning' });
    else if (byProgram && waited < machine.spindle.spinUp - DWELL_SLACK)
      report({ code: 'spin-up-short', waited: seconds(waited), needed: machine.spindle.spinUp });
    if (feed > job.grinding.strokeSpeed * FEED_SLACK)
      report({ code: 'stroke-too-fast', feed: mmPerMin(feed), allowed: job.grinding.strokeSpeed });
    // All of the face has been under the outer edge once that is past its far side.
    const far = Math.min(Math.abs(begin.along), Math.abs(end.along));
    if (far > job.wheel.radius - radius + ROUNDING && bite > 0)
      report({ code: 'stroke-stays-inside', by: mm(far - (job.wheel.radius - radius)) });
    face = Math.min(face, end.up);
  };

  const act = (action: Action, state: ModalState): void => {
    const rest = machine.spindle.coastDown;
    switch (action.kind) {
      case 'speed':
        if (state.speed !== 'unsaid' && state.speed > job.wheel.ratedSpeed)
          report({ code: 'speed-over-rating', speed: revPerMin(state.speed), rated: job.wheel.ratedSpeed });
        else if (state.speed !== 'unsaid' && state.speed > machine.spindle.max)
          report({
            code: 'speed-outside-spindle',
            speed: revPerMin(state.speed),
            min: machine.spindle.min,
            max: machine.spindle.max,
          });
        break;
      case 'spindle':
        waited = 0;
        if (state.spindle !== 'off' && state.spindle !== machine.spindle.turns)
          report({ code: 'wheel-turns-backward', word: 'M4', wouldDo: 'M3' });
        break;
      case 'dwell':
        waited += action.seconds;
        break;
      case 'move':
        move(action, state);
        break;
      case 'stop':
        if (state.spindle !== 'off') report({ code: 'stop-while-turning' });
        break;
      case 'end':
        if (state.spindle !== 'off') report({ code: 'end-while-turning' });
        else if (machine.spindle.switched === 'by program' && waited < rest - DWELL_SLACK)
          report({ code: 'hands-before-rest', needed: seconds(rest) });
        break;
      default:
        break;
    }
  };

  for (const line of linesOf(text)) {
    lines += 1;
    place = { program: name, line: lines, text: line };
    const done = session.line(line);
    if (done.kind === 'refused') report(done.finding);
    if (done.kind !== 'executed') continue;
    for (const action of done.actions) {
      act(action, session.state());
      if (action.kind === 'stop' && !action.optional) session.forget();
    }
  }
  place = { program: name, line: 0, text: '' };
  if (!session.state().ended) report({ code: 'end-missing' });
  if (Math.abs(face + cut) > 2 * ROUNDING + lastDigit(job))
    report({ code: 'face-off', face: mm(-face), ordered: cut });
  const refused = findings.some(({ severity }) => severity === 'error');
  return { verdict: refused ? 'refused' : 'run', findings, lines, off: mm(Math.max(0, -face)) };
}
