/**
 * The dry run as compact data for the page's player: whole micrometres and thousandths of a degree, one short list
 * a step. The player only draws; what the stock has become comes from the checker.
 */
import type { Playback, PlayStep } from '../check/playback.js';
import type { Job } from '../job/job.js';
import { standingAt } from '../job/standing.js';
import { type PlayData, STEP_KINDS, type StepRow } from '../player/data.js';
import { degFromRad, withinTurnDeg } from '../quantity/angle.js';
import { trimmed } from '../quantity/decimal.js';
import { fromMm } from '../quantity/length.js';
import { sayIn } from '../quantity/say.js';
import { SAME_INDEX } from '../quantity/tolerance.js';
import { mm, type Rad } from '../quantity/unit.js';
import { between } from '../section/flat.js';
import type { SheetProgram } from './parts/index-table.js';

/** A finding as a person reads it, and where it stands. */
export interface Pin {
  readonly program: string;
  /** Line from 1; 0 for the program as a whole. */
  readonly line: number;
  readonly severity: 'error' | 'warning';
  readonly sentence: string;
}

const micro = (length: number): number => Math.round(length * 1000);

/** @returns what the player draws: lengths of steps in micrometres, the rest in mm and radians. */
export function playData(
  playback: Playback,
  programs: readonly SheetProgram[],
  pins: readonly Pin[],
  job: Job,
): PlayData {
  const say = sayIn(job.units);
  const angles: Rad[] = [];
  const indexOf = (at: Rad): number => {
    const known = angles.findIndex((angle) => between(angle, at) <= SAME_INDEX);
    if (known >= 0) return known;
    angles.push(at);
    return angles.length - 1;
  };
  // Flats that stand before the first block are there to be seen.
  for (const { at } of job.standing) indexOf(at);
  const steps = playback.steps.map(({ program, line, kind, place, at, wheel, clock, floors }): StepRow => {
    const known = place !== 'unknown';
    return [
      program,
      line,
      STEP_KINDS.indexOf(kind) + (wheel === 'running' ? STEP_KINDS.length : 0),
      known ? micro(place.u) : null,
      known ? micro(place.w) : null,
      indexOf(at),
      Math.round(clock),
      ...(floors === 'as before' ? [] : floors.flatMap(({ reach, w }) => [micro(reach), micro(w)])),
    ];
  });
  const flatOf = (at: Rad): number =>
    job.punch.section.findIndex((flat) => between(flat.at, at) <= SAME_INDEX) + 1;
  const standingFloors = (at: Rad): readonly number[] => {
    const flat = standingAt(job, at);
    return flat === 'none' ? [] : flat.floors.flatMap(({ reach, w }) => [micro(reach), micro(w)]);
  };
  return {
    programs: programs.map(({ name, text }) => ({ name, text })),
    indexes: angles.map((at) => ({
      at,
      deg: trimmed(withinTurnDeg(degFromRad(at)), 3),
      flat: flatOf(at),
      floors: standingFloors(at),
    })),
    steps,
    pins: pins.map((pin) => ({ ...pin, step: stepOf(playback.steps, programs, pin) })),
    slope: job.punch.relief,
    level: job.holding.slope.by === 'head',
    wheel: {
      radius: job.wheel.radius,
      rim: job.wheel.rim,
      height: job.wheel.height,
      periphery: job.wheel.periphery,
    },
    blank: { shape: job.blank.shape, size: job.blank.size, turned: job.blank.turned },
    stickOut: job.blank.stickOut,
    nose: job.holding.nose.halfHeight,
    unit: say.unit,
    perMm: fromMm(mm(1), job.units),
    decimals: job.units === 'inch' ? 4 : 3,
    ordered: job.punch.section.map(({ distance }) => distance),
  };
}

/** The step at which a finding shows: the last that stands at its line or before it. */
function stepOf(steps: readonly PlayStep[], programs: readonly SheetProgram[], pin: Pin): number {
  const program = programs.findIndex(({ name }) => name === pin.program);
  if (pin.line === 0 || program < 0) return steps.length - 1;
  const last = steps.findLastIndex(
    (step) => step.program < program || (step.program === program && step.line <= pin.line),
  );
  return Math.max(0, last);
}
