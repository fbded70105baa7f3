/**
 * Flats that a job says are there already: the whole section milled soft, some of its flats, flats by themselves, or the
 * flats of an old punch, whose face was ground back since. A face cut of c takes c tan t0 off the distance of each flat
 * and c off its length.
 */
import type { Punch } from '../job/job.js';
import { flatStanding, MILLED_LONGER, type Standing } from '../job/standing.js';
import { withinTurn } from '../quantity/angle.js';
import { SAME_INDEX } from '../quantity/tolerance.js';
import { type Mm, mm, type Rad, rad } from '../quantity/unit.js';
import { between } from '../section/flat.js';
import type { FlatFile, JobFile } from './job-schema.js';
import { InputError } from './problem.js';

const KEY = 'blank.flats';

interface Found {
  readonly at: Rad;
  readonly distance: Mm;
  readonly length: Mm;
  readonly own: Rad;
}

/**
 * How the blank stands before the work.
 * @param old the punch of another job file; may throw InputError.
 */
export function readStandingFlats(
  { blank, grinding }: JobFile,
  punch: Punch,
  old: (name: string) => Punch,
  complain: (key: string, message: string) => void,
): Standing {
  const { flats } = blank;
  if (flats === undefined) return [];
  const found =
    'of' in flats
      ? ofOldPunch(flats, old, complain)
      : flatsOf(
          'over' in flats ? punch.section.map((_, i) => ({ ...flats, flat: i + 1 })) : flats,
          punch,
          complain,
        );
  const twin = found.find(({ at }, i) => found.findIndex((other) => between(other.at, at) <= SAME_INDEX) < i);
  if (twin !== undefined) {
    const number = punch.section.findIndex(({ at }) => between(at, twin.at) <= SAME_INDEX) + 1;
    complain(KEY, `names ${number > 0 ? `flat ${number}` : 'a direction'} twice; keep one of them`);
  }
  return found.map(({ length, ...flat }) => flatStanding(flat, length, punch.relief, grinding.startAbove));
}

function flatsOf(
  rows: readonly FlatFile[],
  { section, flatLength, relief }: Punch,
  complain: (key: string, message: string) => void,
): readonly Found[] {
  return rows.flatMap((row) => {
    if ('at' in row)
      return [
        { at: withinTurn(row.at), distance: row.distance, length: row.length, own: row.slope ?? relief },
      ];
    const flat = section[row.flat - 1];
    if (flat === undefined) {
      complain(KEY, `there is no flat ${row.flat}; the section has ${section.length}`);
      return [];
    }
    const length = row.length ?? mm(flatLength + MILLED_LONGER);
    return [{ at: flat.at, distance: mm(flat.distance + row.over), length, own: relief }];
  });
}

function ofOldPunch(
  { of, faceOff, turned }: Extract<JobFile['blank']['flats'], { readonly of: string }>,
  old: (name: string) => Punch,
  complain: (key: string, message: string) => void,
): readonly Found[] {
  try {
    const { section, flatLength, relief } = old(of);
    const length = mm(flatLength - faceOff);
    const distances = section.map(({ distance }) => distance - faceOff * Math.tan(relief));
    if (length <= 0 || distances.some((distance) => distance <= 0)) {
      complain(KEY, `with ${faceOff} mm off its face nothing is left of the flats of ${of}; correct faceOff`);
      return [];
    }
    return section.map(({ at }, i) => ({
      at: withinTurn(rad(at + turned)),
      distance: mm(distances[i] ?? 0),
      length,
      own: relief,
    }));
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    const [first] = error.problems;
    complain(KEY, `${first?.file ?? of}: ${first?.message ?? 'cannot be read'}`);
    return [];
  }
}
