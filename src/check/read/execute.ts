/**
 * One block, executed as RS274/NGC publishes it: the state is copied, every word is ticked off, everything
 * is checked, and only then a new state comes back. A refused block changes nothing. The steps below stand
 * in the order of execution and are walked in that order.
 * Source: NISTIR 6556 (RS274/NGC v3), Table 8 (order of execution), Appendix E (error conditions).
 */

import { UNIT_CODES } from '../../job/dialect.js';
import { countsOf, isLathe, layouts } from '../../job/layout.js';
import type { Machine } from '../../job/machine.js';
import { toMm } from '../../quantity/length.js';
import type { FindingBody } from '../finding.js';
import { type Arc, centreOf, PLANE_AXES } from './arc.js';
import { codeRow, type Group } from './codes.js';
import type { Block } from './reader.js';
import { type Axis, axesApart, type Coordinate, LINEAR, type ModalState, type Position } from './state.js';

/** What a block does, in the order it does it. */
export type Action =
  | { readonly kind: 'speed' }
  | { readonly kind: 'tool change' }
  | { readonly kind: 'spindle' }
  | { readonly kind: 'clamp'; readonly clamped: boolean }
  /** Home with the infeed axis, from a place that must be clear of everything. */
  | { readonly kind: 'home'; readonly from: Position }
  | { readonly kind: 'dwell'; readonly seconds: number }
  | {
      readonly kind: 'move';
      readonly rapid: boolean;
      readonly from: Position;
      /** The place a stop left it at, on axes whose start is unknown. */
      readonly stoppedAt: Position;
      readonly to: Position;
      readonly arc: Arc | 'straight';
      /** mm/min along the path, deg/min for a rotary move alone; 0 for a rapid. */
      readonly feed: number;
    }
  /** `optional`: only if the operator's switch says so. */
  | { readonly kind: 'stop'; readonly optional: boolean }
  | { readonly kind: 'end' };

export interface Refused {
  readonly kind: 'refused';
  readonly finding: FindingBody;
}

export type Executed =
  | { readonly kind: 'done'; readonly state: ModalState; readonly actions: readonly Action[] }
  | Refused;

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

type Changing<T> = { -readonly [K in keyof T]: T[K] };

/** A block half-way through: what it says, what is still unused, what has come of it. */
interface Work {
  readonly machine: Machine;
  readonly before: ModalState;
  readonly state: Changing<ModalState>;
  /** The block's code of each group. */
  readonly codes: Partial<Record<Group, string>>;
  readonly values: Readonly<Record<string, number>>;
  readonly axes: readonly AxisWord[];
  /** Letters not used yet. */
  unused: number;
  readonly actions: Action[];
}

/** Executes a block on `state` as the control would. */
export function execute(state: ModalState, block: Sorted): Executed {
  const { machine, codes, values, axes, steps, letters } = block;
  const work: Work = {
    machine,
    before: state,
    state: { ...state },
    codes,
    values,
    axes,
    unused: letters,
    actions: [],
  };
  try {
    for (const step of steps) step(work);
    if (work.unused > 0) refuseUnused(work);
    return { kind: 'done', state: work.state, actions: work.actions };
  } catch (error) {
    return refused(error);
  }
}

function refused(error: unknown): Refused {
  if (error instanceof Refusal) return { kind: 'refused', finding: error.finding };
  throw error;
}

/** NISTIR 6556, 3.3.1 and 3.3.2: block numbers 0 to 99999, at most four M words on a line. */
const MOST_NUMBER = 99_999;
const MOST_M_WORDS = 4;

/** What a block's words say by themselves, whatever the state. */
export interface Sorted {
  readonly kind: 'sorted';
  readonly machine: Machine;
  readonly codes: Partial<Record<Group, string>>;
  readonly values: Readonly<Record<string, number>>;
  /** Its axis words, in the order axes are named in. */
  readonly axes: readonly AxisWord[];
  readonly letters: number;
  readonly steps: readonly Step[];
}

/** Sorts a block's words, or says why the control of `machine` would refuse them whatever came before. */
export function sortWords(block: Block, machine: Machine): Sorted | Refused {
  try {
    return sort(block, machine);
  } catch (error) {
    return refused(error);
  }
}

function sort({ words, number }: Block, machine: Machine): Sorted {
  if (number !== 'none' && !(Number.isInteger(number) && number >= 0 && number <= MOST_NUMBER)) {
    refuse({ code: 'block-number-bad', word: `N${number}` });
  }
  const codes: Partial<Record<Group, string>> = {};
  const values: Record<string, number> = {};
  let [mWords, letters, steps] = [0, 0, 0];
  for (const { letter, value } of words) {
    if (letter !== 'G' && letter !== 'M') {
      if (values[letter] !== undefined) refuse({ code: 'letter-twice', letter });
      values[letter] = value;
      letters += 1;
      steps |= STEPS_FOR[letter] ?? 0;
      continue;
    }
    if (letter === 'M') mWords += 1;
    const { code, group } = known(letter, value, machine);
    const other = codes[group];
    if (other !== undefined) refuse({ code: 'group-twice', words: [other, code], group });
    codes[group] = code;
    steps |= STEPS_FOR[group] ?? 0;
  }
  if (mWords > MOST_M_WORDS)
    refuse({ code: 'group-twice', words: ['M'], group: `more than ${MOST_M_WORDS} M words` });
  const axes = AXES_OF_BLOCK.filter(({ letter }) => values[letter] !== undefined);
  return { kind: 'sorted', machine, codes, values, axes, letters, steps: stepsOf(steps) };
}

/** The code's row, refused by name if it is not vouched for or the profile's control has not got it. */
function known(
  letter: 'G' | 'M',
  value: number,
  machine: Machine,
): { readonly code: string; readonly group: Group } {
  const { rotary, program } = machine;
  if (letter === 'M' && rotary?.clamp !== undefined) {
    const code = `M${value}`;
    if (code === rotary.clamp || code === rotary.unclamp) return { code, group: 'clamp' };
  }
  const row = codeRow(letter, value) ?? refuse({ code: 'code-unknown', word: `${letter}${value}` });
  if (row.refused !== 'no') refuse({ code: 'code-refused', word: row.code, reason: row.refused });
  const role = roleOf(row.code, machine);
  if (role !== undefined) return role;
  if (row.group === 'units') {
    const { inch, mm } = UNIT_CODES[program.unitsCode];
    if (row.code !== inch && row.code !== mm) {
      refuse({ code: 'code-not-on-control', word: row.code, wouldDo: `${inch} or ${mm}` });
    }
  } else if (program.leaveOut.length > 0 && program.leaveOut.some((left) => left === row.code)) {
    refuse({ code: 'code-not-on-control', word: row.code, wouldDo: 'leaving it out' });
  }
  return row;
}

/** Codes that mean one thing on this control and another on the next. */
function roleOf(
  code: string,
  { program, layout }: Machine,
): { readonly code: string; readonly group: Group } | undefined {
  const { feedCode, absoluteCode, diameterCode } = program;
  if (code === 'G94' && feedCode === 'G98')
    refuse({ code: 'code-not-on-control', word: code, wouldDo: 'G98' });
  if (code === 'G90' && absoluteCode === 'none') {
    refuse({ code: 'code-not-on-control', word: code, wouldDo: 'leaving it out, for here it is a cycle,' });
  }
  if (code === 'G91' && absoluteCode === 'none') {
    refuse({ code: 'code-not-on-control', word: code, wouldDo: 'absolute X and Z' });
  }
  if (code === 'G7' || code === 'G8') {
    if (code !== diameterCode) {
      refuse({
        code: 'code-not-on-control',
        word: code,
        wouldDo: diameterCode === 'none' ? 'leaving it out' : diameterCode,
      });
    }
    return { code, group: 'diameter' };
  }
  if (code !== 'G98' && code !== 'G99') return undefined;
  if (feedCode === 'G98') {
    if (code === 'G98') return { code: 'G94', group: 'feed mode' };
    refuse({ code: 'code-refused', word: code, reason: 'feed per revolution is not for a grinding wheel' });
  }
  if (isLathe(layout)) {
    refuse({ code: 'code-refused', word: code, reason: 'on many lathes it changes what the feed counts in' });
  }
  return undefined;
}

/** The value of a letter, ticked off. */
function take(work: Work, letter: string): number | undefined {
  const value = work.values[letter];
  if (value !== undefined) work.unused -= 1;
  return value;
}

/** Names the first letter that nothing in the block uses. */
function refuseUnused({ values, codes, machine, state }: Work): never {
  const used = new Set(['F', 'S', 'T', ...(codes['non-modal'] === 'G4' ? [machine.program.dwellWord] : [])]);
  const arc = state.motion === 'G2' || state.motion === 'G3';
  for (const letter of [...Object.keys(AXIS_LETTERS), ...(arc ? ['I', 'J', 'K', 'R'] : [])]) used.add(letter);
  const letter = Object.keys(values).find((each) => !used.has(each)) ?? Object.keys(values)[0] ?? '';
  refuse({ code: 'word-unused', word: `${letter}${values[letter]}` });
}

/** A number of the program's units, in mm; refuses before the units are said. */
function inMm(value: number, { state, machine }: Work): number {
  if (state.units !== 'unsaid') return toMm(value, state.units);
  return refuse({ code: 'units-unsaid', wouldDo: UNIT_CODES[machine.program.unitsCode][machine.units] });
}

/** The dwell's own word first: where its address is F or X it is no feed and no axis. */
function dwell(work: Work): void {
  if (work.codes['non-modal'] !== 'G4') return;
  const { dwellWord, dwellUnit } = work.machine.program;
  const time = take(work, dwellWord);
  if (time === undefined) refuse({ code: 'dwell-missing', word: dwellWord });
  else if (time < 0) refuse({ code: 'number-negative', word: `${dwellWord}${time}` });
  const axis = Object.keys(AXIS_LETTERS).find(
    (letter) => letter !== dwellWord && work.values[letter] !== undefined,
  );
  if (axis !== undefined) refuse({ code: 'dwell-with-axis', word: `${axis}${work.values[axis]}` });
  else
    work.actions.push({
      kind: 'dwell',
      seconds: dwellUnit === 'milliseconds' ? (time ?? 0) / 1000 : (time ?? 0),
    });
}

const isDwells = ({ codes, machine }: Work, letter: string): boolean =>
  codes['non-modal'] === 'G4' && machine.program.dwellWord === letter;

function feedMode({ state, codes }: Work): void {
  const code = codes['feed mode'];
  if (code === undefined) return;
  state.feedMode = code === 'G93' ? 'inverse time' : 'per minute';
  // A feed said in one mode means nothing in the other, and some controls forget it when the mode is said again.
  state.feed = 0;
}

function feed(work: Work): void {
  if (isDwells(work, 'F')) return;
  const value = take(work, 'F');
  if (value === undefined) return;
  if (value < 0) refuse({ code: 'number-negative', word: `F${value}` });
  const { state } = work;
  if (state.feedMode === 'inverse time') state.feed = value;
  // Said in the very block that first says the units, F still counts in whatever the control had before.
  else if (state.units === 'unsaid' && work.codes.units !== undefined) state.feed = 0;
  else if (state.units === 'unsaid') inMm(value, work);
  else state.feed = value;
}

function speed(work: Work): void {
  const value = take(work, 'S');
  if (value === undefined) return;
  if (value < 0) refuse({ code: 'number-negative', word: `S${value}` });
  work.state.speed = value;
  work.actions.push({ kind: 'speed' });
}

/** A tool word, a change or a length offset: only for the wheel the profile says zero is set with. */
function tool(work: Work): void {
  const { machine, codes, state } = work;
  const value = take(work, 'T');
  const wheel = machine.program.tool;
  if (value !== undefined && (value < 0 || !Number.isInteger(value))) {
    refuse({ code: 'number-negative', word: `T${value}` });
  }
  if (value !== undefined && value !== wheel) {
    const reason = isLathe(machine.layout)
      ? 'on a lathe it turns the tool post'
      : "some controls change the tool at it, and it is not the profile's program.tool";
    refuse({ code: 'code-refused', word: `T${value}`, reason });
  }
  if (codes['tool change'] === 'M6') {
    const asked = value ?? state.tool;
    if (wheel === undefined || asked !== wheel) {
      refuse({ code: 'code-refused', word: 'M6', reason: 'a tool change puts another wheel in the spindle' });
    }
    work.actions.push({ kind: 'tool change' });
  }
  if (value !== undefined) state.tool = value;
  if (codes['length offset'] === 'G43') {
    const offset = take(work, 'H');
    if (wheel === undefined || offset !== wheel) {
      const reason =
        'the length offset is a number in the control, not in the job; the profile can say program.tool';
      refuse({ code: 'code-refused', word: 'G43', reason });
    }
  }
}

const TURNED = { M3: 'clockwise', M4: 'counter-clockwise', M5: 'off' } as const;

function spindle({ codes, state, actions }: Work): void {
  const code = codes.spindle;
  if (code !== 'M3' && code !== 'M4' && code !== 'M5') return;
  state.spindle = TURNED[code];
  actions.push({ kind: 'spindle' });
}

function coolant({ codes, state }: Work): void {
  if (codes.coolant === 'M9') [state.flood, state.mist] = [false, false];
  else if (codes.coolant === 'M8') state.flood = true;
  else if (codes.coolant === 'M7') state.mist = true;
}

/** G64 lets the path be cut short by as much as its P says: within a micrometre that is as good as G61. */
const BLEND_WITHIN_MM = 0.001;

function pathControl(work: Work): void {
  if (work.codes['path control'] !== 'G64') return;
  const within = take(work, 'P');
  if (within === undefined || within < 0 || inMm(within, work) > BLEND_WITHIN_MM) {
    const reason =
      'blending may end a stroke short of its mark; write G61, or G64 with a P of 0.001 mm or less';
    refuse({ code: 'code-refused', word: 'G64', reason });
  }
}

/** G28 goes home by way of the place in its block: only that place is known, and nothing may move after it. */
function home(work: Work): boolean {
  const { codes, values, axes: said, before, state } = work;
  if (codes['non-modal'] !== 'G28') return false;
  for (const { letter } of said) take(work, letter);
  const ofUp = said.every(({ axis }) => axis === layouts[work.machine.layout].up.axis);
  const byItself = state.distance === 'incremental' && said.every(({ letter }) => values[letter] === 0);
  if (said.length === 0 || !ofUp || !byItself) {
    const reason =
      'it goes to a place that stands in the control; only G91 G28 with the infeed axis at 0, after a retract, is followed';
    refuse({ code: 'code-refused', word: 'G28', reason });
  }
  work.actions.push({ kind: 'home', from: before.position });
  state.position = { ...before.position, [layouts[work.machine.layout].up.axis]: 'unknown' };
  return true;
}

function clamp({ codes, machine, actions }: Work): void {
  if (codes.clamp !== undefined)
    actions.push({ kind: 'clamp', clamped: codes.clamp === machine.rotary?.clamp });
}

function plane({ codes, state }: Work): void {
  const code = codes.plane;
  if (code === 'G17' || code === 'G18' || code === 'G19') state.plane = code;
}

function units({ codes, state, before }: Work): void {
  const code = codes.units;
  if (code === undefined) return;
  state.units = code === 'G20' || code === 'G70' ? 'inch' : 'mm';
  if (before.units !== 'unsaid' && before.units !== state.units) refuse({ code: 'units-switched' });
}

function workOffset({ codes, machine }: Work): void {
  const code = codes['work offset'];
  if (code === undefined) return;
  const wouldDo = machine.program.workOffset;
  if (code !== wouldDo) refuse({ code: 'other-work-offset', word: code, wouldDo });
}

function distance({ codes, state }: Work): void {
  if (codes.distance !== undefined) state.distance = codes.distance === 'G91' ? 'incremental' : 'absolute';
}

const AXIS_LETTERS: Readonly<Record<string, Axis>> = { X: 'x', Y: 'y', Z: 'z', A: 'a', B: 'a', C: 'a' };
interface AxisWord {
  readonly letter: string;
  readonly axis: Axis;
}
const AXES_OF_BLOCK: readonly AxisWord[] = Object.entries(AXIS_LETTERS).map(([letter, axis]) => ({
  letter,
  axis,
}));

function motion(work: Work): void {
  if (home(work)) return;
  const { state, before, machine, values } = work;
  const code = work.codes.motion;
  if (code === 'G80') state.motion = 'none';
  else if (code === 'G0' || code === 'G1' || code === 'G2' || code === 'G3') state.motion = code;
  let to: Record<Axis, Coordinate> | undefined;
  let last = '';
  for (const { letter, axis } of work.axes) {
    if (isDwells(work, letter)) continue;
    const value = take(work, letter) ?? 0;
    last = letter;
    if (!hasAxis(machine, letter)) refuse({ code: 'axis-unknown', word: `${letter}${value}` });
    to ??= { ...before.position };
    const inside = axis === 'a' ? value : inMm(value, work);
    to[axis] =
      work.codes['non-modal'] === 'G53'
        ? fromMachineZero(work, axis, inside)
        : target(work, before.position[axis], inside);
  }
  if (to === undefined) {
    if (code !== undefined && code !== 'G80') refuse({ code: 'motion-without-axis', word: code });
    return;
  }
  if (state.motion === 'none') refuse({ code: 'axis-without-motion', word: `${last}${values[last]}` });
  const rapid = state.motion === 'G0';
  const arc = state.motion === 'G2' || state.motion === 'G3' ? arcOf(work, to) : 'straight';
  const feed = rapid ? 0 : feedOf(work, to, arc);
  work.actions.push({
    kind: 'move',
    rapid,
    from: before.position,
    stoppedAt: before.stoppedAt,
    to,
    arc,
    feed,
  });
  state.position = to;
}

/**
 * G53: this block's axis words are machine coordinates, so work zero must be known. Only with G0 or G1 and
 * in absolute mode; NISTIR 6556, 3.5.11.
 */
function fromMachineZero({ machine, state }: Work, axis: Axis, value: number): number {
  const zero = axis === 'a' ? undefined : machine.workZero?.[axis];
  if (zero === undefined) {
    const reason = 'it counts from machine zero, and the profile does not say where work zero lies';
    refuse({ code: 'code-refused', word: 'G53', reason });
  }
  if (state.distance !== 'absolute' || (state.motion !== 'G0' && state.motion !== 'G1')) {
    refuse({ code: 'code-refused', word: 'G53', reason: 'it goes with G90 and with G0 or G1 only' });
  }
  return value - zero;
}

function hasAxis(machine: Machine, letter: string): boolean {
  if (letter === 'A' || letter === 'B' || letter === 'C') return machine.rotary?.axis === letter;
  return letter !== 'Y' || machine.travel.y !== undefined;
}

function target({ state, machine }: Work, at: Coordinate, value: number): number {
  if (state.distance === 'absolute') return value;
  if (state.distance === 'unsaid') refuse({ code: 'distance-unsaid' });
  return at === 'unknown'
    ? refuse({ code: 'start-unknown', up: layouts[machine.layout].up.axis })
    : at + value;
}

/** F counts in length units where a linear axis moves, in degrees where the rotary one moves alone. */
function feedOf({ state, before, values }: Work, to: Position, arc: Arc | 'straight'): number {
  // In inverse time every feed move says its own F; NISTIR 6556, 3.5.19.
  const said = state.feedMode !== 'inverse time' || values['F'] !== undefined;
  if (state.feed === 0 || !said) refuse({ code: 'feed-missing' });
  if (state.feedMode === 'inverse time') return state.feed * pathLength(before.position, to, arc);
  const linear = arc !== 'straight' || axesApart(before.position, to) > 0;
  return linear && state.units !== 'unsaid' ? toMm(state.feed, state.units) : state.feed;
}

/** Length of a move, mm; of a rotary move alone, degrees; infinite from a place not known. */
function pathLength(from: Position, to: Position, arc: Arc | 'straight'): number {
  const change = (axis: Axis): number => {
    const [a, b] = [from[axis], to[axis]];
    if (a === b) return 0;
    return a === 'unknown' || b === 'unknown' ? Number.POSITIVE_INFINITY : Math.abs(b - a);
  };
  if (arc === 'straight') {
    const length = Math.hypot(...LINEAR.map(change));
    return length > 0 ? length : change('a');
  }
  const [first, second] = PLANE_AXES[arc.plane];
  const along = LINEAR.filter((axis) => axis !== first && axis !== second).map(change);
  return Math.hypot(arc.radius * arc.sweep, ...along);
}

function arcOf(work: Work, to: Position): Arc {
  const length = (letter: string): number | undefined => {
    const value = take(work, letter);
    return value === undefined ? undefined : inMm(value, work);
  };
  const { state, before } = work;
  if (!PLANES.some((plane) => state.said.has(plane))) refuse({ code: 'arc-plane-unsaid' });
  const turns = state.motion === 'G2' ? 'clockwise' : 'counter-clockwise';
  const words = { i: length('I'), j: length('J'), k: length('K'), r: length('R') };
  const arc = centreOf(
    state.plane,
    turns,
    before.position,
    to,
    words,
    countsOf(layouts[work.machine.layout], 'x'),
  );
  return typeof arc === 'string' ? refuse({ code: 'arc-bad', reason: arc }) : arc;
}

const PLANES = ['G17', 'G18', 'G19'] as const;

/** What a program has said of these is remembered: unsaid, the program before decides. */
const REMEMBERED: readonly Group[] = [
  'plane',
  'path control',
  'cutter compensation',
  'length offset',
  'work offset',
  'feed mode',
  'spindle mode',
];

function remember({ codes, state }: Work): void {
  for (const group of REMEMBERED) {
    const code = codes[group];
    if (code !== undefined && !state.said.has(code)) state.said = new Set([...state.said, code]);
  }
}

function stopping({ codes, state, actions }: Work): void {
  const code = codes.stopping;
  if (code === 'M0' || code === 'M1') actions.push({ kind: 'stop', optional: code === 'M1' });
  if (code !== 'M2' && code !== 'M30') return;
  state.ended = true;
  actions.push({ kind: 'end' });
}

type Step = (work: Work) => void;

/** NISTIR 6556, Table 8, in its order, each with the groups and letters it is for; what it has and we refuse has no step. */
const STEPS: readonly (readonly [step: Step, ...words: string[]])[] = [
  [feedMode, 'feed mode'],
  [feed, 'F'],
  [speed, 'S'],
  [tool, 'T', 'tool change', 'length offset'],
  [spindle, 'spindle'],
  [coolant, 'coolant'],
  [clamp, 'clamp'],
  [dwell, 'non-modal'],
  [plane, 'plane'],
  [units, 'units'],
  [workOffset, 'work offset'],
  [pathControl, 'path control'],
  [distance, 'distance'],
  [remember, ...REMEMBERED],
  [motion, 'motion', 'non-modal', ...Object.keys(AXIS_LETTERS)],
  [stopping, 'stopping'],
];

/** The steps a word is for, a bit each: most blocks hold a word or two, and walk one step. */
const STEPS_FOR: Readonly<Record<string, number>> = STEPS.reduce<Record<string, number>>(
  (so, [, ...words], i) => {
    for (const word of words) so[word] = (so[word] ?? 0) | (1 << i);
    return so;
  },
  {},
);

const chosen = new Map<number, readonly Step[]>();

/** The steps of these bits, in order; sets of words are few, so each is chosen once. */
function stepsOf(bits: number): readonly Step[] {
  const known = chosen.get(bits);
  if (known !== undefined) return known;
  const steps = STEPS.flatMap(([step], i) => ((bits & (1 << i)) === 0 ? [] : [step]));
  chosen.set(bits, steps);
  return steps;
}
