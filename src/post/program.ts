/**
 * From a plan to a program's text. One modal state a block, no expression, no subprogram, 7-bit text, no
 * block longer than the profile allows. Source of the words: ISO 6983-1 (from memory), RS274/NGC v3
 * (NISTIR 6556). Refuses a plan that has errors.
 */

import { isPostable, type Plan } from '../plan/plan.js';
import type { PassStep, Step } from '../plan/step.js';
import { strokeBegin, strokeEnd } from '../plan/step.js';
import type { WheelPoint } from '../wheel/frame.js';
import { block, comment, type Line, plainText, wrap } from './comment.js';
import { header } from './header.js';
import { type IndexStep, indexByAxis, indexByHand, indexComments, measuringStop } from './index-step.js';
import { feedTo, firstInfeed, goClear, indexPlace, modes, retract, startWheel, stopWheel } from './motion.js';

export interface Program {
  /** What to add to a file name: empty for the only program, `-2` for the second of a set. */
  readonly suffix: string;
  readonly text: string;
}

export interface PostOptions {
  /** Comments to stand at the very top, such as a warning that the program is unchecked. */
  readonly notes?: readonly string[];
}

/**
 * The program for the whole job.
 * @throws RangeError if the plan has errors.
 */
export function postProgram(plan: Plan, options: PostOptions = {}): Program {
  refuseBad(plan);
  const lines = [
    ...notes(options),
    ...header(plan),
    ...modes(plan.job),
    ...goClear(plan.job, plan.positions),
    ...bodyLines(plan, plan.steps),
    ...ending(plan),
  ];
  return { suffix: '', text: programText(plan, lines, 0) };
}

/**
 * One complete program a flat, for controls that ignore a program stop or do not let the operator move
 * the axes during one. Each opens with its INDEX comment and a start check list.
 * @throws RangeError if the plan has errors or the job is not indexed by hand.
 */
export function postPerFlat(plan: Plan, options: PostOptions = {}): readonly Program[] {
  refuseBad(plan);
  if (plan.job.holding.index !== 'by hand')
    throw new RangeError('one program a flat is for indexing by hand');
  return perIndex(plan.steps).map(({ index, passes, measureFirst }, i) => {
    const lines = [
      ...indexComments(plan.job, index),
      ...notes(options),
      ...(measureFirst ? [comment('MEASURE BEFORE THIS PROGRAM: ROUGHING IS DONE ON EVERY FLAT')] : []),
      ...header(plan, passes.length, i === 0 ? 'first of a set' : 'later of a set'),
      ...modes(plan.job),
      ...goClear(plan.job, plan.positions),
      ...startWheel(plan.job),
      ...passLines(plan, passes),
      ...ending(plan),
    ];
    return { suffix: `-${i + 1}`, text: programText(plan, lines, i) };
  });
}

function refuseBad(plan: Plan): void {
  if (!isPostable(plan)) throw new RangeError('a plan with errors is not posted');
}

const notes = ({ notes: texts = [] }: PostOptions): readonly Line[] =>
  texts.map((text) => comment(plainText(text)));

interface IndexedPasses {
  readonly index: IndexStep;
  readonly passes: readonly PassStep[];
  /** A measuring stop stands before this index. */
  readonly measureFirst: boolean;
}

/** The steps, cut at each index. */
function perIndex(steps: readonly Step[]): readonly IndexedPasses[] {
  return steps.flatMap((index, i) => {
    if (index.kind !== 'index') return [];
    const rest = steps.slice(i + 1);
    const end = rest.findIndex(({ kind }) => kind !== 'pass');
    const passes = (end < 0 ? rest : rest.slice(0, end)).filter((step) => step.kind === 'pass');
    return [{ index, passes, measureFirst: steps[i - 1]?.kind === 'measuring stop' }];
  });
}

function bodyLines(plan: Plan, steps: readonly Step[]): readonly Line[] {
  const byHand = plan.job.holding.index === 'by hand';
  return perIndex(steps).flatMap(({ index, passes, measureFirst }, i) => [
    ...(measureFirst ? measuringStop(plan) : []),
    ...(byHand ? indexByHand(plan, index) : indexByAxis(plan, index, i === 0 ? 'at rest' : 'running')),
    ...passLines(plan, passes),
  ]);
}

const passTitles = { rough: 'ROUGH', finish: 'FINISH', 'spark-out': 'SPARK OUT' } as const;

/** The strokes of one flat, and back to index height. */
function passLines(plan: Plan, steps: readonly PassStep[]): readonly Line[] {
  const { job, positions } = plan;
  let at: WheelPoint = indexPlace(positions);
  const lines: Line[] = [];
  steps.forEach((step, i) => {
    const { flat, pass } = step;
    const begin = { u: strokeBegin(steps[i - 1], pass, positions.clear), v: 0, w: pass.w };
    const turn = { u: flat.centreEnd, v: 0, w: pass.w };
    const end = { u: strokeEnd(steps[i + 1], positions.clear), v: 0, w: pass.w };
    if (steps[i - 1]?.pass.kind !== pass.kind)
      lines.push(comment(`${passTitles[pass.kind]} FLAT ${flat.number}`));
    lines.push(...(i === 0 ? [firstInfeed(job, positions, pass.w)] : feedTo(job, at, begin)));
    lines.push(...feedTo(job, begin, turn), ...feedTo(job, turn, end));
    at = end;
  });
  return [...lines, retract(job, positions)];
}

const ending = ({ job }: Plan): readonly Line[] => [...stopWheel(job), block(job.machine.program.end)];

/** Highest block number RS274/NGC reads; NISTIR 6556, 3.3.1. */
const MOST_NUMBER = 99999;
/** `N99999 ` before a block. */
const NUMBER_ROOM = 7;

/** The number of the n-th program of a set, with as many digits as the first; after the last it begins anew. */
function programNumber(number: string, ordinal: number): string {
  const digits = number.length - 1;
  return `O${String((Number(number.slice(1)) + ordinal) % 10 ** digits).padStart(digits, '0')}`;
}

function programText({ job }: Plan, lines: readonly Line[], ordinal: number): string {
  const { number, percent, blockNumbers, comments, longestBlock } = job.machine.program;
  const room = longestBlock - 2;
  const asComment = (text: string): string => (comments === 'parentheses' ? `(${text})` : `; ${text}`);
  let count = 0;
  const numbered = (words: readonly string[]): string => {
    if (blockNumbers === undefined) return words.join(' ');
    const { start, step } = blockNumbers;
    const places = Math.floor((MOST_NUMBER - start) / step) + 1;
    return [`N${start + (count++ % places) * step}`, ...words].join(' ');
  };
  // A feed that would not fit beside its axis words stands in a block before them.
  const shortEnough = (words: readonly string[]): readonly (readonly string[])[] => {
    const feed = words.find((word) => word.startsWith('F'));
    if (feed === undefined || NUMBER_ROOM + words.join(' ').length <= longestBlock) return [words];
    return [[feed], words.filter((word) => word !== feed)];
  };
  const body = lines.flatMap((line) =>
    line.kind === 'comment' ? wrap(line.text, room).map(asComment) : shortEnough(line.words).map(numbered),
  );
  const tooLong = body.find((text) => text.length > longestBlock);
  if (tooLong !== undefined) throw new Error(`block longer than ${longestBlock} characters: ${tooLong}`);
  const first = number === undefined ? [] : [programNumber(number, ordinal)];
  const tape = percent ? ['%'] : [];
  return `${[...tape, ...first, ...body, ...tape].join('\n')}\n`;
}
