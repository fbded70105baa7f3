/**
 * Bringing the next flat up. By hand: retract, spindle stopped, coast-down waited, an INDEX comment that
 * operator and checker both read, a program stop; then everything is said again, the spin-up waited.
 * By a rotary axis: at index height in the clear position, freed and clamped where the profile says,
 * the wheel stopped first where the axis may not turn with it.
 */

import type { Setting } from '../job/indexing.js';
import type { Job } from '../job/job.js';
import type { Plan } from '../plan/plan.js';
import type { Step } from '../plan/step.js';
import type { Rad } from '../quantity/unit.js';
import { BEFORE_RESTART, HANDS_IN } from './caution.js';
import { block, comment, type Line } from './comment.js';
import { angleText, lengthText } from './header.js';
import { goClear, modes, startWheel, stopWheel } from './motion.js';
import { rotaryWord } from './word.js';

export type IndexStep = Extract<Step, { readonly kind: 'index' }>;

/** `INDEX TO 60 DEG - FLAT 2 OF 6`, and on its own line what the hand does. */
export function indexComments(job: Job, { flat, setting }: IndexStep): readonly Line[] {
  const index = `INDEX TO ${angleText(flat.at)} DEG - FLAT ${flat.number} OF ${job.punch.section.length}`;
  const how = settingText(setting);
  return [comment(index), ...(how === '' ? [] : [comment(how)])];
}

function settingText(setting: Setting): string {
  switch (setting.kind) {
    case 'axis':
      return '';
    case 'block side':
      return `SET: BLOCK SIDE ${setting.side} UP`;
    case 'degrees':
      return `SET: SPIN INDEXER AT ${angleText(setting.angle)} DEG`;
    case 'crank':
      return setting.turns === 0 && setting.holes === 0
        ? 'SET: CRANK STAYS'
        : `SET: CRANK ${setting.turns} TURNS + ${setting.holes} HOLES ON THE ${setting.circle} CIRCLE, FORWARD`;
  }
}

/** Stop with the wheel at rest, a comment for the operator, and the restart. */
function handStop(plan: Plan, comments: readonly Line[]): readonly Line[] {
  const { job, positions } = plan;
  return [
    ...stopWheel(job),
    ...comments,
    comment(HANDS_IN),
    comment(BEFORE_RESTART),
    block('M0'),
    ...modes(job),
    ...startWheel(job),
    ...goClear(job, positions),
  ];
}

/** A program stop at which a hand turns the punch to `step`. */
export const indexByHand = (plan: Plan, step: IndexStep): readonly Line[] =>
  handStop(plan, indexComments(plan.job, step));

/** The wheel is at index height in the clear position; it runs afterwards. */
export function indexByAxis({ job }: Plan, step: IndexStep, wheel: 'running' | 'at rest'): readonly Line[] {
  const { flat, by } = step;
  const { clamp, unclamp, mayTurnWithSpindle } = job.machine.rotary ?? {};
  const turnTo = (angle: Rad): Line => block('G0', rotaryWord(job, angle));
  // At the start too: whether the wheel stands still is then not known.
  const stops = mayTurnWithSpindle === false;
  return [
    ...(stops ? stopWheel(job) : []),
    ...indexComments(job, step),
    ...(unclamp === undefined ? [] : [block(unclamp)]),
    ...(by === 'direct' ? [] : [turnTo(by)]),
    turnTo(flat.at),
    ...(clamp === undefined ? [] : [block(clamp)]),
    ...(stops || wheel === 'at rest' ? startWheel(job) : []),
  ];
}

/** Stop to measure before finishing: what the micrometer should read now. */
export function measuringStop(plan: Plan): readonly Line[] {
  const length = lengthText(plan.job);
  const readings = plan.readings.map(({ flat, roughed }) =>
    comment(`MEASURE: FLAT ${flat} AT THE FRONT FACE SHOULD READ ${length(roughed)} ACROSS`),
  );
  return handStop(plan, [
    comment('MEASURING STOP AFTER ROUGHING: DO NOT MOVE THE PUNCH IN ITS HOLDING'),
    ...readings,
    comment('MEASURE: TOO LARGE MEANS A WORN RIM, SET IT ANEW BY THE SHEET'),
  ]);
}
