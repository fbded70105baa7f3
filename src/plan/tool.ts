/**
 * The punch as a tool, from its seat in the head to its face. A tip that stands d beside the point where the tilted axis
 * crosses the spindle runs on a circle and cuts 2 d sin(tilt) larger; its weakest place is the end of the flats toward the
 * shank, where A carries CARRIES A for certain. Source: geometry of the head; strength as plan/size.
 */
import type { Job, Punch } from '../job/job.js';
import type { Socket } from '../job/socket.js';
import { toMm } from '../quantity/length.js';
import { type LengthUnit, type Mm, mm, type Newton } from '../quantity/unit.js';
import { circumradius } from '../section/blank.js';
import { regularStrength, shareOutsideHole } from '../section/strength.js';
import { pressingForce, WORKS, type WorkName } from './press.js';
import { RegrindError, type RegrindLife, regrindLife } from './regrind.js';
import { carries, pilotsOf } from './size.js';

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
  readonly strength:
    | { /** Of the front's area. */ readonly share: number; readonly carries: Newton }
    | 'none';
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
    strength: strengthOf(punch),
    life: lifeOf(job, cut),
  };
}

/** A section whose area is known: regular, with sharp corners. */
const isRegular = ({ sides, corners }: Punch): boolean => sides !== 'free' && corners === 'sharp';

function strengthOf(punch: Punch): Tool['strength'] {
  const radius = punch.section[0]?.distance ?? mm(0);
  const end = mm(radius - punch.flatLength * Math.tan(punch.relief));
  if (punch.sides === 'free' || !isRegular(punch) || end <= 0) return 'none';
  const rear = regularStrength(end, punch.sides);
  return { share: rear.area / regularStrength(radius, punch.sides).area, carries: carries(rear.area) };
}

/** What it broaches: the hole, the feed to start with, and how hard it then presses. */
export interface Broached {
  readonly work: WorkName;
  readonly hole: Mm;
  readonly feed: Mm;
  readonly press: Newton | 'unknown';
}

export function broachedBy({ punch, blank, units }: Job): readonly Broached[] {
  const { sides, section, headTilt } = punch;
  const within = mm(Math.min(...section.map(({ distance }) => distance)));
  const count = sides === 'free' ? section.length : sides;
  const reach = mm(Math.min(within / Math.cos(Math.PI / count), circumradius(blank)));
  return pilotsOf(sides === 'free' ? 0 : sides).map(([work, times]) => {
    const feed = WORKS[work].feed(units);
    const hole = mm(2 * within * times);
    if (!isRegular(punch)) return { work, hole, feed, press: 'unknown' };
    const area = regularStrength(within, count).area * shareOutsideHole(count, times);
    return { work, hole, feed, press: pressingForce(work, area, reach, headTilt, feed) };
  });
}

/** What each face cut leaves; `none` of a section without one size, or one that is worn out as ordered. */
function lifeOf(job: Job, cut: Mm): RegrindLife | 'none' {
  try {
    return regrindLife(job, cut);
  } catch (error) {
    if (error instanceof RegrindError) return 'none';
    throw error;
  }
}
