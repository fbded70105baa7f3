/** Part 8: the passes of each kind, their infeeds and times. */
import { type Job, layoutOf } from '../../job/job.js';
import { layouts } from '../../job/layout.js';
import type { FlatPlan } from '../../plan/flat.js';
import { PASS_KINDS } from '../../plan/passes.js';
import type { Plan } from '../../plan/plan.js';
import { countPasses } from '../../plan/step.js';
import { alike } from '../../quantity/alike.js';
import { trimmed } from '../../quantity/decimal.js';
import { fromMm } from '../../quantity/length.js';
import { sayIn } from '../../quantity/say.js';
import { ROUNDING } from '../../quantity/tolerance.js';
import { type Mm, mm, type Seconds, seconds } from '../../quantity/unit.js';
import { orderWords } from '../../wording/order.js';
import { fact, type Part, part } from '../model.js';

const ascending = (a: number, b: number): number => a - b;

/** `97`, `95 to 97`. */
function fromTo(sorted: readonly number[], say: (value: number) => string): string {
  const [least, most] = [say(sorted[0] ?? 0), say(sorted.at(-1) ?? 0)];
  return least === most ? least : `${least} to ${most}`;
}

/** ` (-150 becomes -145)`: an offset below nought gets nearer to it, which is easily done the wrong way. */
function exampleOf({ machine }: Job, rise: Mm): string {
  const zero = machine.workZero?.[layouts[machine.layout].up.axis];
  if (zero === undefined) return '';
  return ` (${trimmed(fromMm(zero, machine.units), 3)} to ${trimmed(fromMm(mm(zero + rise), machine.units), 3)})`;
}

/** How far the zero is raised for a run in the air. */
function airWords({ job, positions }: Plan): string {
  const say = sayIn(job.units);
  const { airRise, mostRise } = positions;
  const zero = `${layoutOf(job).up.axis.toUpperCase()} of ${job.machine.program.workOffset}`;
  const run = `RAISE the zero: +${say.length(airRise)} to ${zero}${exampleOf(job, airRise)}; run, type nothing, take it back`;
  if (mostRise === 'unknown') return run;
  return mostRise < airRise - ROUNDING
    ? `the travel ends ${say.length(mostRise)} over its highest place: run with the punch out of its holding instead`
    : mostRise < airRise + ROUNDING
      ? run
      : `${run}; the travel allows ${say.length(mostRise)}`;
}

/** Flats with the same stock share a row. */
export function passesPart(plan: Plan): Part {
  const { job, steps, totals } = plan;
  const say = sayIn(job.units);
  const { grinding } = job;
  const kindsOf = (flat: FlatPlan): readonly number[] =>
    PASS_KINDS.map((kind) => countPasses(steps, flat, kind));
  const timeOf = ({ number }: FlatPlan): Seconds =>
    totals.perFlat.find(({ flat }) => flat === number)?.grinding ?? seconds(0);
  const rows = alike(plan.flats, ({ stock }) => say.column(stock)).map(([stock, flats]) => {
    const counts = flats.map(kindsOf);
    return [
      flats.length === plan.flats.length ? 'all' : flats.map(({ number }) => number).join(' '),
      stock,
      ...PASS_KINDS.map((_, k) => fromTo(counts.map((each) => each[k] ?? 0).toSorted(ascending), String)),
      fromTo(flats.map(timeOf).toSorted(ascending), (time) => say.time(seconds(time))),
    ];
  });
  const held = grinding.limit.removalRate;
  const far =
    job.units === 'inch'
      ? `${trimmed(totals.strokeLength / 304.8, 0)} ft`
      : `${trimmed(totals.strokeLength / 1000, 1)} m`;
  return part('passes', 'Passes and time', {
    picture: 'passes',
    facts: [
      fact('Order', orderWords(job)),
      fact(
        'Infeed',
        `rough ${held === undefined ? '' : 'up to '}${say.length(grinding.roughInfeed)}, finish ${say.length(grinding.finishInfeed)} over the last ${say.length(grinding.finishAllowance)}`,
      ),
      ...(held === undefined ? [] : [fact('Held', `${say.removal(held)} a stroke`)]),
      fact(
        'Time',
        `${say.time(totals.running)} running, ${totals.stops === 0 ? 'no stop' : `${totals.stops} ${totals.stops === 1 ? 'stop' : 'stops'} for your hands not counted`}`,
      ),
      fact('First in the air', airWords(plan)),
      fact(
        'Strokes in the air',
        `${Math.round(100 * (1 - totals.engagedLength / Math.max(1e-9, totals.strokeLength)))} % of ${far} of strokes`,
      ),
    ],
    tables: [
      {
        head: ['flats', `stock ${say.unit}`, ...PASS_KINDS, 'grinding each'],
        rows,
      },
    ],
  });
}
