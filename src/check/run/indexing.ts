/**
 * Which flat is up, as the program says it: by a rotary word, or by an INDEX comment that takes effect at the program
 * stop after it, with a SET comment for the hand. Each function takes how the index stands and gives how it stands
 * afterwards; is what the program says true, in order, and such that a hand can follow it?
 */
import { settingFor } from '../../job/indexing.js';
import { type IndexDevice, type Job, layoutOf } from '../../job/job.js';
import { rotarySign } from '../../job/layout.js';
import { radFromDeg } from '../../quantity/angle.js';
import { INDEX_WITHIN } from '../../quantity/tolerance.js';
import { type Rad, rad } from '../../quantity/unit.js';
import { between } from '../../section/flat.js';
import { type FindingBody, NOTHING } from '../finding.js';
import type { Move } from './place.js';

/** `INDEX TO 60 DEG - FLAT 2 OF 6`, and not a word more: the hand would read it. */
const INDEX_COMMENT = /^INDEX TO (-?\d+(?:\.\d+)?) DEG - FLAT (\d+) OF (\d+)$/i;
const INDEX_LIKE = /^INDEX\b/i;
const SET_COMMENT = /^SET:/i;
/** A comment too long for its block goes on in the next one after a dash. */
const GOES_ON = /^- /;

interface Said {
  readonly at: Rad;
  readonly flat: number;
  /** What a SET comment tells the hand; empty without one. */
  readonly set: string;
  /** The comment before was a SET comment, which may go on. */
  readonly goesOn: boolean;
}

/** How the index stands. */
export interface Index {
  /** An INDEX comment read, its program stop still to come. */
  readonly pending: Said | 'none';
  readonly current: Rad | 'unknown';
  /** Where a hand last set the device: cranks count from there. */
  readonly setAt: Rad;
  readonly lastFlat: number;
  /** Something was ground since the last index. */
  readonly ground: boolean;
  /** Which way the rotary axis turned last, and from which it came to the flats. */
  readonly lastTurn: Way;
  readonly arrival: Way;
}

type Way = 1 | -1 | 0;

export const START_INDEX: Index = {
  pending: 'none',
  current: 'unknown',
  setAt: rad(0),
  lastFlat: 0,
  ground: true,
  lastTurn: 0,
  arrival: 0,
};

export interface Indexed {
  readonly index: Index;
  readonly findings: readonly FindingBody[];
}

/** Takes note of comments; only a job indexed by hand is indexed by them. */
export function readComments(job: Job, before: Index, texts: readonly string[]): Indexed {
  const findings: FindingBody[] = [];
  let index = before;
  for (const text of texts) {
    if (INDEX_LIKE.test(text)) {
      const said = saidBy(job, text);
      if (index.pending !== 'none') findings.push({ code: 'index-comment-twice' });
      findings.push(...said.findings);
      if (said.index !== 'none') index = { ...index, pending: said.index };
    } else if (index.pending !== 'none') {
      const { set, goesOn } = index.pending;
      const more = SET_COMMENT.test(text) || (goesOn && GOES_ON.test(text));
      const joined = set === '' ? text : `${set} ${text.replace(GOES_ON, '')}`;
      index = { ...index, pending: { ...index.pending, set: more ? joined : set, goesOn: more } };
    }
  }
  return { index, findings };
}

function saidBy(
  job: Job,
  text: string,
): { readonly index: Said | 'none'; readonly findings: readonly FindingBody[] } {
  const match = INDEX_COMMENT.exec(text);
  if (match === null) return { index: 'none', findings: [{ code: 'index-comment-malformed', text }] };
  const { section } = job.punch;
  const [said, flat] = [radFromDeg(Number(match[1])), Number(match[2])];
  const ordered = section[flat - 1]?.at ?? 'none';
  const agrees =
    ordered !== 'none' && between(ordered, said) <= INDEX_WITHIN && Number(match[3]) === section.length;
  return {
    index: { at: said, flat, set: '', goesOn: false },
    findings: agrees ? [] : [{ code: 'index-mismatch', flat, said, ordered, flats: section.length }],
  };
}

/** A program stop, or the first move of a program: an INDEX comment read before it takes effect. */
export function takeIndex(job: Job, before: Index): Indexed {
  if (before.pending === 'none') return { index: before, findings: [] };
  const { at, flat, set } = before.pending;
  const findings: FindingBody[] = [];
  if (!before.ground && before.current !== 'unknown')
    findings.push({ code: 'index-again', at: before.current });
  const { sequence } = job.grinding;
  const next = sequence[(sequence.indexOf(before.lastFlat) + 1) % sequence.length];
  if (before.lastFlat !== 0 && flat !== next) {
    findings.push({ code: 'index-out-of-order', flat, after: before.lastFlat });
  }
  if (set !== '') findings.push(...setFindings(job, before.setAt, at, set));
  return {
    index: { ...before, current: at, setAt: at, lastFlat: flat, ground: false, pending: 'none' },
    findings,
  };
}

/** What each kind of device is told in a SET comment; the numbers in it, in order. */
const SET_FORMS = {
  'indexing block': /^SET: BLOCK SIDE (\d+) (?:UP|TO THE WHEEL)$/i,
  'spin indexer': /^SET: SPIN INDEXER AT (\d+(?:\.\d+)?) DEG$/i,
  gear: /^SET: TOOTH (\d+) AT THE DETENT$/i,
  'dividing head': /^SET: CRANK (\d+) TURNS \+ (\d+) HOLES ON THE (\d+) CIRCLE, FORWARD$/i,
} as const;
const CRANK_STAYS = /^SET: CRANK STAYS$/i;

/** Angles are written to a thousandth of a degree, and a crank counts from one such angle to the next. */
const SAME: Rad = radFromDeg(0.0015);

function setFindings(job: Job, from: Rad, to: Rad, said: string): readonly FindingBody[] {
  const { device } = job.holding;
  if (device === undefined) return NOTHING;
  const needed = settingFor(device, from, to);
  // A place the device has not is a fault of the job, found there.
  if (needed === 'cannot' || needed.kind === 'axis') return NOTHING;
  const numbers = (SET_FORMS[device.kind].exec(said) ?? []).slice(1).map(Number);
  return brings(device, from, to, numbers, CRANK_STAYS.test(said))
    ? []
    : [{ code: 'set-wrong', said, needed, layout: job.machine.layout }];
}

/** Whether what the hand is told brings the punch from one direction to the other. */
function brings(
  device: IndexDevice,
  from: Rad,
  to: Rad,
  [first, holes = 0, circle = 1]: readonly number[],
  stays: boolean,
): boolean {
  if (first === undefined) return device.kind === 'dividing head' && stays && between(from, to) <= SAME;
  switch (device.kind) {
    case 'indexing block':
      return first <= device.sides && between(radFromDeg(((first - 1) * 360) / device.sides), to) <= SAME;
    case 'spin indexer':
      return between(radFromDeg(first), to) <= SAME;
    case 'gear':
      return first < device.teeth && between(radFromDeg((first * 360) / device.teeth), to) <= SAME;
    case 'dividing head': {
      const turned = radFromDeg(((first + holes / circle) * 360) / device.ratio);
      const onPlate = holes === 0 || device.circles.includes(circle);
      return onPlate && between(rad(from + turned), to) <= SAME;
    }
  }
}

/** Where the rotary axis brings the punch, and which way it turns. */
export function turned(job: Job, before: Index, move: Move): Indexed & { readonly at: Rad } {
  const { rotary } = job.machine;
  const [from, to] = [move.from.a, move.to.a === 'unknown' ? 0 : move.to.a];
  const sign = rotarySign(layoutOf(job), rotary?.sense ?? 'standard');
  const at = radFromDeg(to * sign);
  const wraps = rotary !== undefined && rotary.counts !== 'on and on';
  const outside = wraps && (to < 0 || to >= 360);
  return {
    at,
    index: { ...before, current: at, lastTurn: from === 'unknown' ? before.lastTurn : wayOf(job, from, to) },
    findings: outside ? [{ code: 'axis-outside-turn', at: radFromDeg(to) }] : [],
  };
}

/** The way an axis turns from one word to the next. */
function wayOf(job: Job, from: number, to: number): Way {
  switch (job.machine.rotary?.counts) {
    case '0 to 360, sign is direction':
      return to < 0 ? -1 : 1;
    case '0 to 360 shortest':
      return (((to - from) % 360) + 360) % 360 <= 180 ? 1 : -1;
    default:
      return to > from ? 1 : -1;
  }
}

/** The wheel has met the punch. */
export function met(before: Index): Indexed {
  const { lastTurn, arrival } = before;
  const asUsual = lastTurn === 0 || arrival === lastTurn;
  // Nearly every stroke is of a flat that has been met before.
  if (before.ground && before.current !== 'unknown' && before.pending === 'none' && asUsual)
    return { index: before, findings: NOTHING };
  const findings: FindingBody[] = [];
  if (before.current === 'unknown') findings.push({ code: 'index-unknown' });
  if (before.pending !== 'none') findings.push({ code: 'index-without-stop' });
  if (!asUsual && arrival !== 0) findings.push({ code: 'index-both-ways' });
  const index = { ...before, ground: true, arrival: lastTurn === 0 ? arrival : lastTurn };
  return { index, findings };
}
