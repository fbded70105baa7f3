/** What would save time, in words. */
import type { Change, Saving } from '../plan/savings.js';
import type { Say } from '../quantity/say.js';

type Wording = {
  readonly [Kind in Change['kind']]: (change: Extract<Change, { kind: Kind }>, say: Say) => string;
};

const wording: Wording = {
  'smaller blank': ({ size }, say) => `a blank of ${say.length(size)}`,
  'milled before': ({ over }, say) => `flats milled soft, ${say.length(over)} left (blank.flats)`,
  'shorter flats': ({ length, depth }, say) =>
    `flats ${say.length(length)} long, for sockets to ${say.length(depth)} deep`,
  'faster stroke': ({ speed }, say) => `strokes at ${say.feed(speed)}`,
  'faster return': ({ speed }, say) => `strokes out at ${say.feed(speed)} (returnSpeed)`,
  'equal load': ({ infeed }, say) =>
    `infeeds to ${say.length(infeed)}, held to the metal of today's worst (limit.removalRate)`,
};

/** `a blank of 6.5 mm: 4 min 28 s sooner`. */
export function savingWords({ change, saved }: Saving, say: Say): string {
  const words = wording[change.kind] as (change: Change, say: Say) => string;
  return `${words(change, say)}: ${say.time(saved)} sooner`;
}
