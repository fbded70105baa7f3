/**
 * Bringing the next flat up, and the stops where hands go in. By hand: retract out of the way, wheel spun dry and
 * stopped, coast-down waited, an INDEX comment that operator and checker both read, a program stop; then everything
 * is said again, a pause, up and across with the wheel at rest, and only then the spindle. A measuring stop and the
 * index after it are one stop. By a rotary axis: at index height in the clear position, freed and clamped where the
 * profile says, the wheel stopped first where the axis may not turn with it.
 */
import type { Setting } from '../job/indexing.js';
import { type Job, layoutOf } from '../job/job.js';
import { isLathe, rotarySign } from '../job/layout.js';
import { groundTouch, type Shown } from '../plan/hands.js';
import type { Plan } from '../plan/plan.js';
import type { Positions } from '../plan/position.js';
import { isMeasuring, type Step, type StopStep } from '../plan/step.js';
import { BEFORE_MOVING, restsUntilIndexed } from '../plan/wait.js';
import { degFromRad } from '../quantity/angle.js';
import { trimmed } from '../quantity/decimal.js';
import { toMm } from '../quantity/length.js';
import { mm } from '../quantity/unit.js';
import { measuredTo } from '../section/polygon.js';
import { distanceFromHeight } from '../wheel/frame.js';
import { BEFORE_RESTART, HANDS_IN, SWITCH_ON } from './caution.js';
import { block, comment, type Line, TIED } from './comment.js';
import { angleText, feelerText, lengthText } from './header.js';
import {
  goClear,
  goToHands,
  goToIndex,
  modes,
  startWheel,
  stopWheel,
  switchOff,
  turnAxis,
} from './motion.js';
import { dwellWords } from './word.js';

export type IndexStep = Extract<Step, { readonly kind: 'index' }>;

/** Whether the wheel has run in this program before a step. */
export type WheelBefore = 'running' | 'at rest';

/** `INDEX TO 60 DEG - FLAT 2 OF 6`, and on its own line what the hand does. */
export function indexComments(job: Job, { flat, setting }: IndexStep): readonly Line[] {
  const index = `INDEX TO ${angleText(flat.at)} DEG - FLAT ${flat.number} OF ${job.punch.section.length}`;
  const how = settingText(setting, job);
  return [comment(index), ...(how === '' ? [] : [comment(how)])];
}

function settingText(setting: Setting, { machine }: Job): string {
  switch (setting.kind) {
    case 'axis':
      return '';
    case 'block side':
      return `SET: BLOCK SIDE ${setting.side} ${isLathe(machine.layout) ? 'TO THE WHEEL' : 'UP'}`;
    case 'degrees':
      return `SET: SPIN INDEXER AT ${angleText(setting.angle)} DEG`;
    case 'tooth':
      return `SET: TOOTH ${setting.tooth} AT THE DETENT`;
    case 'crank':
      return setting.turns === 0 && setting.holes === 0
        ? 'SET: CRANK STAYS'
        : `SET: CRANK ${setting.turns} TURNS + ${setting.holes} HOLES ON THE ${setting.circle} CIRCLE, FORWARD`;
  }
}

const stop = (...comments: readonly Line[]): readonly Line[] => [...comments, block('M0')];

/** Stop with the wheel at rest and out of the way, words for the operator, and the restart. */
function handStop(
  plan: Plan,
  comments: readonly Line[],
  before: WheelBefore,
  after: WheelBefore = 'running',
): readonly Line[] {
  const { job, positions } = plan;
  return [
    ...goToHands(job, positions),
    ...(before === 'running' ? [...stopWheel(job, 'a stop'), ...switchOff(job)] : []),
    ...stop(comment(HANDS_IN), ...comments, ...BEFORE_RESTART.map(comment)),
    ...restart(plan, after),
  ];
}

/** Everything said again, a pause, the wheel up and past the tip at rest, then started and brought to index height. */
function restart({ job, positions }: Plan, after: WheelBefore): readonly Line[] {
  return [
    ...modes(job),
    block(...dwellWords(job.machine, BEFORE_MOVING)),
    ...goClear(job, positions),
    ...(after === 'at rest' ? [] : startUp(job, positions)),
  ];
}

/** From the clear position with the wheel at rest: it starts, and comes down to index height. */
export const startUp = (job: Job, positions: Positions): readonly Line[] => [
  ...switchOn(job, positions),
  ...startWheel(job),
  ...goToIndex(job, positions),
];

/**
 * Where the spindle has its own switch the program waits for it, with the wheel out of the way; after any stop a
 * control may have forgotten where it stands, so it goes there again.
 */
export const switchOn = (job: Job, positions: Positions): readonly Line[] =>
  job.machine.spindle.switched === 'by hand'
    ? [...stop(comment(SWITCH_ON)), ...modes(job), ...goClear(job, positions)]
    : [];

/** A program stop at which a hand turns the punch to `step`, after what else is done there. */
export const indexByHand = (
  plan: Plan,
  step: IndexStep,
  before: WheelBefore,
  first: readonly Line[] = [],
): readonly Line[] => handStop(plan, [...first, ...indexComments(plan.job, step)], before);

/** The wheel is at index height in the clear position; it runs afterwards. */
export function indexByAxis({ job }: Plan, step: IndexStep, before: WheelBefore): readonly Line[] {
  const { flat, by } = step;
  const stops = job.machine.rotary?.mayTurnWithSpindle === false && before === 'running';
  return [
    ...(stops ? stopWheel(job, 'a stop') : []),
    ...indexComments(job, step),
    ...turnAxis(job, by === 'direct' ? [flat.at] : [by, flat.at]),
    ...(stops || before === 'at rest' ? startWheel(job) : []),
  ];
}

/** What a flat is measured against. */
function acrossTo({ punch }: Job, flat: number): string {
  const facing = measuredTo(punch.section, flat - 1);
  return typeof facing === 'number' ? 'ACROSS' : `TO THE ${facing.toUpperCase()} OPPOSITE`;
}

/** What to do at a stop; the flat that is up is named, since a touch is made on it. */
export const stopComments = (plan: Plan, up: IndexStep, stop: StopStep): readonly Line[] => [
  ...(stop.dresses ? dressingComments(plan, up, stop) : []),
  ...(isMeasuring(stop) ? measuringComments(plan, up, stop) : []),
  comment('IN A RUN IN THE AIR: TYPE NOTHING HERE'),
];

/** Dressing takes of the rim nobody knows how much: where nothing is measured the flat that is up gives the height back. */
function dressingComments({ job, touchOff }: Plan, up: IndexStep, stop: StopStep): readonly Line[] {
  const touch = groundTouch(job, touchOff, {
    at: up.flat.at,
    distance: distanceFromHeight(stop.stands, job.punch.relief),
  });
  const word = ({ axis, reads }: Shown): string => `${axis.toUpperCase()}${TIED}${lengthText(job)(reads)}`;
  return [
    comment('DRESSING STOP: GUARD ON, EYES PROTECTED, DRESS THE RUNNING WHEEL CLEAR OF THE PUNCH'),
    comment('THEN SWITCH IT OFF AND LET IT COAST DOWN BEFORE A HAND GOES IN'),
    ...(stop.measures.length > 0
      ? []
      : [
          comment(upNow(job, up)),
          comment(
            `SET THE RIM ANEW: TOUCH THAT FLAT AT ${word(touch.stand)}, WHEEL AT REST, TYPE ${word(touch.type)} ${feelerText(touch.type.perFeeler)}`,
          ),
          comment(
            stop.across === 'none'
              ? 'NOTHING READS ACROSS IT YET: ITS WEAR IS AS PREDICTED, READ IT LATER'
              : `IT SHOULD READ ${lengthText(job)(stop.across)} ACROSS: ${moreText(job, (touch.type.perFeeler * Math.cos(job.punch.relief)) / 2)}`,
          ),
        ]),
  ];
}

/** `UP NOW: FLAT 4 AT A180`. */
function upNow(job: Job, { flat }: IndexStep): string {
  const { rotary } = job.machine;
  const sign = rotarySign(layoutOf(job), rotary?.sense ?? 'standard');
  const place =
    job.holding.index === 'rotary axis' && rotary !== undefined
      ? ` AT ${rotary.axis}${trimmed(sign * degFromRad(flat.at), 3)}`
      : '';
  return `UP NOW: FLAT ${flat.number}${place}`;
}

/** ` FLATS 1 AND 4`; nothing where it is all of them. */
const roughedText = (job: Job, measures: readonly number[]): string =>
  measures.length === job.punch.section.length ? '' : ` FLATS ${measures.join(' AND ')}`;

/** `PLUS 0.005 MM FOR EACH 0.010 MM IT READS MORE, AS MUCH LESS FOR LESS`. */
function moreText(job: Job, perReading: number): string {
  const step = toMm(job.machine.units === 'inch' ? 0.001 : 0.01, job.machine.units);
  const length = lengthText(job);
  const more = mm(Math.abs(perReading) * step);
  return `${perReading < 0 ? 'LESS' : 'PLUS'} ${length(more)} FOR EACH ${length(step)} IT READS MORE, AS MUCH THE OTHER WAY FOR LESS`;
}

/** The number to type, all of it, and where the flat that is up is too small already. */
function setComments({ job, hands, readings }: Plan, up: IndexStep): readonly Line[] {
  const length = lengthText(job);
  const touch = hands.find(
    (step) =>
      step.kind === 'touch a ground flat' && step.ground === 'roughed' && step.flats.includes(up.flat.number),
  );
  const finished = readings.find(({ flat }) => flat === up.flat.number);
  if (touch?.kind !== 'touch a ground flat' || finished === undefined)
    return [comment('SET THE RIM ANEW BY THE SHEET: TOUCH THE FLAT THAT IS UP')];
  const { axis, reads, perFeeler } = touch.type;
  return [
    comment(
      `SET THE RIM ANEW: TOUCH THE FLAT THAT IS UP, TYPE ${axis.toUpperCase()}${TIED}${length(reads)} ${feelerText(perFeeler)},`,
    ),
    comment(moreText(job, touch.perReading)),
    comment(`READS UNDER ${length(finished.finished)}: STOP, IT IS TOO SMALL FOR WHAT IS LEFT`),
  ];
}

function measuringComments(plan: Plan, up: IndexStep, { measures }: StopStep): readonly Line[] {
  const { job, readings } = plan;
  const length = lengthText(job);
  return [
    comment(
      `MEASURING STOP AFTER ROUGHING${roughedText(job, measures)}: DO NOT MOVE THE PUNCH IN ITS HOLDING`,
    ),
    comment(upNow(job, up)),
    ...readings
      .filter(({ flat }) => measures.includes(flat))
      .map(({ flat, roughed }) =>
        comment(
          `MEASURE: FLAT ${flat} AT THE FRONT FACE SHOULD READ ${length(roughed)} ${acrossTo(job, flat)}`,
        ),
      ),
    ...setComments(plan, up),
    comment(`TYPE ONLY IN THE WORK OFFSET, FOR THE ${isLathe(job.machine.layout) ? 'INFEED' : 'HEIGHT'}`),
  ];
}

/**
 * A stop of a job whose rotary axis brings the flats up. Where the axis turns only with the wheel at rest the
 * wheel stays so: started for nothing it is one start more to stand clear of.
 */
export const stopByAxis = (plan: Plan, up: IndexStep, step: StopStep): readonly Line[] =>
  handStop(
    plan,
    stopComments(plan, up, step),
    'running',
    restsUntilIndexed(plan.job) ? 'at rest' : 'running',
  );
