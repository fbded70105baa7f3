/**
 * The section as it is to be when every flat is roughed, and when every flat is finished. A flat that stands lower than
 * that already stays where it stands; a reading moves only with the flats that are still ground.
 */
import { aimedSection } from '../job/aim.js';
import type { Job } from '../job/job.js';
import { distanceOf, standingAt } from '../job/standing.js';
import { FLAT_WITHIN } from '../quantity/tolerance.js';
import { mm } from '../quantity/unit.js';
import type { Flat, Section } from '../section/flat.js';
import { readingShare } from '../section/outline.js';
import { measuredTo } from '../section/polygon.js';

export type Stage = 'roughed' | 'finished';

/** The section at the front face at the end of a stage. */
export function sectionAt(job: Job, stage: Stage): Section {
  const over = stage === 'roughed' ? job.grinding.finishAllowance / Math.cos(job.punch.relief) : 0;
  return aimedSection(job).map(({ at, distance }) => {
    const stands = standingAt(job, at);
    const to = distance + over;
    return {
      at,
      distance: mm(stands === 'none' ? to : Math.min(to, distanceOf(stands, job.punch.relief))),
    };
  });
}

/** Is this flat of a stage ground, or does it stand as low before the work? */
export function isGround(job: Job, { at, distance }: Flat): boolean {
  const stands = standingAt(job, at);
  return stands === 'none' || distanceOf(stands, job.punch.relief) > distance + FLAT_WITHIN;
}

/** How far the reading across a flat moves for each mm that the flats still to be ground move out; 0 if none is. */
export function shareOf(job: Job, index: number): number {
  const finished = sectionAt(job, 'finished');
  const facing = measuredTo(job.punch.section, index);
  if (typeof facing !== 'number') return readingShare(job.punch.section, job.blank, index);
  return [index, facing].filter((i) => finished[i] !== undefined && isGround(job, finished[i] as Flat))
    .length;
}
