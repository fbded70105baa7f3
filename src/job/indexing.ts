/**
 * What the hand does to bring a flat up. An indexing block of m sides stands at multiples of 360 / m;
 * a spin indexer at multiples of its step; a gear with a detent at its teeth; a dividing head of ratio r turns its crank r x step / 360,
 * whole turns and holes on a circle of the plate. All angles count from index zero.
 * Source: simple indexing, turns = r / N, as in US Navy NAVEDTRA 14345, "Plain indexing".
 */
import { degFromRad, withinTurnDeg } from '../quantity/angle.js';
import { type Rad, rad } from '../quantity/unit.js';
import type { IndexDevice, Job } from './job.js';

export type Setting =
  | { readonly kind: 'axis' }
  | { readonly kind: 'block side'; readonly side: number }
  | { readonly kind: 'degrees'; readonly angle: Rad }
  /** Teeth of a gear on the spindle: which stands at the detent, and how many on from the flat before. */
  | { readonly kind: 'tooth'; readonly tooth: number; readonly on: number }
  | { readonly kind: 'crank'; readonly turns: number; readonly holes: number; readonly circle: number };

/** A direction within this of a place of the device is that place: far under what a device can hold. */
const SAME_PLACE_DEG = 0.001;

/** True if `angleDeg` is a whole number of `placeDeg`, as near as a device can tell. */
const isPlace = (angleDeg: number, placeDeg: number): boolean =>
  Math.abs(angleDeg - Math.round(angleDeg / placeDeg) * placeDeg) <= SAME_PLACE_DEG;

/** How to get from `from` to `to`, always turning forward; `cannot` if the device has no such place. */
export function settingFor(device: IndexDevice | undefined, from: Rad, to: Rad): Setting | 'cannot' {
  if (device === undefined) return { kind: 'axis' };
  const fromZero = forwardDeg(rad(0), to);
  switch (device.kind) {
    case 'indexing block': {
      const face = 360 / device.sides;
      const side = (Math.round(fromZero / face) % device.sides) + 1;
      return isPlace(fromZero, face) ? { kind: 'block side', side } : 'cannot';
    }
    case 'spin indexer':
      return isPlace(fromZero, degFromRad(device.step)) ? { kind: 'degrees', angle: to } : 'cannot';
    case 'gear': {
      const pitch = 360 / device.teeth;
      if (!isPlace(fromZero, pitch)) return 'cannot';
      const teeth = (deg: number): number => Math.round(deg / pitch) % device.teeth;
      return { kind: 'tooth', tooth: teeth(fromZero), on: teeth(forwardDeg(from, to)) };
    }
    case 'dividing head': {
      return crank(forwardDeg(from, to), device.ratio, device.circles);
    }
  }
}

/** Degrees from one direction forward to the next; a hair less than a turn counts as none. */
const forwardDeg = (from: Rad, to: Rad): number =>
  withinTurnDeg(degFromRad(rad(to - from)) + SAME_PLACE_DEG) - SAME_PLACE_DEG;

/** Whole turns and holes that move the work by `stepDeg`, on the first circle that has them. */
export function crank(stepDeg: number, ratio: number, circles: readonly number[]): Setting | 'cannot' {
  const circle = circles.find((holes) => isPlace(stepDeg, 360 / ratio / holes));
  if (circle === undefined) return 'cannot';
  const holes = Math.round((stepDeg * ratio * circle) / 360);
  return { kind: 'crank', turns: Math.floor(holes / circle), holes: holes % circle, circle };
}

/** A flat the device cannot bring up, with what would. */
export type CannotIndex =
  | {
      readonly code: 'block-cannot-index';
      readonly flat: number;
      readonly at: Rad;
      readonly sides: number;
      readonly wouldDo: readonly number[];
    }
  | {
      readonly code: 'gear-cannot-index';
      readonly flat: number;
      readonly at: Rad;
      readonly teeth: number;
      readonly wouldDo: readonly number[];
    }
  | { readonly code: 'indexer-cannot-step'; readonly flat: number; readonly at: Rad; readonly step: Rad }
  | {
      readonly code: 'plate-cannot-step';
      readonly flat: number;
      readonly turns: number;
      readonly wouldDo: readonly number[];
    };

/** What is wrong with bringing flat `number` up from `from` to `to` with a device that `cannot`. */
export function cannotIndex(device: IndexDevice, job: Job, number: number, from: Rad, to: Rad): CannotIndex {
  const base = { flat: number } as const;
  switch (device.kind) {
    case 'indexing block':
      return { ...base, code: 'block-cannot-index', at: to, sides: device.sides, wouldDo: blocksFor(job) };
    case 'gear':
      return { ...base, code: 'gear-cannot-index', at: to, teeth: device.teeth, wouldDo: gearsFor(job) };
    case 'spin indexer':
      return { ...base, code: 'indexer-cannot-step', at: to, step: device.step };
    case 'dividing head': {
      const stepDeg = forwardDeg(from, to);
      const turns = (device.ratio * stepDeg) / 360;
      return { ...base, code: 'plate-cannot-step', turns, wouldDo: circlesFor(stepDeg, device.ratio) };
    }
  }
}

/** Blocks of 3 to 24 sides on which every flat of the job can stand. */
export const blocksFor = ({ punch }: Job): readonly number[] =>
  Array.from({ length: 22 }, (_, i) => i + 3).filter((sides) =>
    punch.section.every(({ at }) => isPlace(degFromRad(at), 360 / sides)),
  );

/** Teeth from 20 to 127, as change wheels and bull gears have, on which every flat of the job can stand. */
const gearsFor = ({ punch }: Job): readonly number[] =>
  Array.from({ length: 108 }, (_, i) => i + 20).filter((teeth) =>
    punch.section.every(({ at }) => isPlace(degFromRad(at), 360 / teeth)),
  );

/** Circles of the usual plates have 15 to 66 holes. */
const circlesFor = (stepDeg: number, ratio: number): readonly number[] =>
  Array.from({ length: 52 }, (_, i) => i + 15).filter((holes) => isPlace(stepDeg, 360 / ratio / holes));
