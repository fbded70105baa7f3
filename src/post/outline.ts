/**
 * A program that only shows places: the wheel goes, at rest, to each place that lies farthest out, and stops there to be
 * looked at. Nothing is cut; a check in the air says so. Every move starts from over everything, as after any stop.
 */
import { takenBack } from '../job/block.js';
import { headWords } from '../job/heads.js';
import type { Plan } from '../plan/plan.js';
import { passesIn } from '../plan/step.js';
import { BEFORE_MOVING } from '../plan/wait.js';
import { type MmPerMin, mm, mmPerMin } from '../quantity/unit.js';
import { circumradius } from '../section/blank.js';
import { tipEdge, type WheelPoint } from '../wheel/frame.js';
import { block, comment, type Line } from './comment.js';
import { header, lengthText } from './header.js';
import { axisByAxis, goClear, goToHands, goToIndex, modes, turnAxis } from './motion.js';
import { type Program, programText, refuseBad } from './program.js';
import { dwellWords, feedWord, rotaryWord } from './word.js';

/** A place to look at: how the wheel gets there from index height in the clear position, and what to look for. */
interface Place {
  /** Said at the stop before: what moves next. */
  readonly coming: string;
  readonly moves: readonly Line[];
  readonly look: readonly string[];
}

/** Slow enough to stop in time, mm/min; common practice, no source. */
const LOOKING: MmPerMin = mmPerMin(400);

/** From one place to another, an axis at a time, slowly. */
function slowly({ job }: Plan, from: WheelPoint, to: WheelPoint): readonly Line[] {
  const feed = feedWord(job.machine, mmPerMin(Math.min(LOOKING, job.grinding.strokeSpeed)));
  return axisByAxis(job, from, to, (word) => block('G1', word, feed));
}

function placesOf(plan: Plan): readonly Place[] {
  const { job, flats, positions } = plan;
  const { clear, indexHeight } = positions;
  const length = lengthText(job);
  const index: WheelPoint = { u: clear, v: 0, w: indexHeight };
  const passes = passesIn(plan.steps);
  const lowest = mm(Math.min(...passes.map(({ flat, pass }) => pass.w + takenBack(job, flat.at))));
  const farthest = mm(Math.min(...passes.map(({ pass }) => pass.end)));
  const past = mm(clear - job.wheel.radius - tipEdge(circumradius(job.blank), job.punch.relief));
  const tilted = job.holding.slope.by === 'head';
  const turns = [...new Set(flats.map(({ at }) => at))].toSorted((a, b) => a - b);
  return [
    {
      coming: 'UP, AND OVER TO THE CLEAR POSITION',
      moves: [],
      look: [`CLEAR OF THE TIP BY ${length(past)}, AT INDEX HEIGHT: THE PUNCH TURNS UNDER THE WHEEL HERE`],
    },
    ...(job.holding.index === 'rotary axis'
      ? [turns[0], turns.at(-1)].flatMap((at) =>
          at === undefined
            ? []
            : [
                {
                  coming: `THE AXIS TURNS TO ${rotaryWord(job, at)}`,
                  moves: turnAxis(job, [at]),
                  look: ['THE AXIS AT ITS FARTHEST: HOSES AND CABLES FREE, NOTHING TURNS INTO THE WHEEL'],
                },
              ],
        )
      : []),
    // With a tilted head the way down moves both axes at once.
    ...(tilted
      ? []
      : [
          {
            coming: `DOWN SLOWLY TO THE LOWEST HEIGHT, PAST THE TIP`,
            moves: slowly(plan, index, { ...index, w: lowest }),
            look: [
              'THE LOWEST THE WHEEL COMES, PAST THE TIP: NOTHING OF TABLE, FIXTURE OR CLAMPS UNDER ITS RIM',
            ],
          },
          {
            coming: `ALONG SLOWLY TO THE END OF THE STROKE, HIGH OVER THE PUNCH`,
            moves: slowly(plan, index, { ...index, u: farthest }),
            look: [
              'THE END OF THE STROKE, HIGH OVER THE PUNCH: SPINDLE, ARBOR AND GUARD CLEAR OF THE NOSE WHEN THE WHEEL IS DOWN',
            ],
          },
        ]),
  ];
}

/** @throws RangeError if the plan has errors. */
export function postOutline(plan: Plan): Program {
  refuseBad(plan);
  const { job, positions } = plan;
  const places = placesOf(plan);
  const arrive: readonly Line[] = [
    ...modes(job),
    block(...dwellWords(job.machine, BEFORE_MOVING)),
    ...goClear(job, positions),
    ...goToIndex(job, positions),
  ];
  const shown = places.flatMap(({ moves, look }, i) => [
    ...arrive,
    ...moves,
    comment(`PLACE ${i + 1} OF ${places.length}`),
    ...look.map(comment),
    comment(`NEXT, AT CYCLE START: ${places[i + 1]?.coming ?? 'UP, THE END'}; HANDS OUT`),
    block('M0'),
  ]);
  const lines = [
    comment(headWords('outline', 'THE WHEEL STANDS STILL AND SHOWS THE FARTHEST PLACES, NOTHING IS CUT')),
    comment(
      'KEEP THE SPINDLE OFF AND LOCKED, A HAND ON THE STOP; NO HAND NEAR WHILE ANY AXIS MOVES OR TURNS',
    ),
    ...(job.holding.slope.by === 'head'
      ? [comment('LOWEST HEIGHT AND END OF THE STROKE ARE NOT SHOWN WITH A TILTED HEAD: RUN IN THE AIR')]
      : []),
    ...header(plan),
    ...shown,
    ...modes(job),
    block(...dwellWords(job.machine, BEFORE_MOVING)),
    ...goClear(job, positions),
    ...goToHands(job, positions),
    block(job.machine.program.end),
  ];
  return { suffix: '', text: programText(plan, lines, 0) };
}
