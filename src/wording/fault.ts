/** What is wrong with a job by itself, as sentences; planner and checker say the same. */
import { FAULT_KEYS, type JobFault, type JobFaultCode } from '../job/fault.js';
import { trimmed } from '../quantity/decimal.js';
import type { Say } from '../quantity/say.js';

type Wording = {
  readonly [Code in JobFaultCode]: (fault: Extract<JobFault, { readonly code: Code }>, say: Say) => string;
};

/** So many numbers are worth naming. */
const MOST_NAMED = 8;

export const list = (numbers: readonly number[]): string => numbers.slice(0, MOST_NAMED).join(', ');

const wording: Wording = {
  'relief-below-tilt': (f, say) =>
    `relief ${say.angle(f.relief)} is not more than the head tilt of ${say.angle(f.headTilt)}, the punch would rub; ${say.angle(f.wouldDo)} or more clears`,
  'wheel-over-rating': (f, say) =>
    `${say.speed(f.speed)} is more than the ${say.speed(f.rated)} marked on the wheel, it may burst; ${say.speed(f.rated)} or less`,
  'spindle-cannot': (f, say) =>
    `${say.speed(f.speed)} is outside what the spindle runs, ${trimmed(f.min, 0)} to ${say.speed(f.max)}; choose a speed within`,
  'stroke-over-feed': (f, say) =>
    `${say.feed(f.speed)} is more than the machine feeds; ${say.feed(f.max)} or less`,
  'axis-needs-switch': (f) =>
    `${f.axis} may not turn while the wheel runs, and no program stops a spindle that is switched by hand; index by hand, or say spindle.switched: by program`,
  'return-over-feed': (f, say) =>
    `${say.feed(f.speed)} is more than the machine feeds; ${say.feed(f.max)} or less`,
  'block-cannot-index': (f, say) =>
    `a block of ${f.sides} sides cannot stand flat ${f.flat} at ${say.angle(f.at)}; ${f.wouldDo.length === 0 ? 'no block can: index with a rotary axis or a dividing head' : `a block of ${list(f.wouldDo)} sides can`}`,
  'gear-cannot-index': (f, say) =>
    `a gear of ${f.teeth} teeth cannot stand flat ${f.flat} at ${say.angle(f.at)}; ${f.wouldDo.length === 0 ? 'none up to 127 can: use a dividing head' : `one of ${list(f.wouldDo)} teeth can`}`,
  'indexer-cannot-step': (f, say) =>
    `flat ${f.flat} at ${say.angle(f.at)} is no whole number of steps of ${say.angle(f.step)}; use a dividing head or a rotary axis`,
  'plate-cannot-step': (f) =>
    `flat ${f.flat} needs ${trimmed(f.turns, 4)} crank turns, which no circle given has; ${f.wouldDo.length === 0 ? 'none up to 66 holes has: use a rotary axis' : `a circle of ${list(f.wouldDo)} holes has`}`,
  'infeed-too-heavy': (f, say) =>
    `an infeed of ${say.length(f.infeed)} would burn the punch or burst the wheel; ${say.length(f.most)} is already many times what a cup wheel takes`,
};

export const isFault = (finding: { readonly code: string }): finding is JobFault =>
  Object.hasOwn(FAULT_KEYS, finding.code);

export const FAULT_CODES = Object.keys(wording) as readonly JobFaultCode[];

/** The sentence of a fault: what is wrong and what would do. */
export const faultSentence = <Code extends JobFaultCode>(
  fault: Extract<JobFault, { readonly code: Code }>,
  say: Say,
): string => (wording[fault.code] as Wording[Code])(fault, say);
