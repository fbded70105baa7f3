/**
 * The punch as a tool, from its seat in the head to its face. A tip that stands d beside the point where the tilted axis
 * crosses the spindle runs on a circle and cuts 2 d sin(tilt) larger; its weakest place is the end of the flats toward the
 * shank. Source: geometry of the head; pressing and bending as plan/press.
 */
import type { Job } from '../job/job.js';
import type { Socket } from '../job/socket.js';
import { toMm } from '../quantity/length.js';
import { type LengthUnit, type Mm, mm, type NPerMm2 } from '../quantity/unit.js';
import { circumradius } from '../section/blank.js';
import { regularStrength } from '../section/strength.js';
import { bendingAt, MAY_BREAK, type Pressing, pressing, WORKS, type WorkName } from './press.js';
import { RegrindError, type RegrindLife, regrindLife } from './regrind.js';
import { pilotsOf } from './size.js';

/** A wear land of a tenth and a little over; common practice, no source. */
const FACE_CUT = { mm: 0.15, inch: 0.006 } as const;

export const usualCut = (units: LengthUnit): Mm => toMm(FACE_CUT[units], units);

export interface Tool {
  /** From its rear end to its front face, where the head says. */
  readonly length: Mm | 'by the head';
  /** How much larger across flats it cuts for each mm its tip stands off. */
  readonly perMmOff: number;
  /** What the head takes, and the round blank it is made from. */
  readonly shank: Mm | 'by the head';
  /** How far the face may be from square to the shank. */
  readonly square: Mm;
  readonly gauge: Socket | 'none';
  readonly life: RegrindLife | 'none';
}

export function toolOf(job: Job): Tool {
  const { punch, units } = job;
  const cut = usualCut(units);
  return {
    length: punch.overallLength ?? 'by the head',
    perMmOff: 2 * Math.sin(punch.headTilt),
    shank: punch.shank ?? 'by the head',
    square: mm(cut / 10),
    gauge: punch.socket === 'none' ? 'none' : punch.socket.of,
    life: lifeOf(job, cut),
  };
}

/** What it broaches: the hole, the feed to start with, how hard it then presses, and what that does to its end. */
export interface Broached {
  readonly work: WorkName;
  readonly hole: Mm;
  readonly feed: Mm;
  readonly pressing: Pressing;
  /** At the outermost fibre where the flats end; of a regular section alone. */
  readonly stress: NPerMm2 | 'unknown';
  /** Where it may break: the smallest hole with which it does not. */
  readonly safeHole: Mm | 'as it is';
}

export function broachedBy({ punch, blank, units }: Job): readonly Broached[] {
  const { sides, section, headTilt, flatLength, relief, corners } = punch;
  const within = mm(Math.min(...section.map(({ distance }) => distance)));
  const end = mm(within - flatLength * Math.tan(relief));
  const regular = sides !== 'free' && corners === 'sharp' && end > 0;
  const rear = regular ? regularStrength(end, sides) : 'unknown';
  const front = { section, round: circumradius(blank) };
  const reach =
    rear === 'unknown' ? within : mm(Math.min(within / Math.cos(Math.PI / section.length), front.round));
  return pilotsOf(sides === 'free' ? 0 : sides).map(([work, times]) => {
    const feed = WORKS[work].feed(units);
    const through = (radius: Mm): Pressing => pressing(work, front, radius, headTilt, feed);
    const stressOf = (radius: Mm): NPerMm2 | 'unknown' =>
      rear === 'unknown' ? 'unknown' : bendingAt(through(radius), rear);
    const hole = mm(within * times);
    const stress = stressOf(hole);
    return {
      work,
      hole: mm(2 * hole),
      feed,
      pressing: through(hole),
      stress,
      safeHole:
        stress === 'unknown' || stress <= MAY_BREAK
          ? 'as it is'
          : mm(2 * smallestHole(hole, reach, (radius) => Number(stressOf(radius)) <= MAY_BREAK)),
    };
  });
}

/** The smallest radius between two for which something holds that holds at the greater. */
function smallestHole(from: Mm, to: Mm, holds: (radius: Mm) => boolean): Mm {
  let [low, high] = [from, to];
  for (let i = 0; i < HALVINGS; i += 1) {
    const middle = mm((low + high) / 2);
    if (holds(middle)) high = middle;
    else low = middle;
  }
  return high;
}
/** To a micrometre or so. */
const HALVINGS = 12;

/** What each face cut leaves; `none` of a section without one size, or one that is worn out as ordered. */
function lifeOf(job: Job, cut: Mm): RegrindLife | 'none' {
  try {
    return regrindLife(job, cut);
  } catch (error) {
    if (error instanceof RegrindError) return 'none';
    throw error;
  }
}
