/**
 * Part 10: the punch in the broaching head. Pilot, chamfer and depth as plan/size has them for hex and square;
 * advance under AC tan(tilt) (Cutting Tool Engineering, "Turn to form", 2024). Speeds and the rest are common
 * practice, no source.
 */
import type { Plan } from '../../plan/plan.js';
import { CHAMFER_OVER, DEPTH, PILOT_DEPTH } from '../../plan/size.js';
import { broachedBy } from '../../plan/tool.js';
import { sayIn } from '../../quantity/say.js';
import { type Mm, mm } from '../../quantity/unit.js';
import { circumradius } from '../../section/blank.js';
import { corners, isClosed } from '../../section/polygon.js';
import { fact, type Part, part } from '../model.js';

/** Form depth stays within this share of the flats; common practice, no source. */
const WITHIN_FLATS = 0.9;

/** Facts for the job's own section and head tilt. */
export function headPart({ job, workingClearance }: Plan): Part {
  const say = sayIn(job.units);
  const { section, headTilt, corners: kind } = job.punch;
  const inscribed = mm(2 * Math.min(...section.map(({ distance }) => distance)));
  const across: Mm =
    kind === 'sharp' && isClosed(section)
      ? mm(2 * Math.max(...corners(section).map(({ y, z }) => Math.hypot(y, z))))
      : mm(2 * circumradius(job.blank));
  // The blank behind the flats must not follow into the hole.
  const depth = (times: number): Mm => mm(Math.min(times * inscribed, job.punch.flatLength * WITHIN_FLATS));
  return part('head', 'In the broaching head (common practice)', {
    facts: [
      fact('Head tilt', `${say.angle(headTilt)}; the flanks clear it by ${say.angle(workingClearance)}`),
      fact('Lead chamfer', `90 deg included, opening to ${say.length(mm(across + CHAMFER_OVER))}`),
      fact(
        'Depth',
        `up to ${say.length(depth(DEPTH.most))}, ${say.length(depth(DEPTH.hard))} in hard steel, never past the flats; pilot ${PILOT_DEPTH.join(' to ')} times as deep`,
      ),
      fact(
        'Spindle',
        'start at 600 rev/min in steel, up to 1800 in brass; never over what head and machine are marked',
      ),
      fact('Feed', `never over ${say.length(mm(across * Math.tan(headTilt)))} a revolution`),
    ],
    tables: [
      {
        head: ['in', 'pilot hole', 'feed to start with', 'presses about'],
        rows: broachedBy(job).map(({ work, hole, feed, press }) => [
          work,
          say.length(hole),
          `${say.length(feed)} a revolution`,
          press === 'unknown' ? '-' : say.thrust(press),
        ]),
      },
    ],
    notes: [
      'Chips packed in the hole or a dull edge show as more thrust than that. Eyes protected; chips off only when the spindle stands still.',
    ],
  });
}
