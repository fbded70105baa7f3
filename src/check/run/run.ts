/**
 * A program runs: each action is swept, the rules of its moment are asked, and how things stand goes on to the next.
 * Where wear is compensated the punch is measured with the wheel worn as predicted, but nothing may be hit by a wheel
 * that has not worn either: both are swept.
 */
import { aimedSection } from '../../job/aim.js';
import type { Job } from '../../job/job.js';
import { ROUNDING } from '../../quantity/tolerance.js';
import { type FindingBody, NOTHING } from '../finding.js';
import type { Action } from '../read/execute.js';
import type { ModalState } from '../read/state.js';
import { met as metPunch, readComments, START_INDEX, takeIndex, turned } from './indexing.js';
import { clearOf, fromStop, type Move, startOf } from './place.js';
import { type Moment, RULES_AT, roughed } from './rules.js';
import type { Met, Standing } from './standing.js';
import { allowedBites, createSweep, type Sweep, type Swept } from './sweep.js';
import { NO_TRAVEL, type TravelSo, travelled } from './travel.js';
import { AT_REST, afterDwell, afterSpeed, afterSpindle } from './waited.js';

export interface Run {
  readonly comments: (texts: readonly string[]) => readonly FindingBody[];
  readonly act: (action: Action, state: ModalState) => readonly FindingBody[];
  /** A further program of a set starts with the control as at power-up, the punch as it stands. */
  readonly restart: () => void;
  readonly finish: (state: ModalState) => readonly FindingBody[];
  readonly sweep: Sweep;
  /** How deep the rim stood in the punch at its deepest, mm; below 0 over it, -infinity if it never was over it. */
  readonly nearest: () => number;
  /** How far each axis has moved. */
  readonly travel: () => TravelSo;
}

/** Findings of a standing fault, told once a program. */
const ONCE: ReadonlySet<FindingBody['code']> = new Set([
  'coolant-missing',
  'coolant-unwanted',
  'speed-not-ordered',
  'speed-slow',
  'feed-crawls',
  'height-unsaid',
  'index-both-ways',
]);

/** What a stop at which the operator sets the rim anew is for. */
const MEASURES = /^MEASURING STOP\b/;
const DRESSES = /^DRESSING STOP\b/;

type Changing = { -readonly [Key in keyof Standing]: Standing[Key] };

/**
 * A run of `job`, from a control at power-up in `state`.
 * @param wheel `at rest` of a program that only shows places: its stops are to look, no hand goes in, nothing turns.
 */
export function createRun(job: Job, state: ModalState, wheel: 'running' | 'at rest'): Run {
  const sweep = createSweep(job, 'as predicted');
  const unworn = job.grinding.wear === 'compensate' ? createSweep(job, 'unworn') : 'none';
  const sweeps = unworn === 'none' ? [sweep] : [sweep, unworn];
  const byHand = job.holding.index === 'by hand';
  const clear = clearOf(job);
  const aimed = aimedSection(job);
  let travel = NO_TRAVEL;
  let nearest = Number.NEGATIVE_INFINITY;
  const told = new Set<string>();
  /** What the next stop is said to be for. */
  let announced = { measures: false, dresses: false };
  let programs = 1;
  // The one record that goes from action to action; rules see it as it stands.
  const now: Changing = {
    job,
    aimed,
    allowedBite: allowedBites(job, aimed),
    clear,
    sweep,
    state,
    action: { kind: 'speed' },
    wheel: AT_REST,
    shows: wheel === 'at rest',
    clamped: 'unknown',
    moved: false,
    measured: new Set(),
    dressings: 0,
    index: START_INDEX,
    met: 'none',
  };

  const ask = (moment: Moment, into: FindingBody[]): void => {
    for (const rule of RULES_AT[moment]) {
      const found = rule.ask(now);
      if (found.length === 0) continue;
      for (const finding of found) {
        if (ONCE.has(finding.code)) {
          if (told.has(finding.code)) continue;
          told.add(finding.code);
        }
        into.push(finding);
      }
    }
  };

  /** After a measuring stop, or at the start of the program that comes after it, the rim has been set anew. */
  const setAnew = (): void => {
    const { measures, dresses } = announced;
    if (measures || dresses) for (const each of sweeps) each.setAnew();
    if (measures) now.measured = new Set([...now.measured, ...roughed(now)]);
    if (dresses) now.dressings += 1;
    announced = { measures: false, dresses: false };
  };

  const turnTo = (at: Parameters<Sweep['turnTo']>[0]): void => {
    for (const each of sweeps) each.turnTo(at);
  };

  /** An INDEX comment takes effect. */
  const index = (into: FindingBody[]): void => {
    if (!byHand) return;
    const taken = takeIndex(job, now.index);
    if (taken.index !== now.index && taken.index.current !== 'unknown') turnTo(taken.index.current);
    now.index = taken.index;
    into.push(...taken.findings);
  };

  const sweptBy = (each: Sweep, move: Move): Swept => {
    const stopped = fromStop(move);
    return each.meets(stopped === 'none' ? move : stopped);
  };

  const move = (action: Move, into: FindingBody[]): void => {
    if (!now.moved) {
      // Announced at the head of a later program of a set, it was made between the two; at that of the first it was not.
      if (programs > 1) setAnew();
      else announced = { measures: false, dresses: false };
      // A first INDEX comment before any move needs no stop: nothing runs yet.
      if (now.index.current === 'unknown') index(into);
      ask('first move', into);
    }
    if (action.to.a !== action.from.a) {
      ask('turn', into);
      if (!byHand) {
        const turn = turned(job, now.index, action);
        turnTo(turn.at);
        now.index = turn.index;
        into.push(...turn.findings);
      }
    }
    const went = travelled(job, travel, action);
    travel = went.travel;
    into.push(...went.findings);
    const swept = sweptBy(sweep, action);
    nearest = Math.max(nearest, swept.depth);
    const others = unworn === 'none' ? 'none' : sweptBy(unworn, action);
    const reaches = ({ depth, rawDepth, leaves }: Swept): boolean =>
      action.rapid ? !leaves && Math.max(depth, rawDepth) > 0 : depth > -ROUNDING;
    const touched = reaches(swept) || (others !== 'none' && reaches(others));
    const met: Met = { move: action, start: startOf(job, clear, action), swept, unworn: others, touched };
    now.met = met;
    ask('move', into);
    if (touched) {
      const touch = metPunch(now.index);
      into.push(...touch.findings);
      ask('touch', into);
      now.index = touch.index;
      sweep.grind(swept);
      if (unworn !== 'none' && others !== 'none') unworn.grind(others);
    }
    now.moved = true;
    now.met = 'none';
  };

  const act = (action: Action, state: ModalState): readonly FindingBody[] => {
    const findings: FindingBody[] = [];
    now.action = action;
    now.state = state;
    switch (action.kind) {
      case 'speed':
        ask('speed', findings);
        now.wheel = afterSpeed(now.wheel, state);
        break;
      case 'spindle':
        ask('spindle', findings);
        now.wheel = afterSpindle(now.wheel, state);
        break;
      case 'clamp':
        now.clamped = action.clamped;
        break;
      case 'dwell':
        ask('dwell', findings);
        now.wheel = afterDwell(now.wheel, action.seconds);
        break;
      case 'move':
        move(action, findings);
        break;
      case 'stop':
        ask('stop', findings);
        // Whether an optional stop stops is not in the program: it turns no punch.
        if (action.optional) break;
        index(findings);
        setAnew();
        // The axis may have been turned by hand, to measure.
        if (!byHand) now.index = { ...now.index, current: 'unknown' };
        break;
      case 'end':
        ask('end', findings);
        break;
      default:
        ask(action.kind, findings);
    }
    return findings;
  };

  return {
    sweep,
    nearest: () => nearest,
    travel: () => travel,
    act,
    comments: (texts) => {
      announced = {
        measures: announced.measures || texts.some((text) => MEASURES.test(text)),
        dresses: announced.dresses || texts.some((text) => DRESSES.test(text)),
      };
      if (!byHand) return NOTHING;
      const read = readComments(job, now.index, texts);
      now.index = read.index;
      return read.findings;
    },
    restart: () => {
      announced = { measures: false, dresses: false };
      programs += 1;
      now.clamped = 'unknown';
      now.wheel = AT_REST;
      now.moved = false;
      told.clear();
      const { lastFlat, ground, setAt } = now.index;
      // Between two programs the punch may have been turned, to measure.
      now.index = byHand
        ? { ...START_INDEX, lastFlat, ground, setAt }
        : { ...now.index, current: 'unknown', pending: 'none', lastTurn: 0 };
    },
    finish: (state) => {
      if (state.ended) return NOTHING;
      const findings: FindingBody[] = [{ code: 'end-missing' }];
      now.state = state;
      ask('end', findings);
      return findings;
    },
  };
}
