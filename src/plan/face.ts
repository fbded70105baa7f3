/**
 * Grinding a punch's face: the punch stands upright, its tool axis along the infeed axis, work zero the centre of the face
 * as it stands. The rim comes from beside it, goes over with its outer edge until that is past the far side, and back;
 * infeeds lie beside it. Wheel centre from -(Rw + R + c) to -(Rw - R - c), R the circle the blank turns in, c the clearance.
 * Infeeds of a cup on a small face: 0.005 to 0.01 mm, common practice, no source.
 */
import { type Job, lastDigit } from '../job/job.js';
import { isLathe } from '../job/layout.js';
import { type Mm, mm } from '../quantity/unit.js';
import { circumradius } from '../section/blank.js';

export interface FacePlan {
  readonly job: Job;
  readonly cut: Mm;
  /** Heights of the strokes over the face as it stands, spark-out among them. */
  readonly levels: readonly Mm[];
  /** Along the stroke: where the wheel's centre starts and turns. */
  readonly start: Mm;
  readonly end: Mm;
  /** Height at which the wheel is clear of the face. */
  readonly clear: Mm;
  /** Height out of the hands' way. */
  readonly top: Mm;
}

const MOST_INFEED: Mm = mm(0.01);
/** The first stroke so many infeeds over the first spark: the face may not be square. */
const BEGINS = 2;

/** Why a face cannot be ground by a program. */
export class FaceError extends Error {
  override readonly name = 'FaceError';
}

/** @throws FaceError on a lathe, where the punch cannot stand upright under the wheel. */
export function planFace(job: Job, cut: Mm): FacePlan {
  if (isLathe(job.machine.layout))
    throw new FaceError(
      'a lathe holds no punch upright under its wheel; grind the face by hand feed, square to the shank',
    );
  if (job.wheel.shape === 'plain')
    throw new FaceError(
      'the face is ground by the face of a cup; grind it by hand feed, square to the shank',
    );
  const { roughInfeed, sparkOut, clearance, retract } = job.grinding;
  const digit = lastDigit(job);
  const infeed = Math.max(digit, Math.min(MOST_INFEED, roughInfeed / 2));
  const steps = Math.ceil(cut / infeed - 1e-9);
  // Whole digits, the last stroke on the cut itself.
  const level = (k: number): Mm => mm(Math.round(Math.max(-cut, -k * infeed) / digit) * digit);
  const radius = circumradius(job.blank);
  return {
    job,
    cut,
    levels: [
      ...Array.from({ length: steps + BEGINS }, (_, i) => level(i + 1 - BEGINS)),
      ...Array.from({ length: sparkOut }, () => level(steps)),
    ],
    start: mm(-(job.wheel.radius + radius + clearance)),
    end: mm(-(job.wheel.radius - radius - clearance)),
    clear: clearance,
    top: mm(retract + clearance),
  };
}
