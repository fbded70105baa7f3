/**
 * From a plan to a program's text. One modal state a block, no expression, no subprogram, 7-bit text, no
 * block longer than the profile allows. Source of the words: ISO 6983-1 (from memory), RS274/NGC v3
 * (NISTIR 6556). Refuses a plan that has errors.
 */

import { takenBack } from '../job/block.js';
import { fingerprintOf, markComment } from '../job/fingerprint.js';
import { headWords } from '../job/heads.js';
import type { Job } from '../job/job.js';
import { isPostable, type Plan } from '../plan/plan.js';
import { indexPlace } from '../plan/position.js';
import type { PassStep, Step, StopStep } from '../plan/step.js';
import { strokeBegin, strokeEnd } from '../plan/step.js';
import { outSpeed, returnLift } from '../plan/stroke.js';
import { restsUntilIndexed } from '../plan/wait.js';
import type { MmPerMin } from '../quantity/unit.js';
import type { WheelPoint } from '../wheel/frame.js';
import { block, comment, type Line, plainText, wrap } from './comment.js';
import { header } from './header.js';
import {
  type IndexStep,
  indexByAxis,
  indexByHand,
  indexComments,
  startUp,
  stopByAxis,
  stopComments,
  switchOn,
} from './index-step.js';
import {
  feedTo,
  firstInfeed,
  goClear,
  goToHands,
  goToIndex,
  modes,
  retract,
  stopWheel,
  switchOff,
} from './motion.js';
import { dwellWords } from './word.js';

export interface Program {
  /** What to add to a file name: empty for the only program, `-2` for the second of a set. */
  readonly suffix: string;
  readonly text: string;
}

export interface PostOptions {
  /** Comments to stand at the very top, such as a warning that the program is unchecked. */
  readonly notes?: readonly string[];
  /** Where it goes on, if not from the beginning: FROM FINISH FLAT 4. */
  readonly reentry?: string;
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
    ...bodyLines(plan),
    ...ending(plan),
  ];
  return { suffix: '', text: programText(plan, lines, 0) };
}

/**
 * One complete program for each part between two stops: a flat, where hands index, or what lies between two stops to
 * measure or dress. For controls that run on through a program stop or let nobody move the axes or change an offset
 * during one. Each opens with its place in the set, what is done before it, and a start check list.
 * @throws RangeError if the plan has errors.
 */
export function postSplit(plan: Plan, options: PostOptions = {}): readonly Program[] {
  refuseBad(plan);
  const { job, positions } = plan;
  const byHand = job.holding.index === 'by hand';
  const parts = partsOf(plan);
  const digits = `${parts.length}`.length;
  const numbered = (i: number): string => `${i + 1}`.padStart(Math.max(2, digits), '0');
  return parts.map((visits, i) => {
    const after = i === 0 ? 'FIRST' : `AFTER -${numbered(i - 1)}`;
    const place = `PROGRAM ${numbered(i)} OF ${numbered(parts.length - 1)} - ${partTitle(visits)} - ${after}`;
    const [first] = visits;
    const passes = visits.flatMap((visit) => visit.passes);
    const lines = [
      comment(place),
      // Done while the flat before is still up.
      ...(first === undefined ? [] : beforeVisit(plan, first)),
      ...(byHand && first !== undefined ? indexComments(job, first.index) : []),
      ...notes(options),
      ...header(plan, passes.length, i === 0 ? 'first of a set' : 'later of a set'),
      ...modes(job),
      ...goClear(job, positions),
      ...(byHand ? [...startUp(job, positions), ...passLines(plan, passes)] : axisLines(plan, visits)),
      ...ending(plan),
    ];
    return { suffix: `-${numbered(i)}`, text: programText(plan, lines, i) };
  });
}

/** Whether hands act on the way, so that a program can be split there. */
export const hasParts = ({ job, steps }: Plan): boolean =>
  job.holding.index === 'by hand' || steps.some(({ kind }) => kind === 'stop');

/** Indexed by hand on a control that runs on through program stops: only a set, one program a flat, will do. */
export const needsSet = ({ machine, holding }: Job): boolean =>
  machine.program.stops === 'ignored' && holding.index === 'by hand';

/**
 * As the job's machine can run it: one program, or a set where it needs one.
 * @throws RangeError if the plan has errors.
 */
export const postForMachine = (plan: Plan, options: PostOptions = {}): readonly Program[] =>
  needsSet(plan.job) ? postSplit(plan, options) : [postProgram(plan, options)];

/** @throws RangeError if the plan has errors. */
export function refuseBad(plan: Plan): void {
  if (!isPostable(plan)) throw new RangeError('a plan with errors is not posted');
}

const notes = ({ notes: texts = [], reentry }: PostOptions): readonly Line[] =>
  [...texts, ...(reentry === undefined ? [] : [headWords('reentry', reentry)])].map((text) =>
    comment(plainText(text)),
  );

/** A flat that comes up: how, its passes, and what hands do first while the flat before is still up. */
interface Visit {
  readonly index: IndexStep;
  readonly passes: readonly PassStep[];
  readonly stop: StopStep | 'none';
  readonly before: IndexStep | 'none';
}

/** The steps, cut at each index. */
function visitsOf(steps: readonly Step[]): readonly Visit[] {
  return steps.flatMap((index, i) => {
    if (index.kind !== 'index') return [];
    const rest = steps.slice(i + 1);
    const end = rest.findIndex(({ kind }) => kind !== 'pass');
    const passes = (end < 0 ? rest : rest.slice(0, end)).filter((step) => step.kind === 'pass');
    const before = steps.slice(0, i).findLast((step) => step.kind === 'index') ?? 'none';
    const stop = steps[i - 1];
    return [{ index, passes, stop: stop?.kind === 'stop' ? stop : 'none', before }];
  });
}

/** The visits between two places where hands act: each one by hand, by an axis those between two stops. */
function partsOf({ job, steps }: Plan): readonly (readonly Visit[])[] {
  const parts: Visit[][] = [];
  for (const visit of visitsOf(steps)) {
    const last = parts.at(-1);
    if (last === undefined || visit.stop !== 'none' || job.holding.index === 'by hand') parts.push([visit]);
    else last.push(visit);
  }
  return parts;
}

/** What is done before a flat comes up, in words. */
const beforeVisit = (plan: Plan, { stop, before }: Visit): readonly Line[] =>
  stop === 'none' || before === 'none' ? [] : stopComments(plan, before, stop);

function bodyLines(plan: Plan): readonly Line[] {
  const visits = visitsOf(plan.steps);
  if (plan.job.holding.index !== 'by hand') return axisLines(plan, visits);
  return visits.flatMap((visit, i) => [
    ...indexByHand(plan, visit.index, i === 0 ? 'at rest' : 'running', beforeVisit(plan, visit)),
    ...passLines(plan, visit.passes),
  ]);
}

/** Flats that an axis brings up one after the other; what stands before the first is done already. */
function axisLines(plan: Plan, visits: readonly Visit[]): readonly Line[] {
  const { job, positions } = plan;
  return visits.flatMap(({ index, passes, stop, before }, i) => {
    const stops = i > 0 && stop !== 'none' && before !== 'none';
    const begins = i === 0 || (stops && restsUntilIndexed(job));
    return [
      ...(stops ? stopByAxis(plan, before, stop) : []),
      ...(i === 0 ? switchOn(job, positions) : []),
      ...indexByAxis(plan, index, begins ? 'at rest' : 'running'),
      ...(begins ? goToIndex(job, positions) : []),
      ...passLines(plan, passes),
    ];
  });
}

/** What a program of a set does, and to which flats. */
function partTitle(visits: readonly Visit[]): string {
  const flats = [...new Set(visits.map(({ index }) => index.flat.number))];
  return `${workTitle(visits.flatMap(({ passes }) => passes))} FLAT${flats.length === 1 ? '' : 'S'} ${flats.join(' ')}`;
}

function workTitle(passes: readonly PassStep[]): string {
  const has = (kind: PassStep['pass']['kind']): boolean => passes.some(({ pass }) => pass.kind === kind);
  if (!has('rough')) return 'FINISH';
  return has('finish') || has('spark-out') ? 'GRIND' : 'ROUGH';
}

const passTitles = { rough: 'ROUGH', finish: 'FINISH', 'spark-out': 'SPARK OUT' } as const;

/** Whether the wheel rests clear of the punch after the i-th pass of a flat, if another comes. */
const restsAfter = ({ grinding }: Job, i: number, next: PassStep | undefined): boolean =>
  grinding.rest !== undefined && next !== undefined && (i + 1) % grinding.rest.every === 0;

/** The strokes of one flat, and back to index height. */
function passLines(plan: Plan, steps: readonly PassStep[]): readonly Line[] {
  const { job, positions } = plan;
  const lift = returnLift(job);
  const { relief } = job.punch;
  /** Straight up in the machine; only a tilted head is lifted so. */
  const lifted = ({ u, v, w }: WheelPoint): WheelPoint => ({
    u: u + lift * Math.sin(relief),
    v,
    w: w + lift * Math.cos(relief),
  });
  const { strokeSpeed } = job.grinding;
  let at: WheelPoint = indexPlace(positions);
  // The feed the first infeed says; it is said again where it changes.
  let fed = strokeSpeed;
  const lines: Line[] = [];
  const move = (from: WheelPoint, to: WheelPoint, feed: MmPerMin): void => {
    const blocks = feedTo(job, from, to, feed === fed ? 'as said' : feed);
    if (blocks.length > 0) fed = feed;
    lines.push(...blocks);
  };
  steps.forEach((step, i) => {
    const { flat, pass } = step;
    // A block that holds the axis high here has the wheel as much higher.
    const w = pass.w + takenBack(job, flat.at);
    const begin = { u: strokeBegin(steps[i - 1], pass, positions.clear), v: 0, w };
    const turn = { u: pass.end, v: 0, w };
    const next = steps[i + 1];
    const rests = restsAfter(job, i, next);
    const end = lifted({ u: rests ? positions.clear : strokeEnd(next, positions.clear), v: 0, w });
    if (steps[i - 1]?.pass.kind !== pass.kind)
      lines.push(comment(`${passTitles[pass.kind]} FLAT ${flat.number}`));
    if (i === 0) lines.push(firstInfeed(job, positions, w));
    else move(at, begin, strokeSpeed);
    move(begin, turn, strokeSpeed);
    move(turn, lifted(turn), strokeSpeed);
    move(lifted(turn), end, outSpeed(job, pass.kind));
    if (rests && job.grinding.rest !== undefined)
      lines.push(block(...dwellWords(job.machine, job.grinding.rest.for)));
    at = end;
  });
  return [...lines, retract(job, positions)];
}

/** The punch is measured or taken out next: out of the hands' way first. */
const ending = ({ job, positions }: Plan): readonly Line[] => [
  ...goToHands(job, positions),
  ...stopWheel(job, 'the end'),
  ...switchOff(job),
  block(job.machine.program.end),
];

/** `N99999 ` before a block. */
const NUMBER_ROOM = 7;

/** The number of the n-th program of a set, with as many digits as the first; after the last it begins anew. */
function programNumber(number: string, ordinal: number): string {
  const digits = number.length - 1;
  return `O${String((Number(number.slice(1)) + ordinal) % 10 ** digits).padStart(digits, '0')}`;
}

/** Lines as the machine's control reads them; `ordinal` of a program in its set, from 0. */
export function programText({ job }: Plan, lines: readonly Line[], ordinal: number): string {
  const { number, percent, blockNumbers, comments, longestBlock } = job.machine.program;
  const room = longestBlock - 2;
  const asComment = (text: string): string => (comments === 'parentheses' ? `(${text})` : `; ${text}`);
  let count = 0;
  const numbered = (words: readonly string[]): string => {
    if (blockNumbers === undefined) return words.join(' ');
    const { start, step, most, on } = blockNumbers;
    if (on === 'program stops' && !words.includes('M0')) return words.join(' ');
    const places = Math.floor((most - start) / step) + 1;
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
  const opening = [
    ...(percent ? ['%'] : []),
    ...(number === undefined ? [] : [programNumber(number, ordinal)]),
  ];
  const closing = percent ? ['%'] : [];
  const text = [...opening, ...body, ...closing];
  const mark = asComment(markComment(fingerprintOf(text), text.length + 1));
  // After the line that names the job; warnings stand above both.
  const named = body.findIndex((line) => line.startsWith(asComment('JOB:').replace(/\)$/, ''))) + 1;
  return `${[...opening, ...body.slice(0, named), mark, ...body.slice(named), ...closing].join('\n')}\n`;
}
