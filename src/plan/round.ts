/**
 * The rounds of the work: which flats come up one after the other, which passes each gets, and what is measured before.
 * Flat by flat needs the fewest hand indexes; rough first lets wheel wear and heat even out; one pass all round gives
 * each flat the turns of all the others to cool in, which only an axis has the patience for. Common practice, no source.
 */
import type { Job } from '../job/job.js';
import { pairsOf } from '../section/flat.js';
import type { PassKind } from './passes.js';

export interface Round {
  /** Numbers of the flats, in the order they come up. */
  readonly flats: readonly number[];
  readonly kinds: readonly PassKind[];
  /** All passes of a flat before the next comes up, or one pass each, round and round. */
  readonly turn: 'whole' | 'one pass';
  /** Flats to measure before the round, if they were roughed; empty for none. */
  readonly measures: readonly number[];
}

const ROUGH: readonly PassKind[] = ['rough'];
const FINISH: readonly PassKind[] = ['finish', 'spark-out'];
const WHOLE: readonly PassKind[] = [...ROUGH, ...FINISH];

/** The rounds of a job, in order. */
export function roundsOf(job: Job): readonly Round[] {
  const { order, sequence, measuringStop, finishSequence } = job.grinding;
  const round = (flats: readonly number[], kinds: readonly PassKind[], part: Partial<Round> = {}): Round => ({
    flats,
    kinds,
    turn: order === 'one pass all round' ? 'one pass' : 'whole',
    measures: [],
    ...part,
  });
  const inTurn = order === 'flat by flat';
  const finished = finishSequence === 'reversed' ? sequence.toReversed() : sequence;
  const [first = [], ...others] = pairsOf(job.punch.section, sequence);
  switch (measuringStop) {
    case 'none':
      return inTurn ? [round(sequence, WHOLE)] : [round(sequence, ROUGH), round(finished, FINISH)];
    case 'after roughing':
      return [round(sequence, ROUGH), round(finished, FINISH, { measures: sequence })];
    case 'after the first pair':
      return inTurn
        ? [round(first, ROUGH), round(first, FINISH, { measures: first }), round(others.flat(), WHOLE)]
        : [
            round(first, ROUGH),
            round(others.flat(), ROUGH, { measures: first }),
            // Where the first pair is all there is.
            round(finished, FINISH, { measures: first }),
          ];
    case 'after each pair':
      return [first, ...others].flatMap((pair) => [
        round(pair, ROUGH),
        round(pair, FINISH, { measures: pair }),
      ]);
  }
}
