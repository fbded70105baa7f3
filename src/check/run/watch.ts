/**
 * What the machine is doing while a program runs: wheel, coolant, clamp, waits, travel. Each rule
 * answers one question at the moment it matters: may the wheel start, may it cut, may the punch turn,
 * may a hand go in. Times are the profile's; a program that waits less is refused.
 */
import type { Job } from '../../job/job.js';
import { isLathe } from '../../job/layout.js';
import { ROUNDING } from '../../quantity/tolerance.js';
import { type Mm, mm, mmPerMin, revPerMin, seconds } from '../../quantity/unit.js';
import { circumradius } from '../../section/blank.js';
import type { FindingBody } from '../finding.js';
import type { Action } from '../read/execute.js';
import { LINEAR, type ModalState } from '../read/state.js';
import { meetsFixture } from './fixture.js';
import { createIndexing } from './indexing.js';
import { type Move, type Sweep, spanOn, wheelPoint } from './sweep.js';

/** Waits within this of what is asked for are long enough: the last digit of a dwell. */
const DWELL_SLACK = 0.0015;
/** The wheel may run this share off the ordered speed: more than S rounds, less than matters. */
const SPEED_SLACK = 0.05;
/** A hair over a feed limit is how its last digit rounds. */
const FEED_SLACK = 1.0005;
/** Floating-point noise on coordinates, mm. */
const TRAVEL_NOISE = 1e-6;

const NOTHING: readonly FindingBody[] = [];

export interface Watch {
  readonly comments: (texts: readonly string[]) => readonly FindingBody[];
  readonly act: (action: Action, state: ModalState) => readonly FindingBody[];
  /** A further program of a set starts with the control as at power-up, the punch as it stands. */
  readonly restart: () => void;
  readonly finish: (state: ModalState) => readonly FindingBody[];
}

/** The rules of the machine's state for one job; `sweep` says what the wheel meets. */
export function createWatch(job: Job, sweep: Sweep): Watch {
  const { machine, wheel, holding, grinding } = job;
  const { spindle, rotary, travel, workZero } = machine;
  const indexing = createIndexing(job, sweep);
  const { leaveOut, workOffset } = machine.program;
  // A left-over plane changes no straight move; an arc of the program shows its own.
  const needed = ['G40', 'G49', 'G94', 'G97', workOffset].filter(
    (word) => (word !== 'G97' || isLathe(machine.layout)) && !leaveOut.some((left) => left === word),
  );
  const byHand = holding.index === 'by hand';
  const hasClamp = !byHand && rotary?.clamp !== undefined;
  const spans = new Map<string, { least: number; most: number }>();
  const reported = new Set<string>();
  let waited = 0;
  let lastSpeed = 0;
  let moved = false;
  let clamped = false;

  /** A standing fault, such as travel exceeded, is worth one finding an axis and side, not one a block. */
  const once = (key: string, finding: FindingBody): readonly FindingBody[] => {
    if (reported.has(key)) return [];
    reported.add(key);
    return [finding];
  };

  const speedFindings = ({ speed, spindle: turning }: ModalState): readonly FindingBody[] => {
    if (speed === 'unsaid') return [];
    // A faster wheel must come up to speed anew.
    if (turning !== 'off' && speed > lastSpeed) waited = 0;
    lastSpeed = speed;
    const findings: FindingBody[] = [];
    if (speed > wheel.ratedSpeed) {
      findings.push({ code: 'speed-over-rating', speed: revPerMin(speed), rated: wheel.ratedSpeed });
    }
    if (speed > spindle.max || (speed < spindle.min && turning !== 'off')) {
      const { min, max } = spindle;
      findings.push({ code: 'speed-outside-spindle', speed: revPerMin(speed), min, max });
    }
    return findings;
  };

  const spindleFindings = (state: ModalState): readonly FindingBody[] => {
    waited = 0;
    if (state.spindle === 'off') return [];
    const findings = [...speedFindings(state)];
    if (state.speed === 'unsaid' || state.speed === 0) findings.push({ code: 'speed-missing' });
    if (state.spindle !== spindle.turns) {
      const [word, wouldDo] = state.spindle === 'clockwise' ? ['M3', 'M4'] : ['M4', 'M3'];
      findings.push({ code: 'wheel-turns-backward', word, wouldDo });
    }
    return findings;
  };

  /** The wheel must stand still: off, and waited for. */
  const atRest = (
    state: ModalState,
    turning: FindingBody,
    code: 'coast-down-short' | 'index-while-turning',
  ): readonly FindingBody[] => {
    if (state.spindle !== 'off') return [turning];
    if (waited >= spindle.coastDown - DWELL_SLACK) return [];
    return [{ code, waited: seconds(waited), needed: spindle.coastDown }];
  };

  const stopFindings = (state: ModalState, optional: boolean): readonly FindingBody[] => {
    const findings = [...atRest(state, { code: 'stop-while-turning' }, 'coast-down-short')];
    if (machine.program.stops === 'ignored') findings.push({ code: 'stop-ignored' });
    if (moved && !sweep.isClear(state.position)) findings.push({ code: 'stop-near-work' });
    else if (moved && byHand) findings.push(...highEnough(state));
    // Whether an optional stop stops is not in the program: it turns no punch.
    return optional ? findings : [...findings, ...indexing.take()];
  };

  /** Hands need the room the job asks for over the blank, at its tip. */
  const highEnough = ({ position }: ModalState): readonly FindingBody[] => {
    const place = wheelPoint(job, position);
    const needed = mm(circumradius(job.blank) / Math.cos(job.punch.relief) + grinding.retract);
    if (place === 'unknown' || place.w >= needed - ROUNDING) return [];
    return [{ code: 'stop-too-low', height: mm(place.w), needed }];
  };

  const endFindings = (state: ModalState): readonly FindingBody[] => {
    const findings = [...atRest(state, { code: 'end-while-turning' }, 'coast-down-short')];
    if (moved && !sweep.isClear(state.position)) findings.push({ code: 'end-near-work' });
    return findings;
  };

  const turnFindings = (move: Move, state: ModalState): readonly FindingBody[] => {
    const findings = [...indexing.turn(move)];
    if (hasClamp && clamped) findings.push({ code: 'index-clamped', wouldDo: rotary.unclamp ?? '' });
    if (rotary?.mayTurnWithSpindle === false) {
      const turning: FindingBody = {
        code: 'index-while-turning',
        waited: seconds(0),
        needed: spindle.coastDown,
      };
      findings.push(...atRest(state, turning, 'index-while-turning'));
    }
    return findings;
  };

  const travelFindings = (move: Move): readonly FindingBody[] => {
    let findings: readonly FindingBody[] = NOTHING;
    for (const axis of LINEAR) {
      const limits = travel[axis];
      const to = move.to[axis];
      if (limits === undefined || to === 'unknown') continue;
      if (move.arc === 'straight' && to === move.from[axis]) continue;
      for (const at of move.arc === 'straight' ? [to] : spanOn(move, axis)) {
        const found = travelOf(axis, at, limits);
        if (found.length > 0) findings = [...findings, ...found];
      }
    }
    return findings;
  };

  const travelOf = (
    axis: (typeof LINEAR)[number],
    at: number,
    [least, most]: readonly [Mm, Mm],
  ): readonly FindingBody[] => {
    const zero = workZero?.[axis];
    if (zero !== undefined) {
      if (at + zero >= least - TRAVEL_NOISE && at + zero <= most + TRAVEL_NOISE) return [];
      return once(`${axis}${at + zero < least}`, {
        code: 'outside-travel',
        axis,
        at: mm(at + zero),
        least,
        most,
      });
    }
    const span = spans.get(axis) ?? { least: at, most: at };
    span.least = Math.min(span.least, at);
    span.most = Math.max(span.most, at);
    spans.set(axis, span);
    if (span.most - span.least <= most - least + TRAVEL_NOISE) return [];
    return once(axis, {
      code: 'span-over-travel',
      axis,
      need: mm(span.most - span.least),
      have: mm(most - least),
    });
  };

  const touchFindings = (state: ModalState): readonly FindingBody[] => {
    const findings: FindingBody[] = [];
    if (state.spindle === 'off') findings.push({ code: 'wheel-not-turning' });
    else if (waited < spindle.spinUp - DWELL_SLACK) {
      findings.push({ code: 'spin-up-short', waited: seconds(waited), needed: spindle.spinUp });
    }
    if (hasClamp && !clamped) findings.push({ code: 'stroke-unclamped', wouldDo: rotary.clamp ?? '' });
    findings.push(...indexing.touch());
    const { speed } = state;
    if (
      state.spindle !== 'off' &&
      speed !== 'unsaid' &&
      Math.abs(speed / grinding.spindleSpeed - 1) > SPEED_SLACK
    ) {
      const ordered = grinding.spindleSpeed;
      findings.push(
        ...once(`speed ${speed}`, { code: 'speed-not-ordered', speed: revPerMin(speed), ordered }),
      );
    }
    const wet = grinding.coolant === 'flood' ? state.flood : state.mist;
    if (grinding.coolant !== 'none' && !wet) {
      findings.push(...once('coolant', { code: 'coolant-missing', wanted: grinding.coolant }));
    }
    if (grinding.coolant === 'none' && (state.flood || state.mist)) {
      findings.push(...once('dry', { code: 'coolant-unwanted' }));
    }
    return findings;
  };

  /** At the first move: what the program before may have left on must have been said off. */
  const modeFindings = ({ said }: ModalState): readonly FindingBody[] => {
    const words = needed.filter((word) => !said.has(word) && !(word === 'G94' && said.has('G93')));
    return words.length === 0 ? [] : [{ code: 'mode-unsaid', words }];
  };

  const moveFindings = (move: Move, state: ModalState): readonly FindingBody[] => {
    const findings: FindingBody[] = [];
    // A first INDEX comment before any move needs no stop: nothing runs yet.
    if (!moved) findings.push(...(indexing.isUnsaid() ? indexing.take() : []), ...modeFindings(state));
    moved = true;
    if (move.to.a !== move.from.a) findings.push(...turnFindings(move, state));
    findings.push(...travelFindings(move));
    if (!move.rapid && move.feed > machine.maxFeed * FEED_SLACK) {
      findings.push({ code: 'feed-over-machine', feed: mmPerMin(move.feed), max: machine.maxFeed });
    }
    findings.push(...meetsFixture(job, move), ...sweep.move(move));
    if (sweep.touched()) findings.push(...touchFindings(state));
    return findings;
  };

  const act = (action: Action, state: ModalState): readonly FindingBody[] => {
    switch (action.kind) {
      case 'speed':
        return speedFindings(state);
      case 'spindle':
        return spindleFindings(state);
      case 'clamp':
        clamped = action.clamped;
        return [];
      case 'dwell':
        waited += action.seconds;
        return [];
      case 'move':
        return moveFindings(action, state);
      case 'stop':
        return stopFindings(state, action.optional);
      case 'end':
        return endFindings(state);
    }
  };

  return {
    comments: indexing.comments,
    act,
    restart: () => {
      moved = false;
      waited = 0;
      lastSpeed = 0;
      indexing.restart();
    },
    finish: (state) => (state.ended ? [] : [{ code: 'end-missing' }, ...endFindings(state)]),
  };
}
