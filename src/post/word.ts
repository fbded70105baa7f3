/**
 * Words of a block. This is the one place where numbers are rounded: lengths to the profile's decimals in
 * the program's units, rotary words in degrees in inch programs too, feeds and speeds downward so that
 * no limit is passed by rounding. Source of the words: ISO 6983-1 (from memory), RS274/NGC v3 (NISTIR 6556).
 */

import { ROTARY_DECIMALS } from '../job/dialect.js';
import { type Job, layoutOf, onMachine } from '../job/job.js';
import { type LinearAxis, rotarySign } from '../job/layout.js';
import type { Machine } from '../job/machine.js';
import { degFromRad, withinTurnDeg } from '../quantity/angle.js';
import { fixed, roundTo } from '../quantity/decimal.js';
import { fromMm } from '../quantity/length.js';
import { type MmPerMin, mm, type Rad, type RevPerMin, type Seconds } from '../quantity/unit.js';
import type { WheelPoint } from '../wheel/frame.js';

/** Below this a fraction is floating-point noise. */
const NOISE = 1e-6;

/** The axes the machine has, in its order. */
const axesOf = ({ machine: { travel } }: Job): readonly LinearAxis[] =>
  (['x', 'y', 'z'] as const).filter((axis) => travel[axis] !== undefined);

/** The axis words of a place. */
export function axisWords(job: Job, place: WheelPoint): Readonly<Partial<Record<LinearAxis, string>>> {
  const at = onMachine(job, place);
  return Object.fromEntries(axesOf(job).map((axis) => [axis, lengthWord(job, axis, at[axis])]));
}

/** The words of a place that differ from another's. */
export function changedWords(job: Job, from: WheelPoint, to: WheelPoint): readonly string[] {
  const [before, after] = [onMachine(job, from), onMachine(job, to)];
  return axesOf(job).flatMap((axis) => {
    if (before[axis] === after[axis]) return [];
    const word = lengthWord(job, axis, after[axis]);
    return word === lengthWord(job, axis, before[axis]) ? [] : [word];
  });
}

/** One axis' word, at a place as programmed. */
export const lengthWord = ({ machine }: Job, axis: LinearAxis, at: number): string =>
  `${axis.toUpperCase()}${written(machine, fromMm(mm(at), machine.units), machine.program.decimals)}`;

/** With its point, or counted in the last digit where the control wants no point. */
const written = ({ program }: Machine, value: number, decimals: number): string =>
  program.bareNumbers === 'last digits'
    ? fixed(roundTo(value, decimals) * 10 ** decimals, 0)
    : fixed(value, decimals);

/** The rotary word that brings up what lies at `angle` of the section. */
export function rotaryWord(job: Job, angle: Rad): string {
  const rotary = job.machine.rotary;
  if (rotary === undefined) throw new Error('no rotary axis to write a word for');
  const sign = rotarySign(layoutOf(job), rotary.sense);
  const turned = roundTo(sign * degFromRad(angle), ROTARY_DECIMALS);
  // On an axis that counts within a turn a sign, or a full turn, means something else.
  const place = rotary.counts === 'on and on' ? turned : withinTurnDeg(turned);
  return `${rotary.axis}${written(job.machine, place, ROTARY_DECIMALS)}`;
}

/** Rounds down to `decimals`: a limit must not be passed by rounding. */
const down = (value: number, decimals: number): string =>
  fixed(Math.floor(value * 10 ** decimals + NOISE) / 10 ** decimals, decimals);

export const feedWord = (machine: Machine, feed: MmPerMin): string =>
  `F${down(fromMm(mm(feed), machine.units), machine.program.bareNumbers === 'last digits' ? 0 : machine.units === 'inch' ? 2 : 1)}`;

export const speedWord = (speed: RevPerMin): string => `S${down(speed, 0)}`;

/** G4 with the profile's word and unit, rounded up: a dwell is a least time. */
export function dwellWords(machine: Machine, time: Seconds): readonly string[] {
  const { dwellWord, dwellUnit } = machine.program;
  const up = (value: number): number => Math.ceil(value - NOISE);
  const value = dwellUnit === 'milliseconds' ? `${up(time * 1000)}` : fixed(up(time * 10) / 10, 1);
  return ['G4', `${dwellWord}${value}`];
}
