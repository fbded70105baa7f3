/**
 * What a log of runs says of a shop: the grinding ratio its wheel shows, how a touch-off comes out, how warm punches are
 * read. Ratios spread by factors, so their mean is the geometric one; a spread is two standard deviations, as in the job.
 * Source: sample mean and standard deviation, any text on statistics; fewer than three runs tell no spread.
 */
import { type Mm, mm } from '../quantity/unit.js';

/** One run, as the log keeps it. */
export interface Run {
  readonly grindingRatio?: number | undefined;
  /** How much higher than thought the rim ran, mm along the infeed axis. */
  readonly raised?: number | undefined;
  /** Set by a reading before: then `raised` tells nothing of the first touch. */
  readonly stage: 'roughed' | 'finished';
  readonly warm: number;
}

export interface Proposal {
  /** Key of a job, or of a shop file. */
  readonly key: 'wheel.grindingRatio' | 'spreads.touchOff' | 'spreads.temperature';
  readonly value: number;
  readonly from: number;
}

export interface Learnt {
  readonly proposals: readonly Proposal[];
  /** A touch-off that comes out to one side, for certain; `none` where it cannot be told. */
  readonly bias: Mm | 'none';
  readonly runs: number;
}

/** Runs that tell a spread. */
const ENOUGH = 3;

/** Less than this no touch repeats, mm; common practice, no source. */
const FINEST = 0.001;

const mean = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

function deviation(values: readonly number[]): number {
  const middle = mean(values);
  return Math.sqrt(values.reduce((sum, value) => sum + (value - middle) ** 2, 0) / (values.length - 1));
}

/** What `runs` propose; nothing that too few of them tell. */
export function learn(runs: readonly Run[]): Learnt {
  const ratios = runs.flatMap(({ grindingRatio }) => grindingRatio ?? []);
  const raised = runs.flatMap((run) => (run.stage === 'roughed' ? (run.raised ?? []) : []));
  const warm = runs.flatMap((run) => (run.warm > 0 ? [run.warm] : []));
  const spread = raised.length < ENOUGH ? 'none' : Math.max(FINEST, 2 * deviation(raised));
  const bias = raised.length < ENOUGH ? 0 : mean(raised);
  const certain = spread !== 'none' && Math.abs(bias) > spread / Math.sqrt(raised.length);
  return {
    proposals: [
      ...(ratios.length === 0
        ? []
        : [
            {
              key: 'wheel.grindingRatio' as const,
              value: Math.exp(mean(ratios.map(Math.log))),
              from: ratios.length,
            },
          ]),
      ...(spread === 'none'
        ? []
        : [{ key: 'spreads.touchOff' as const, value: spread, from: raised.length }]),
      ...(warm.length === 0
        ? []
        : [{ key: 'spreads.temperature' as const, value: mean(warm), from: warm.length }]),
    ],
    bias: certain ? mm(bias) : 'none',
    runs: runs.length,
  };
}
