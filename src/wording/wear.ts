/** What the rim's wear comes to, said once for plan, sheet and program. */
import type { Plan } from '../plan/plan.js';
import { isMeasuring } from '../plan/step.js';
import { type Say, sayIn } from '../quantity/say.js';
import { type Mm, mm } from '../quantity/unit.js';
import type { Loss } from '../wheel/wear.js';

const span = (least: Mm, most: Mm, say: Say): string =>
  say.length(least) === say.length(most) ? say.length(most) : `${say.length(least)} to ${say.length(most)}`;

/** `0.01 mm to 0.02 mm`, of all flats. */
function ofAll(losses: readonly { readonly loss: Loss }[], say: Say): string {
  const taken = losses.map(({ loss }) => loss.taken);
  return span(mm(Math.min(...taken)), mm(Math.max(...taken)), say);
}

/** One line on how much, one on what becomes of it. */
export function wearWords({ job, wear, steps }: Plan): readonly [loss: string, handled: string] {
  const say = sayIn(job.units);
  const { wear: handled } = job.grinding;
  const loss = `rim lower by ${span(wear.total.least, wear.total.most, say)} in all`;
  if (wear.perFlat.length === 0) return [loss, 'nothing is ground'];
  const left = ofAll(wear.perFlat, say);
  if (steps.some(isMeasuring)) {
    const before = wear.atStop.length === 0 ? '0' : ofAll(wear.atStop, say);
    const rough =
      handled === 'compensate'
        ? `roughing is lowered by ${before} as predicted`
        : `roughed flats stand ${before} high`;
    // Less than is shown is nothing to speak of.
    const after =
      left === say.length(mm(0))
        ? ''
        : handled === 'compensate'
          ? `, what is ground after it is lowered by ${left}`
          : `, what is ground after it stands ${left} high`;
    return [loss, `${rough}; at the stop the rim is set anew${after}`];
  }
  return handled === 'compensate'
    ? [loss, `passes are lowered by ${left} as predicted; nobody measures it on the way`]
    : [
        loss,
        `not taken back: flats stand ${left} high; a measuring stop, or wear: compensate, takes it back`,
      ];
}
