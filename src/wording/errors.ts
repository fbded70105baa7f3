/** What may be off, in words and rows, for terminal and page: each cause with what it does, the whole, what to do. */
import { aimShift } from '../job/aim.js';
import {
  type BudgetRow,
  type Effect,
  type ErrorBudget,
  errorBudget,
  type Term,
} from '../plan/error/budget.js';
import { type Simulated, simulating } from '../plan/error/simulate.js';
import type { Plan } from '../plan/plan.js';
import { degFromRad } from '../quantity/angle.js';
import { fixed, trimmed } from '../quantity/decimal.js';
import type { InSteps } from '../quantity/in-steps.js';
import { type Say, sayIn } from '../quantity/say.js';
import { mm, rad } from '../quantity/unit.js';

/** Enough for the share in tolerance to repeat within half a percent. */
export const USUAL_PUNCHES = 20_000;

export interface ErrorsFound {
  readonly budget: ErrorBudget;
  readonly simulated: Simulated;
}

/** The budget of a plan and so many punches ground in thought. */
export function* findingErrors(plan: Plan, punches: number, seed: number): InSteps<ErrorsFound> {
  const budget = errorBudget(plan);
  return { budget, simulated: yield* simulating(budget, punches, seed) };
}

/** How each spread reads. */
function spreadText(term: Term, spread: number, say: Say): string {
  switch (term) {
    case 'slope':
    case 'index angle':
    case 'backlash':
      return `${arcmin(spread)} arcmin`;
    case 'wear':
      return `${trimmed(100 * spread, 0)} %`;
    case 'warmth':
      return `${trimmed(spread, 1)} K`;
    default:
      return say.length(mm(spread));
  }
}

/** What to do about the term that weighs most; common practice, no source. */
const ADVICE: Record<Term, string> = {
  'touch-off': 'measure across the first pair, then set the rim anew by half of what it is off',
  edge: 'find the edge of the front face with a thinner feeler, or stop to measure after roughing',
  'stop reading': 'read the pair three times and take the mean',
  slope: 'a longer sine bar, or cleaner gauge blocks under it',
  creep: 'stop the fixture against a solid edge so that it cannot slip along its slope',
  eccentricity: 'indicate the shank in the chuck or block; it moves the centre, not the size',
  'block size': 'measure the block across its sides and grind each flat to its own side',
  'index angle': 'a finer device, or indicate one flat after indexing',
  backlash: 'clamp the axis before grinding',
  wear: 'rough first, measure, and set the rim anew before finishing; or measure grindingRatio and compensate',
  warmth: 'let the punch cool to room warmth before the finish passes and before measuring',
  reading: 'a micrometer with a friction thimble, checked against a gauge block of the size',
};

const micro = (length: number): string => fixed(1000 * length, 1);
const arcmin = (angle: number): string => fixed(60 * degFromRad(rad(angle)), 1);

export interface ErrorWords {
  readonly title: string;
  readonly head: readonly string[];
  readonly rows: readonly (readonly string[])[];
  readonly facts: readonly (readonly [label: string, text: string])[];
}

export function errorWords(plan: Plan, { budget, simulated }: ErrorsFound): ErrorWords {
  const { job } = plan;
  const say = sayIn(job.units);
  const line = (
    name: string,
    spread: string,
    of: Omit<BudgetRow, 'term' | 'spread'>,
    pick: (effect: Effect) => number,
  ): string[] => [
    name,
    spread,
    micro(pick(of.size)),
    micro(pick(of.offset)),
    arcmin(pick(of.angle)),
    arcmin(pick(of.relief)),
  ];
  const rss = ({ rss: value }: Effect): number => value;
  const rows = budget.rows
    .filter(({ spread }) => spread > 0)
    .map((row) => line(row.term, spreadText(row.term, row.spread, say), row, rss));
  const { plus, minus } = job.punch.tolerance;
  const middle = (plus - minus) / 2;
  const shift = aimShift(job);
  const known = budget.bias.size;
  return {
    title: `${job.title}: what may be off, plus or minus, 19 times of 20`,
    head: ['', 'spread', 'size um', 'centre um', 'angle arcmin', 'relief arcmin'],
    rows: [
      ...rows,
      line('root of squares', '', budget.total, rss),
      line('worst case', '', budget.total, ({ worst }) => worst),
    ],
    facts: [
      [
        'Known',
        known === 0
          ? 'nothing is off on the mean'
          : `a size comes out ${say.length(mm(Math.abs(known)))} ${known > 0 ? 'large on the mean, for wear' : 'small on the mean, since it is finished warm'}`,
      ],
      [
        'Simulated',
        `${simulated.punches} punches, seed ${simulated.seed}: ${fixed(100 * simulated.inTolerance, 1)} % have every size in tolerance`,
      ],
      [
        '',
        `size ${signed(simulated.size.mean, say)} on the mean, ${say.length(mm(2 * simulated.size.deviation))} either way; centre within ${say.length(simulated.offset)}`,
      ],
      ['Weighs most', `${budget.dominant}: ${ADVICE[budget.dominant]}`],
      ...(Math.abs(middle - 2 * shift) > (plus + minus) / 8
        ? ([
            [
              'Aim',
              `passes aim ${say.length(mm(Math.abs(middle - 2 * shift)))} ${middle < 2 * shift ? 'over' : 'under'} the middle of the tolerance; grinding.aim: middle puts more punches inside`,
            ],
          ] as const)
        : []),
    ],
  };
}

function signed(length: number, say: Say): string {
  const shown = say.length(mm(Math.abs(length)));
  return /^0 /.test(shown) ? shown : `${length < 0 ? '-' : '+'}${shown}`;
}
