/**
 * The dry run as compact data for the page's player: whole micrometres and thousandths of a degree, one short list
 * a step. The player only draws; what the stock has become comes from the checker.
 */
import type { Playback, PlayStep } from '../check/playback.js';
import type { Job } from '../job/job.js';
import { degFromRad, withinTurnDeg } from '../quantity/angle.js';
import { trimmed } from '../quantity/decimal.js';
import { sayIn } from '../quantity/say.js';
import { mm } from '../quantity/unit.js';
import { blankFlats, blankSupport, circumradius } from '../section/blank.js';
import { corners } from '../section/polygon.js';
import type { SheetProgram } from './index-table.js';

/** A finding as a person reads it, and where it stands. */
export interface Pin {
  readonly program: string;
  /** Line from 1; 0 for the program as a whole. */
  readonly line: number;
  readonly severity: 'error' | 'warning';
  readonly sentence: string;
}

/** [program, line, kind, u, w, index, floors...]; u and w empty where unknown, floors as reach and height. */
type StepRow = readonly (number | null)[];

const KINDS: readonly PlayStep['kind'][] = ['rapid', 'feed', 'turn', 'stop', 'wheel', 'wait', 'end'];

const micro = (length: number): number => Math.round(length * 1000);

/** @returns what the player draws: lengths of steps in micrometres, the rest in mm and radians. */
export function playData(
  playback: Playback,
  programs: readonly SheetProgram[],
  pins: readonly Pin[],
  job: Job,
): object {
  const say = sayIn(job.units);
  const angles: number[] = [];
  const indexOf = (at: PlayStep['at']): number => {
    const known = angles.findIndex((angle) => Math.abs(angle - at) < 1e-9);
    if (known >= 0) return known;
    angles.push(at);
    return angles.length - 1;
  };
  const steps = playback.steps.map(({ program, line, kind, place, at, wheel, floors }): StepRow => {
    const known = place !== 'unknown';
    return [
      program,
      line,
      KINDS.indexOf(kind) + (wheel === 'running' ? KINDS.length : 0),
      known ? micro(place.u) : null,
      known ? micro(place.w) : null,
      indexOf(at),
      ...(floors === 'as before' ? [] : floors.flatMap(({ reach, w }) => [micro(reach), micro(w)])),
    ];
  });
  const blank = blankFlats(job.blank);
  const flatOf = (at: number): number =>
    job.punch.section.findIndex((flat) => Math.abs(Math.cos(flat.at - at) - 1) < 1e-9) + 1;
  return {
    kinds: KINDS,
    programs: programs.map(({ name, text }) => ({ name, text })),
    indexes: angles.map((at) => ({
      at,
      deg: trimmed(withinTurnDeg(degFromRad(at as PlayStep['at'])), 3),
      flat: flatOf(at),
      support: blankSupport(job.blank, at as PlayStep['at']),
      under: blankSupport(job.blank, (at + Math.PI) as PlayStep['at']),
    })),
    steps,
    pins: pins.map((pin) => ({ ...pin, step: stepOf(playback.steps, programs, pin) })),
    slope: job.punch.relief,
    level: job.holding.slope.by === 'head',
    wheel: { radius: job.wheel.radius, rim: job.wheel.rim, height: job.wheel.height },
    blank: {
      radius: circumradius(job.blank),
      corners: corners(blank).map(({ y, z }) => [y, z]),
      stickOut: job.blank.stickOut,
    },
    nose: job.holding.nose.halfHeight,
    unit: say.unit,
    perMm: job.units === 'inch' ? 1 / 25.4 : 1,
    decimals: job.units === 'inch' ? 4 : 3,
    ordered: job.punch.section.map(({ distance }) => mm(distance)),
    good: playback.report.verdict === 'run',
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
