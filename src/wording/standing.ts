/** What stands before the work, in words: plan and sheet say the same. */
import { aimedSection } from '../job/aim.js';
import type { Job } from '../job/job.js';
import { standingSizes } from '../job/standing.js';
import { alike } from '../quantity/alike.js';
import { sayIn } from '../quantity/say.js';
import { type Mm, mm } from '../quantity/unit.js';

/** A flat within this of where passes end is finished. */
const FINISHED: Mm = mm(0.002);

/** `all flats 0.25 mm over`, `flat 1 finished, flats 2 3 4 0.03 mm over`. */
export function standingWords(job: Job): string {
  const say = sayIn(job.units);
  const aimed = standingSizes(job, aimedSection(job));
  const isFinished = (number: number): boolean =>
    Math.abs(aimed.find((each) => each.number === number)?.over ?? 1) <= FINISHED;
  return alike(standingSizes(job, job.punch.section), ({ number, over }) =>
    isFinished(number) ? 'finished' : `${say.length(over)} over`,
  )
    .map(([said, flats]) => {
      const all = flats.length === job.punch.section.length;
      const numbers = flats.map(({ number }) => number).join(' ');
      return `${all ? 'all flats' : `flat${flats.length === 1 ? '' : 's'} ${numbers}`} ${said}`;
    })
    .join(', ');
}
