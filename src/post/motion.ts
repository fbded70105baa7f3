/**
 * Blocks that move the wheel and start or stop it. Everything a stop may have lost is said again: modes,
 * speed, spindle, coolant, feed and position. A rapid moves one axis at a time, since controls differ in
 * the path they take; the first one, across to the clear position, is made above everything. With a tilted
 * head a retract moves two axes and is a feed move instead.
 */

import { UNIT_CODES } from '../job/dialect.js';
import { type Job, slopeOf } from '../job/job.js';
import { layouts } from '../job/layout.js';
import type { Positions } from '../plan/position.js';
import { seconds } from '../quantity/unit.js';
import type { WheelPoint } from '../wheel/frame.js';
import { block, type Line } from './comment.js';
import { axisWords, dwellWords, feedWord, speedWord } from './word.js';

const COOLANT = { flood: 'M8', mist: 'M7' } as const;
const TURNS = { clockwise: 'M3', 'counter-clockwise': 'M4' } as const;

const allWords = (job: Job, place: WheelPoint): readonly string[] => Object.values(axisWords(job, place));

/** One modal group a block, without the codes the control does not know. */
export function modes({ machine }: Job): readonly Line[] {
  const { unitsCode, workOffset, leaveOut } = machine.program;
  const units = UNIT_CODES[unitsCode][machine.units];
  const codes = [...layouts[machine.layout].startCodes, units, 'G40', 'G49', 'G80', 'G90', 'G94', workOffset];
  return codes.filter((code) => !leaveOut.some((left) => left === code)).map((code) => block(code));
}

/** Speed, spindle, the wait until it runs, coolant. */
export function startWheel({ machine, grinding }: Job): readonly Line[] {
  return [
    block(speedWord(grinding.spindleSpeed)),
    block(TURNS[machine.spindle.turns]),
    block(...dwellWords(machine, machine.spindle.spinUp)),
    ...(grinding.coolant === 'none' ? [] : [block(COOLANT[grinding.coolant])]),
  ];
}

/** Coolant off, spindle off, and the wait until it stands. */
export function stopWheel({ machine, grinding, holding }: Job): readonly Line[] {
  return [
    ...(grinding.coolant === 'none' ? [] : [block('M9')]),
    block('M5'),
    block(...dwellWords(machine, seconds(machine.spindle.coastDown + holding.handsOff))),
  ];
}

export const indexPlace = ({ clear, indexHeight }: Positions): WheelPoint => ({
  u: clear,
  v: 0,
  w: indexHeight,
});

/** From wherever the wheel stands above the work: across to the clear position, then to index height. */
export function goClear(job: Job, positions: Positions): readonly Line[] {
  const { z, ...level } = axisWords(job, indexPlace(positions));
  return [block('G0', ...Object.values(level)), ...(z === undefined ? [] : [block('G0', z)])];
}

/** Up to index height from the clear position, at the height of the last pass. */
export function retract(job: Job, positions: Positions): Line {
  const place = indexPlace(positions);
  if (slopeOf(job).by === 'head') return block('G1', ...allWords(job, place));
  const { z } = axisWords(job, place);
  return block('G0', ...(z === undefined ? [] : [z]));
}

/** The first infeed after an index writes out every axis and the feed. */
export function firstInfeed(job: Job, positions: Positions, w: number): Line {
  return block(
    'G1',
    ...allWords(job, { u: positions.clear, v: 0, w }),
    feedWord(job.machine, job.grinding.strokeSpeed),
  );
}

/** A feed move from one place to the next, naming the axes that change. */
export function feedTo(job: Job, from: WheelPoint, to: WheelPoint): readonly Line[] {
  const before = axisWords(job, from);
  const changed = Object.entries(axisWords(job, to))
    .filter(([axis, word]) => before[axis as keyof typeof before] !== word)
    .map(([, word]) => word);
  return changed.length === 0 ? [] : [block('G1', ...changed)];
}
