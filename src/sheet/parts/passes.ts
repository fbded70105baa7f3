/** Part 7: the passes of each kind, their infeeds and times. */
import type { Plan } from '../../plan/plan.js';
import { trimmed } from '../../quantity/decimal.js';
import { sayIn } from '../../quantity/say.js';
import { seconds } from '../../quantity/unit.js';
import { fact, type Part, part } from '../model.js';

/** Flats that are ground alike share a row. */
export function passesPart(plan: Plan): Part {
  const { job, steps, totals } = plan;
  const say = sayIn(job.units);
  const { grinding } = job;
  const passes = steps.flatMap((step) => (step.kind === 'pass' ? [step] : []));
  const rows = plan.flats.map((flat) => {
    const own = passes.filter((step) => step.flat === flat);
    const count = (kind: string): string => `${own.filter(({ pass }) => pass.kind === kind).length}`;
    const time = totals.perFlat.find(({ flat: number }) => number === flat.number)?.grinding ?? seconds(0);
    return [
      `${flat.number}`,
      say.column(flat.stock),
      count('rough'),
      count('finish'),
      count('spark-out'),
      say.time(time),
    ];
  });
  // Flats that are ground alike share a row.
  const alike = [...new Set(rows.map((row) => row.slice(1).join('|')))].map((key) => {
    const same = rows.filter((row) => row.slice(1).join('|') === key);
    return [same.map(([number]) => number).join(' '), ...(same[0] ?? []).slice(1)];
  });
  const held = grinding.limit.removalRate;
  const far =
    job.units === 'inch'
      ? `${trimmed(totals.strokeLength / 304.8, 0)} ft`
      : `${trimmed(totals.strokeLength / 1000, 1)} m`;
  return part('passes', 'Passes and time', {
    picture: 'passes',
    facts: [
      fact('Order', grinding.order),
      fact(
        'Infeed',
        `rough ${held === undefined ? '' : 'up to '}${say.length(grinding.roughInfeed)}, finish ${say.length(grinding.finishInfeed)} over the last ${say.length(grinding.finishAllowance)}`,
      ),
      ...(held === undefined ? [] : [fact('Held', `${say.removal(held)} a stroke`)]),
      fact(
        'Time',
        `${say.time(totals.running)} running, ${totals.stops === 0 ? 'no stop' : `${totals.stops} ${totals.stops === 1 ? 'stop' : 'stops'} for your hands not counted`}`,
      ),
      fact(
        'In the air',
        `${Math.round(100 * (1 - totals.engagedLength / Math.max(1e-9, totals.strokeLength)))} % of ${far} of strokes`,
      ),
    ],
    tables: [
      {
        head: ['flats', `stock ${say.unit}`, 'rough', 'finish', 'spark-out', 'time each'],
        rows: alike,
      },
    ],
  });
}
