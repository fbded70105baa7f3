/**
 * One block, executed as RS274/NGC publishes it: the state is copied, every word is ticked off, everything
 * is checked, and only then a new state comes back. A refused block changes nothing.
 * Source: NISTIR 6556 (RS274/NGC v3), Table 8 (order of execution), Appendix E (error conditions).
 */

import type { Machine } from '../job/machine.js';
import { UNIT_CODES } from '../job/machine.js';
import { toMm } from '../quantity/length.js';
import { type Arc, centreOf } from './arc.js';
import { codeRow } from './codes.js';
import type { FindingBody } from './finding.js';
import type { Block } from './reader.js';
import type { Axis, ModalState, Position } from './state.js';

/** What a block does, in the order it does it. */
export type Action =
  | { readonly kind: 'speed' }
  | { readonly kind: 'spindle'; readonly turned: ModalState['spindle'] }
  | { readonly kind: 'coolant' }
  | { readonly kind: 'clamp'; readonly clamped: boolean }
  | { readonly kind: 'dwell'; readonly seconds: number }
  | {
      readonly kind: 'move';
      readonly rapid: boolean;
      readonly from: Position;
      readonly to: Position;
      readonly arc: Arc | 'straight';
      readonly feed: number;
    }
  | { readonly kind: 'stop' }
  | { readonly kind: 'end' };

export type Executed =
  | { readonly kind: 'done'; readonly state: ModalState; readonly actions: readonly Action[] }
  | { readonly kind: 'refused'; readonly finding: FindingBody };

class Refusal extends Error {
  readonly finding: FindingBody;
  constructor(finding: FindingBody) {
    super(finding.code);
    this.finding = finding;
  }
}

function refuse(finding: FindingBody): never {
  throw new Refusal(finding);
}

/** Executes `block` on `state` as the control of `machine` would. */
export function execute(state: ModalState, block: Block, machine: Machine): Executed {
  try {
    return run(state, block, machine);
  } catch (error) {
    if (error instanceof Refusal) return { kind: 'refused', finding: error.finding };
    throw error;
  }
}

/** The words of a block by what they are; every one is taken once or the block is refused. */
interface Sorted {
  readonly codes: ReadonlyMap<string, string>;
  readonly coolant: readonly string[];
  readonly values: Map<string, number>;
}

function sortWords(block: Block, machine: Machine): Sorted {
  const codes = new Map<string, string>();
  const coolant: string[] = [];
  const values = new Map<string, number>();
  let mWords = 0;
  for (const { letter, value } of block.words) {
    if (letter !== 'G' && letter !== 'M') {
      if (values.has(letter)) refuse({ code: 'letter-twice', letter });
      values.set(letter, value);
      continue;
    }
    const word = `${letter}${value}`;
    if (letter === 'M') mWords += 1;
    const group = groupOf(word, machine);
    if (group === 'coolant') coolant.push(word);
    const other = codes.get(group);
    if (other !== undefined && !(group === 'coolant' && other !== word && other !== 'M9' && word !== 'M9')) {
      refuse({ code: 'group-twice', words: [other, word], group });
    }
    codes.set(group, word);
  }
  // NISTIR 6556, 3.3: at most four M words on a line.
  if (mWords > 4) refuse({ code: 'group-twice', words: ['M'], group: 'M words' });
  return { codes, coolant, values };
}

function groupOf(word: string, machine: Machine): string {
  const { clamp, unclamp } = machine.rotary ?? {};
  if (word === clamp || word === unclamp) return 'clamp';
  const row = codeRow(word);
  if (row === undefined) refuse({ code: 'code-unknown', word });
  if (row.refused !== undefined) refuse({ code: 'code-refused', word, reason: row.refused });
  const { leaveOut, unitsCode } = machine.program;
  if (row.group === 'units') {
    const own = UNIT_CODES[unitsCode];
    if (word !== own.inch && word !== own.mm) {
      refuse({ code: 'code-not-on-control', word, wouldDo: `${own.inch} or ${own.mm}` });
    }
  } else if (leaveOut.some((left) => left === word)) {
    refuse({ code: 'code-not-on-control', word, wouldDo: 'leaving it out' });
  }
  return row.group;
}

function run(before: ModalState, block: Block, machine: Machine): Executed {
  if (
    block.number !== 'none' &&
    !(Number.isInteger(block.number) && block.number >= 0 && block.number <= 99999)
  ) {
    refuse({ code: 'block-number-bad', word: `N${block.number}` });
  }
  const { codes, coolant, values } = sortWords(block, machine);
  const state: { -readonly [K in keyof ModalState]: ModalState[K] } = { ...before };
  const actions: Action[] = [];
  const take = (letter: string): number | undefined => {
    const value = values.get(letter);
    values.delete(letter);
    return value;
  };
  const dwells = codes.get('non-modal') === 'G4';
  const { dwellWord, dwellUnit } = machine.program;
  // Taken first: with F or X as its address the word is the dwell's, not the feed's or the axis'.
  const dwell = dwells ? take(dwellWord) : undefined;

  // 2 feed mode, 3 feed, 4 speed, 5 tool
  const feedMode = codes.get('feed mode');
  if (feedMode !== undefined) {
    state.feedMode = feedMode === 'G93' ? 'inverse time' : 'per minute';
    // A feed said in one mode means nothing in the other.
    if (state.feedMode !== before.feedMode) state.feed = 0;
  }
  const feed = take('F');
  if (feed !== undefined && feed < 0) refuse({ code: 'number-negative', word: `F${feed}` });
  const speed = take('S');
  if (speed !== undefined) {
    if (speed < 0) refuse({ code: 'number-negative', word: `S${speed}` });
    state.speed = speed;
    actions.push({ kind: 'speed' });
  }
  const tool = take('T');
  if (tool !== undefined && (tool < 0 || !Number.isInteger(tool)))
    refuse({ code: 'number-negative', word: `T${tool}` });

  // 7 spindle, 8 coolant, clamp, 10 dwell
  const spindle = codes.get('spindle');
  if (spindle === 'M3' || spindle === 'M4' || spindle === 'M5') {
    state.spindle = spindle === 'M5' ? 'off' : spindle === 'M3' ? 'clockwise' : 'counter-clockwise';
    actions.push({ kind: 'spindle', turned: state.spindle });
  }
  for (const word of coolant) {
    if (word === 'M9') [state.flood, state.mist] = [false, false];
    else if (word === 'M8') state.flood = true;
    else state.mist = true;
    actions.push({ kind: 'coolant' });
  }
  const clamp = codes.get('clamp');
  if (clamp !== undefined) actions.push({ kind: 'clamp', clamped: clamp === machine.rotary?.clamp });
  if (dwells) {
    if (dwell === undefined) refuse({ code: 'dwell-missing', word: dwellWord });
    if (dwell < 0) refuse({ code: 'number-negative', word: `${dwellWord}${dwell}` });
    actions.push({ kind: 'dwell', seconds: dwellUnit === 'milliseconds' ? dwell / 1000 : dwell });
  }

  // 11 plane, 12 units, 15 work offset, 17 distance
  const plane = codes.get('plane');
  if (plane === 'G17' || plane === 'G18' || plane === 'G19') state.plane = plane;
  const units = codes.get('units');
  if (units !== undefined) {
    state.units = units === 'G20' || units === 'G70' ? 'inch' : 'mm';
    if (before.units !== 'unsaid' && before.units !== state.units) refuse({ code: 'units-switched' });
  }
  const offset = codes.get('work offset');
  if (offset !== undefined) {
    if (offset !== machine.program.workOffset) {
      refuse({ code: 'other-work-offset', word: offset, wouldDo: machine.program.workOffset });
    }
    state.workOffset = offset;
  }
  const distance = codes.get('distance');
  if (distance !== undefined) state.distance = distance === 'G91' ? 'incremental' : 'absolute';
  if (feed !== undefined) {
    state.feed = state.feedMode === 'inverse time' ? feed : inMm(feed, state, machine);
  }

  // 20 motion
  const motion = codes.get('motion');
  if (motion === 'G80') state.motion = 'none';
  else if (motion === 'G0' || motion === 'G1' || motion === 'G2' || motion === 'G3') state.motion = motion;
  moveIfAsked(before, state, take, motion, machine, feed !== undefined, actions);

  // 21 stopping
  const stopping = codes.get('stopping');
  if (stopping === 'M0' || stopping === 'M1') actions.push({ kind: 'stop' });
  if (stopping === 'M2' || stopping === 'M30') {
    state.ended = true;
    actions.push({ kind: 'end' });
  }
  const [unused] = values;
  if (unused !== undefined) refuse({ code: 'word-unused', word: `${unused[0]}${unused[1]}` });
  return { kind: 'done', state, actions };
}

type MutableState = { -readonly [K in keyof ModalState]: ModalState[K] };

/** A number of the program's units, in mm; refuses before the units are said. */
function inMm(value: number, state: ModalState, machine: Machine): number {
  if (state.units === 'unsaid') {
    refuse({ code: 'units-unsaid', wouldDo: UNIT_CODES[machine.program.unitsCode][machine.units] });
  }
  return toMm(value, state.units);
}

const AXIS_LETTERS: Readonly<Record<string, Axis>> = { X: 'x', Y: 'y', Z: 'z', A: 'a', B: 'a', C: 'a' };

function moveIfAsked(
  before: ModalState,
  state: MutableState,
  take: (letter: string) => number | undefined,
  motion: string | undefined,
  machine: Machine,
  feedSaid: boolean,
  actions: Action[],
): void {
  const to: Record<Axis, number | 'unknown'> = { ...before.position };
  let named: string | undefined;
  for (const [letter, axis] of Object.entries(AXIS_LETTERS)) {
    const value = take(letter);
    if (value === undefined) continue;
    named = `${letter}${value}`;
    if (!hasAxis(machine, letter)) refuse({ code: 'axis-unknown', word: named });
    const inside = axis === 'a' ? value : inMm(value, state, machine);
    to[axis] = target(state, before.position[axis], inside);
  }
  if (named === undefined) {
    const arc = motion === 'G2' || motion === 'G3';
    if (motion === 'G1' || motion === 'G0' || arc) refuse({ code: 'motion-without-axis', word: motion });
    return;
  }
  if (state.motion === 'none' || motion === 'G80') refuse({ code: 'axis-without-motion', word: named });
  const rapid = state.motion === 'G0';
  const feed = rapid ? 0 : feedOf(state, feedSaid);
  const arc =
    state.motion === 'G2' || state.motion === 'G3'
      ? arcOf(state, before.position, to, take, machine)
      : 'straight';
  actions.push({ kind: 'move', rapid, from: before.position, to, arc, feed });
  state.position = to;
}

function hasAxis(machine: Machine, letter: string): boolean {
  if (letter === 'A' || letter === 'B' || letter === 'C') return machine.rotary?.axis === letter;
  return letter !== 'Y' || machine.travel.y !== undefined;
}

function target(state: ModalState, at: number | 'unknown', value: number): number | 'unknown' {
  if (state.distance === 'unsaid') refuse({ code: 'distance-unsaid' });
  if (state.distance === 'absolute') return value;
  if (at === 'unknown') refuse({ code: 'start-unknown' });
  return at + value;
}

function feedOf(state: ModalState, said: boolean): number {
  // In inverse time every feed move says its own F; NISTIR 6556, 3.5.19.
  if (state.feed === 0 || (state.feedMode === 'inverse time' && !said)) refuse({ code: 'feed-missing' });
  return state.feed;
}

function arcOf(
  state: ModalState,
  from: Position,
  to: Position,
  take: (letter: string) => number | undefined,
  machine: Machine,
): Arc {
  const length = (letter: string): number | undefined => {
    const value = take(letter);
    return value === undefined ? undefined : inMm(value, state, machine);
  };
  const [i, j, k, r] = [length('I'), length('J'), length('K'), length('R')];
  const arc = centreOf(state.plane, state.motion === 'G2' ? 'clockwise' : 'counter-clockwise', from, to, {
    i,
    j,
    k,
    r,
  });
  return typeof arc === 'string' ? refuse({ code: 'arc-bad', reason: arc }) : arc;
}
