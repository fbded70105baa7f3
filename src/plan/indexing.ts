/**
 * What the hand does to bring a flat up. An indexing block of m sides stands at multiples of 360 / m;
 * a spin indexer at multiples of its step; a dividing head of ratio r turns its crank r x step / 360,
 * whole turns and holes on a circle of the plate. All angles count from index zero.
 * Source: simple indexing, turns = r / N, as in US Navy NAVEDTRA 14345, "Plain indexing".
 */
import type { Job } from '../job/job.js';
import { degFromRad, withinTurnDeg } from '../quantity/angle.js';
import { type Rad, rad } from '../quantity/unit.js';
import type { PlanFinding } from './finding.js';

export type Setting =
  | { readonly kind: 'axis' }
  | { readonly kind: 'block side'; readonly side: number }
  | { readonly kind: 'degrees'; readonly angle: Rad }
  | { readonly kind: 'crank'; readonly turns: number; readonly holes: number; readonly circle: number };

type Device = NonNullable<Job['holding']['device']>;

/** An index within this of a whole step is that step: well under what a device can hold. */
const WHOLE_STEP = 1e-6;

const isWhole = (value: number): boolean => Math.abs(value - Math.round(value)) < WHOLE_STEP;

/** How to get from `from` to `to`, always turning forward; `cannot` if the device has no such place. */
export function settingFor(device: Device | undefined, from: Rad, to: Rad): Setting | 'cannot' {
  if (device === undefined) return { kind: 'axis' };
  const fromZero = forwardDeg(rad(0), to);
  switch (device.kind) {
    case 'indexing block': {
      const side = (fromZero / 360) * device.sides;
      return isWhole(side) ? { kind: 'block side', side: (Math.round(side) % device.sides) + 1 } : 'cannot';
    }
    case 'spin indexer':
      return isWhole(fromZero / degFromRad(device.step)) ? { kind: 'degrees', angle: to } : 'cannot';
    case 'dividing head': {
      return crank((device.ratio * forwardDeg(from, to)) / 360, device.circles);
    }
  }
}

/** Degrees from one direction forward to the next; a hair less than a turn counts as none. */
const forwardDeg = (from: Rad, to: Rad): number =>
  withinTurnDeg(degFromRad(rad(to - from)) + WHOLE_STEP) - WHOLE_STEP;

/** Whole turns and holes for a crank movement, on the first circle that has them. */
export function crank(turns: number, circles: readonly number[]): Setting | 'cannot' {
  const circle = circles.find((holes) => isWhole(turns * holes));
  if (circle === undefined) return 'cannot';
  const holes = Math.round(turns * circle);
  return { kind: 'crank', turns: Math.floor(holes / circle), holes: holes % circle, circle };
}

/** The finding for a flat that `device` cannot bring up, with what would. */
export function cannotIndex(device: Device, job: Job, number: number, from: Rad, to: Rad): PlanFinding {
  const at = to;
  const base = { severity: 'error', key: 'holding.device', flat: number } as const;
  switch (device.kind) {
    case 'indexing block':
      return { ...base, code: 'block-cannot-index', at, sides: device.sides, wouldDo: blocksFor(job) };
    case 'spin indexer':
      return { ...base, code: 'indexer-cannot-step', at, step: device.step };
    case 'dividing head': {
      const turns = (device.ratio * forwardDeg(from, to)) / 360;
      return { ...base, code: 'plate-cannot-step', turns, wouldDo: circlesFor(turns) };
    }
  }
}

/** Blocks of 3 to 24 sides on which every flat of the job can stand. */
function blocksFor(job: Job): readonly number[] {
  const all = Array.from({ length: 22 }, (_, i) => i + 3);
  return all.filter((sides) => job.punch.section.every(({ at }) => isWhole((at / (2 * Math.PI)) * sides)));
}

const MOST_HOLES = 66;

const circlesFor = (turns: number): readonly number[] =>
  Array.from({ length: MOST_HOLES - 14 }, (_, i) => i + 15).filter((holes) => isWhole(turns * holes));
