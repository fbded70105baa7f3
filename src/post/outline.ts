/**
 * A program that only shows places: the wheel goes, at rest, to each place that lies farthest out, and stops there to be
 * looked at. Nothing is cut; a check in the air says so. Every move starts from over everything, as after any stop.
 */
import { layoutOf } from '../job/job.js';
import type { Plan } from '../plan/plan.js';
import { BEFORE_MOVING } from '../plan/wait.js';
import { mm } from '../quantity/unit.js';
import { circumradius } from '../section/blank.js';
import { tipEdge, type WheelPoint } from '../wheel/frame.js';
import { block, comment, type Line } from './comment.js';
import { header, lengthText } from './header.js';
import { goClear, goToHands, goToIndex, modes } from './motion.js';
import { type Program, programText, refuseBad } from './program.js';
import { axisWords, dwellWords, rotaryWord } from './word.js';

/** A place to look at: how the wheel gets there from index height in the clear position, and what to look for. */
interface Place {
  readonly moves: readonly Line[];
  readonly look: readonly string[];
}

/** Words of one place that differ from another, as a rapid for each axis. */
function rapids(plan: Plan, from: WheelPoint, to: WheelPoint): readonly Line[] {
  const before = axisWords(plan.job, from) as Readonly<Record<string, string>>;
  return Object.entries(axisWords(plan.job, to)).flatMap(([axis, word]) =>
    before[axis] === word ? [] : [block('G0', word)],
  );
}

function placesOf(plan: Plan): readonly Place[] {
  const { job, flats, positions } = plan;
  const { clear, indexHeight } = positions;
  const length = lengthText(job);
  const index: WheelPoint = { u: clear, v: 0, w: indexHeight };
  const lowest = mm(Math.min(...flats.map(({ w }) => w)));
  const farthest = mm(Math.min(...flats.map(({ centreEnd }) => centreEnd)));
  const past = mm(clear - job.wheel.radius - tipEdge(circumradius(job.blank), job.punch.relief));
  const tilted = job.holding.slope.by === 'head';
  const turns = [...new Set(flats.map(({ at }) => at))].toSorted((a, b) => a - b);
  return [
    {
      moves: [],
      look: [`CLEAR OF THE TIP BY ${length(past)}, AT INDEX HEIGHT: THE PUNCH TURNS UNDER THE WHEEL HERE`],
    },
    ...(job.holding.index === 'rotary axis'
      ? [turns[0], turns.at(-1)].flatMap((at) =>
          at === undefined
            ? []
            : [
                {
                  moves: [block('G0', rotaryWord(job, at))],
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
            moves: rapids(plan, index, { ...index, w: lowest }),
            look: [
              'THE LOWEST THE WHEEL COMES, PAST THE TIP: NOTHING OF TABLE, FIXTURE OR CLAMPS UNDER ITS RIM',
            ],
          },
          {
            moves: rapids(plan, index, { ...index, u: farthest }),
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
  const up = layoutOf(job).up.axis;
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
    comment(`PLACE ${i + 1} OF ${places.length}, THEN CYCLE START FOR THE NEXT`),
    ...look.map(comment),
    block('M0'),
  ]);
  const lines = [
    comment('OUTLINE: THE WHEEL STANDS STILL AND SHOWS THE FARTHEST PLACES, NOTHING IS CUT'),
    comment(`KEEP THE SPINDLE OFF AND LOCKED, A HAND ON THE STOP; NO HAND NEAR WHILE ${up} MOVES`),
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
