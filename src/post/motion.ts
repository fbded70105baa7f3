/**
 * Blocks that move the wheel and start or stop it. Everything a stop may have lost is said again: modes,
 * speed, spindle, coolant, feed and position. From a place not known the wheel goes up first, over everything, then
 * across, and only then starts. A rapid moves one axis at a time, since controls differ in the path they take. With a
 * tilted head a retract moves two axes and is a feed move instead. Axes are named by what they do: along, across, up.
 */

import { UNIT_CODES } from '../job/dialect.js';
import { type Job, layoutOf, onMachine, slopeOf } from '../job/job.js';
import { type LinearAxis, layouts } from '../job/layout.js';
import { indexPlace, type Positions } from '../plan/position.js';
import { handsIn, SPIN_DRY, SPIN_DRY_AT_END } from '../plan/wait.js';
import type { MmPerMin, Rad } from '../quantity/unit.js';
import type { WheelPoint } from '../wheel/frame.js';
import { SWITCH_OFF } from './caution.js';
import { block, comment, type Line } from './comment.js';
import { axisWords, changedWords, dwellWords, feedWord, lengthWord, rotaryWord, speedWord } from './word.js';

const COOLANT = { flood: 'M8', mist: 'M7' } as const;
const TURNS = { clockwise: 'M3', 'counter-clockwise': 'M4' } as const;

const allWords = (job: Job, place: WheelPoint): readonly string[] => Object.values(axisWords(job, place));

/** The words of a place: those of the level axes, and that of the infeed. */
function byRole(
  job: Job,
  place: WheelPoint,
): { readonly level: readonly string[]; readonly up: readonly string[] } {
  const { axis: up } = layoutOf(job).up;
  const words = Object.entries(axisWords(job, place)) as [LinearAxis, string][];
  const of = (isUp: boolean): readonly string[] =>
    words.flatMap(([axis, word]) => ((axis === up) === isUp ? [word] : []));
  return { level: of(false), up: of(true) };
}

/** One modal group a block, without the codes the control does not know. */
export function modes({ machine }: Job): readonly Line[] {
  const { unitsCode, workOffset, leaveOut, absoluteCode, feedCode, diameterCode, exactStop, tool } =
    machine.program;
  const codes: readonly (readonly string[])[] = [
    ...layouts[machine.layout].startCodes.map((code) => [code]),
    [diameterCode],
    [UNIT_CODES[unitsCode][machine.units]],
    ['G40'],
    tool === undefined ? ['G49'] : ['G43', `H${tool}`],
    ['G80'],
    [absoluteCode],
    [feedCode],
    [exactStop],
    [workOffset],
  ];
  return codes
    .filter(([code = '']) => code !== 'none' && !leaveOut.some((left) => left === code))
    .map((words) => block(...words));
}

/** Speed, spindle, the wait until it runs, coolant; nothing where the spindle has its own switch. */
export function startWheel({ machine, grinding }: Job): readonly Line[] {
  const coolant = grinding.coolant === 'none' ? [] : [block(COOLANT[grinding.coolant])];
  if (machine.spindle.switched === 'by hand') return coolant;
  return [
    block(speedWord(grinding.spindleSpeed)),
    block(TURNS[machine.spindle.turns]),
    block(...dwellWords(machine, machine.spindle.spinUp)),
    ...coolant,
  ];
}

/** Coolant off and the wheel spun dry, spindle off, and the wait until it stands and a hand may go in. */
export function stopWheel({ machine, grinding, holding }: Job, at: 'a stop' | 'the end'): readonly Line[] {
  const dry = at === 'the end' ? SPIN_DRY_AT_END : SPIN_DRY;
  const coolant = grinding.coolant === 'none' ? [] : [block('M9'), block(...dwellWords(machine, dry))];
  if (machine.spindle.switched === 'by hand') return coolant;
  return [...coolant, block('M5'), block(...dwellWords(machine, handsIn({ machine, holding })))];
}

/** The axis freed, turned to one angle after the other and clamped again, as the profile says. */
export function turnAxis(job: Job, angles: readonly Rad[]): readonly Line[] {
  const { clamp, unclamp, clampTime } = job.machine.rotary ?? {};
  return [
    ...(unclamp === undefined ? [] : [block(unclamp)]),
    ...angles.map((angle) => block('G0', rotaryWord(job, angle))),
    ...(clamp === undefined || clampTime === undefined
      ? []
      : [block(clamp), block(...dwellWords(job.machine, clampTime))]),
  ];
}

/** Where the spindle has its own switch, a stop at which a hand switches it off; nothing elsewhere. */
export const switchOff = ({ machine }: Job): readonly Line[] =>
  machine.spindle.switched === 'by hand' ? [comment(SWITCH_OFF), block('M0')] : [];

/** Up over everything by itself: in machine coordinates where the control has them, else to where hands have room. */
function rise(job: Job, positions: Positions): Line {
  const { axis } = layoutOf(job).up;
  const { machineTop } = positions;
  if (machineTop !== 'none') return block('G53', 'G0', lengthWord(job, axis, machineTop));
  return block('G0', lengthWord(job, axis, positions.handHeight));
}

/** From wherever the wheel stands: up over everything, then across to past the tip. */
export const goClear = (job: Job, positions: Positions): readonly Line[] => [
  rise(job, positions),
  block('G0', ...byRole(job, indexPlace(positions)).level),
];

/** Down to index height, in the clear position; none if the wheel is already there. */
export const goToIndex = (job: Job, positions: Positions): readonly Line[] =>
  positions.machineTop === 'none' && goToHands(job, positions).length === 0
    ? []
    : [block('G0', ...byRole(job, indexPlace(positions)).up)];

/** Up out of the hands' way, from index height; none if it is already there. */
export function goToHands(job: Job, positions: Positions): readonly Line[] {
  const { axis } = layoutOf(job).up;
  const index = onMachine(job, indexPlace(positions))[axis];
  return positions.handHeight === index ? [] : [block('G0', lengthWord(job, axis, positions.handHeight))];
}

/** Up to index height from the clear position, at the height of the last pass. */
export function retract(job: Job, positions: Positions): Line {
  const place = indexPlace(positions);
  return slopeOf(job).by === 'head'
    ? block('G1', ...allWords(job, place))
    : block('G0', ...byRole(job, place).up);
}

/** The first infeed after an index writes out every axis and the feed. */
export function firstInfeed(job: Job, positions: Positions, w: number): Line {
  return block(
    'G1',
    ...allWords(job, { u: positions.clear, v: 0, w }),
    feedWord(job.machine, job.grinding.strokeSpeed),
  );
}

/** From one place to the next, an axis a block. */
export const axisByAxis = (
  job: Job,
  from: WheelPoint,
  to: WheelPoint,
  by: (word: string) => Line,
): readonly Line[] => changedWords(job, from, to).map(by);

/** A feed move from one place to the next, naming the axes that change, and its feed unless it is the one said last. */
export function feedTo(
  job: Job,
  from: WheelPoint,
  to: WheelPoint,
  feed: MmPerMin | 'as said',
): readonly Line[] {
  const changed = changedWords(job, from, to);
  const fed = feed === 'as said' ? [] : [feedWord(job.machine, feed)];
  return changed.length === 0 ? [] : [block('G1', ...changed, ...fed)];
}
