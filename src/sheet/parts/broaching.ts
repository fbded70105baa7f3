/**
 * Part 10: the punch in the broaching head. Pilot, chamfer and depth as plan/size has them for hex and square;
 * advance under AC tan(tilt) (Cutting Tool Engineering, "Turn to form", 2024). Speeds and the rest are common
 * practice, no source.
 */
import { THIN_CLEARANCE } from '../../job/fault.js';
import type { Job } from '../../job/job.js';
import type { Plan } from '../../plan/plan.js';
import { MAY_BREAK, WILL_BREAK } from '../../plan/press.js';
import { CHAMFER_OVER, DEPTH, PILOT_DEPTH, SCREW_HOLE } from '../../plan/size.js';
import { broachedBy } from '../../plan/tool.js';
import { limitSaid, type Say, sayIn } from '../../quantity/say.js';
import { type Mm, mm, type NPerMm2, nPerMm2, type Rad, rad } from '../../quantity/unit.js';
import { circumradius } from '../../section/blank.js';
import { corners, isClosed } from '../../section/polygon.js';
import { type Fact, fact, type Part, part } from '../model.js';

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
      fact(
        'Head tilt',
        `${say.angle(headTilt)}; the flats clear it by ${say.angle(workingClearance)}${kind === 'sharp' ? '' : `, round lands by -${say.angle(headTilt)}`}`,
      ),
      ...screwHole(job.punch.socket, say),
      fact('Lead chamfer', `90 deg included, opening to ${say.length(mm(across + CHAMFER_OVER))}`),
      fact(
        'Depth',
        `up to ${say.length(depth(DEPTH.most))}, ${say.length(depth(DEPTH.hard))} in hard steel, never past the flats; pilot ${PILOT_DEPTH.join(' to ')} times as deep`,
      ),
      fact(
        'Spindle',
        'start at 600 rev/min in steel, up to 1800 in brass; never over what head and machine are marked',
      ),
      fact(
        'Feed',
        `never over ${say.length(limitSaid(mm(across * Math.tan(headTilt)), 'down', job.units))} a revolution`,
      ),
    ],
    tables: [
      {
        head: ['in', 'pilot hole', 'feed to start with', 'presses, mean to most', 'at the end of the flats'],
        rows: broachedBy(job).map(({ work, hole, feed, pressing: { mean, most }, stress, safeHole }) => [
          work,
          say.length(hole),
          `${say.length(feed)} a revolution`,
          `${say.thrust(mean)} to ${say.thrust(most)}`,
          stress === 'unknown' ? '-' : `${say.stress(stress)}${breakWords(stress, safeHole, say)}`,
        ]),
      },
    ],
    notes: [
      `The force is reckoned, within a factor of two; a dull edge or chips packed in the hole press harder. Where the flats end a hardened punch bends to some ${say.stress(nPerMm2(2 * MAY_BREAK))}: marked from half of that, since no more is known. Less feed and shorter flats help too. Eyes protected; chips off only when the spindle stands still.`,
      ...landNotes(kind, headTilt, say),
    ],
  });
}

/** A land without relief stands outside its own cut. */
const landNotes = (corners: 'sharp' | 'as the blank leaves them', tilt: Rad, say: Say): readonly string[] =>
  corners === 'sharp'
    ? []
    : [
        `Round lands have no relief and jam as the head tilts: taper the round back by ${say.angle(rad(tilt + THIN_CLEARANCE))} or more before the flats, over all of the depth.`,
      ];

/** A screw that a key drives needs its flats. */
const screwHole = (socket: Job['punch']['socket'], say: Say): readonly Fact[] =>
  socket === 'none' || socket.of.drive !== 'none'
    ? []
    : [
        fact(
          'For a screw',
          `a hole of ${say.length(mm(SCREW_HOLE * socket.of.least))} at most, or its flats are gone`,
        ),
      ];

/** What a stress means, and the hole that takes it away. */
function breakWords(stress: NPerMm2, safeHole: Mm | 'as it is', say: Say): string {
  if (safeHole === 'as it is') return '';
  return `: ${stress > WILL_BREAK ? 'breaks' : 'may break'}, a hole of ${say.length(safeHole)} does not`;
}
