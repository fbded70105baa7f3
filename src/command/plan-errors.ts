/** The error budget of `flatwright plan --errors`, for a person and for machines. */
import type { BudgetRow } from '../plan/error/budget.js';
import type { Plan } from '../plan/plan.js';
import { type ErrorsFound, errorWords } from '../wording/errors.js';
import { labelled, table } from './screen.js';

export function errorsScreen(plan: Plan, found: ErrorsFound): string {
  const { title, head, rows, facts } = errorWords(plan, found);
  return `${title}\n\n${table(head, rows)}\n${labelled(facts)}\nSpreads are keys under spreads: in the job.\n`;
}

export function errorsJson({ budget, simulated }: ErrorsFound): object {
  const row = ({ size, offset, angle, relief }: Omit<BudgetRow, 'term' | 'spread'>) => ({
    sizeMm: size,
    centreMm: offset,
    angleRad: angle,
    reliefRad: relief,
  });
  return {
    terms: budget.rows.map((each) => ({ term: each.term, spread: each.spread, ...row(each) })),
    total: row(budget.total),
    bias: { sizeMm: budget.bias.size, centreMm: budget.bias.offset },
    dominant: budget.dominant,
    simulated: {
      punches: simulated.punches,
      seed: simulated.seed,
      shareInTolerance: simulated.inTolerance,
      sizeMeanMm: simulated.size.mean,
      sizeDeviationMm: simulated.size.deviation,
      centreWithinMm: simulated.offset,
    },
  };
}
