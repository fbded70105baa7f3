/** Part 1: what is made. Across corners and flat-to-corner as in section/corner. */
import { sectionWords, sizesOf } from '../../job/set-up.js';
import type { Plan } from '../../plan/plan.js';
import { sayIn } from '../../quantity/say.js';
import { standingWords } from '../../wording/standing.js';
import { big, capital, checked, type Fact, fact, type Part, part } from '../model.js';

/** Sizes in the job's units. */
export function madePart({ job, workingClearance, cornerRelief }: Plan): Part {
  const say = sayIn(job.units);
  const { sides, section, flatLength, relief, headTilt, corners, tolerance, socket } = job.punch;
  const sizes: readonly Fact[] =
    sides === 'free'
      ? section.map((flat, i) =>
          fact(`Flat ${i + 1}`, `${say.length(flat.distance)} from the axis at ${say.angle(flat.at)}`),
        )
      : sizesOf(job).map(({ name, size }, i) => (i === 0 ? big : fact)(capital(name), say.length(size)));
  return part('made', 'What is made', {
    picture: 'section',
    facts: [
      fact('Section', sectionWords(job)),
      ...(socket === 'none' ? [] : [fact('For', `${socket.of.name} sockets`)]),
      ...sizes,
      fact('Tolerance', `+${say.length(tolerance.plus)}  -${say.length(tolerance.minus)}`),
      big('Flat length', say.length(flatLength)),
      big('Relief', say.angle(relief)),
      ...(cornerRelief === 'none' ? [] : [fact('At the corners', say.angle(cornerRelief))]),
      fact('Clears the head by', `${say.angle(workingClearance)} at a tilt of ${say.angle(headTilt)}`),
      checked(
        fact('Blank', `${job.blank.shape} ${say.length(job.blank.size)}, ${job.blank.material}`),
        'as measured',
      ),
      ...(job.standing.length === 0 ? [] : [big('Stands already', standingWords(job))]),
    ],
    notes:
      corners === 'sharp'
        ? []
        : [
            'Corners stay as the blank leaves them: round lands, which have no relief and jam unless the round is tapered back first.',
          ],
  });
}
