/**
 * What a program says of itself in comments, held against what it is: the job it is headed with, the mark over its text,
 * its place in a set. A program from elsewhere says none of it, which is no fault.
 */
import { MARK_COMMENT, markOf, NO_LINES, withLine } from '../job/fingerprint.js';
import { headIn } from '../job/heads.js';
import type { Job } from '../job/job.js';
import { type FindingBody, NOTHING } from './finding.js';

export interface Said {
  readonly start: () => void;
  /** Takes in a line as it stands, and the comments read from it. */
  readonly line: (text: string, comments: readonly string[]) => readonly FindingBody[];
  /** At the end of a program. */
  readonly close: () => readonly FindingBody[];
  /** At the end of them all. */
  readonly finish: () => readonly FindingBody[];
}

const PLACE_COMMENT = /^PROGRAM (\d+) OF (\d+)\b/;

/** Where nothing has been marked so far down, nothing is. */
const HEAD = 60;

/** Letters and figures only: a control may show and keep the rest as it likes. */
const bare = (text: string): string =>
  text
    .normalize('NFKD')
    .toUpperCase()
    .replace(/[^A-Z0-9]/g, '');

interface Place {
  readonly number: number;
  readonly of: number;
}

/**
 * Watches over the programs of `job`.
 * @param standing whether how its punch stands is known, or believed because a program says so.
 */
export function createSaid(job: Job, standing: 'known' | 'believed'): Said {
  const title = bare(job.title);
  let print = NO_LINES;
  let lines = 0;
  let mark: string | 'none' = 'none';
  let place: Place | 'none' = 'none';
  let before: Place | 'none' = 'none';
  let programs = 0;

  const begun = (comment: string): readonly FindingBody[] => {
    const named = headIn('job', comment);
    const said = named === 'none' ? '' : bare(named);
    // A long title is cut short in the program, and one in other letters leaves little or nothing.
    const same = said === '' || title === '' || title.startsWith(said) || said.startsWith(title);
    return same ? [] : [{ code: 'other-job', said: named }];
  };

  return {
    start: () => {
      [print, lines, mark, place] = [NO_LINES, 0, 'none', 'none'];
      programs += 1;
    },
    line: (text, comments) => {
      const said =
        mark === 'none' && comments.length > 0
          ? comments.flatMap((comment) => MARK_COMMENT.exec(comment)?.[1] ?? [])[0]
          : undefined;
      lines += 1;
      // The line that carries the mark is not in it, and controls drop and add empty ones.
      if (said !== undefined) mark = said;
      else if ((mark !== 'none' || lines <= HEAD) && text.trim() !== '') print = withLine(print, text);
      if (comments.length === 0) return NOTHING;
      return comments.flatMap((comment) => {
        const [, number, of] = PLACE_COMMENT.exec(comment) ?? [];
        if (number !== undefined && place === 'none') place = { number: Number(number), of: Number(of) };
        const goesOn = headIn('reentry', comment);
        if (goesOn !== 'none' && job.standing.length === 0)
          return [{ code: 'standing-unsaid', said: goesOn }];
        if (goesOn !== 'none' && standing === 'believed')
          return [{ code: 'standing-believed', said: goesOn }];
        return begun(comment);
      });
    },
    close: () => {
      const findings: FindingBody[] = [];
      const wanted = before === 'none' ? 1 : before.number + 1;
      const follows =
        place === 'none'
          ? before === 'none'
          : place.number === wanted && (before === 'none' ? programs === 1 : before.of === place.of);
      if (!follows) findings.push({ code: 'set-out-of-order', said: place, wanted });
      if (mark !== 'none' && markOf(print) !== mark) findings.push({ code: 'text-changed', mark });
      before = place;
      return findings;
    },
    finish: () =>
      before !== 'none' && before.number < before.of
        ? [{ code: 'set-incomplete', number: before.number, of: before.of }]
        : [],
  };
}
