/**
 * Which flat is up, as the program says it: by a rotary word, or by an INDEX comment that takes effect at
 * the program stop after it. Answers: is it said, is it true, is it in order, and does the punch turn only
 * where it may.
 */
import { type Job, layoutOf } from '../../job/job.js';
import { rotarySign } from '../../job/layout.js';
import { radFromDeg } from '../../quantity/angle.js';
import { SAME_INDEX } from '../../quantity/tolerance.js';
import type { Rad } from '../../quantity/unit.js';
import { between } from '../../section/flat.js';
import type { FindingBody } from '../finding.js';
import { LINEAR } from '../read/state.js';
import type { Move, Sweep } from './sweep.js';

/** `INDEX TO 60 DEG - FLAT 2 OF 6`, alone or with more after it. */
const INDEX_COMMENT = /^INDEX TO (-?\d+(?:\.\d+)?) DEG - FLAT (\d+) OF (\d+)\b/i;

export interface Indexing {
  readonly comments: (texts: readonly string[]) => readonly FindingBody[];
  /** A program stop, or the first move of a program: an INDEX comment read before it takes effect. */
  readonly take: () => readonly FindingBody[];
  /** True until a program has said which flat is up. */
  readonly isUnsaid: () => boolean;
  /** A move of the rotary axis; empty for any other move. */
  readonly turn: (move: Move) => readonly FindingBody[];
  /** The wheel has met the punch. */
  readonly touch: () => readonly FindingBody[];
  /** A further program of a set: by hand nothing is known of the index any more. */
  readonly restart: () => void;
}

interface Said {
  readonly at: Rad;
  readonly flat: number;
}

export function createIndexing(job: Job, sweep: Sweep): Indexing {
  const byHand = job.holding.index === 'by hand';
  const { rotary } = job.machine;
  const flats = job.punch.section.length;
  /** An INDEX comment read, its program stop still to come. */
  let pending: Said | 'none' = 'none';
  let current: Rad | 'unknown' = 'unknown';
  let lastFlat = 0;
  let touched = true;
  let lastTurn: 1 | -1 | 0 = 0;
  let arrival: 1 | -1 | 0 = 0;
  let bothWays = false;

  const comments = (texts: readonly string[]): readonly FindingBody[] =>
    texts.flatMap((text): readonly FindingBody[] => {
      const match = INDEX_COMMENT.exec(text);
      if (match === null || !byHand) return [];
      const said = radFromDeg(Number(match[1]));
      const flat = Number(match[2]);
      pending = { at: said, flat };
      const ordered = job.punch.section[flat - 1]?.at ?? 'none';
      const agrees = ordered !== 'none' && between(ordered, said) <= SAME_INDEX && Number(match[3]) === flats;
      return agrees ? [] : [{ code: 'index-mismatch', flat, said, ordered, flats }];
    });

  const take = (): readonly FindingBody[] => {
    if (pending === 'none') return [];
    const { at, flat } = pending;
    const findings: FindingBody[] = [];
    if (!touched && current !== 'unknown') findings.push({ code: 'index-again', at: current });
    if (lastFlat !== 0 && flat !== (lastFlat % flats) + 1) {
      findings.push({ code: 'index-out-of-order', flat, after: lastFlat });
    }
    [current, lastFlat, touched, pending] = [at, flat, false, 'none'];
    sweep.turnTo(at);
    return findings;
  };

  const turn = (move: Move): readonly FindingBody[] => {
    if (move.to.a === 'unknown' || move.to.a === move.from.a) return [];
    const findings: FindingBody[] = [];
    if (LINEAR.some((axis) => move.from[axis] !== move.to[axis]))
      findings.push({ code: 'index-while-moving' });
    else if (!sweep.isClear(move.from)) findings.push({ code: 'index-near-work' });
    if (move.from.a !== 'unknown') lastTurn = move.to.a > move.from.a ? 1 : -1;
    current = radFromDeg(move.to.a * rotarySign(layoutOf(job), rotary?.sense ?? 'standard'));
    sweep.turnTo(current);
    return findings;
  };

  const touch = (): readonly FindingBody[] => {
    touched = true;
    const findings: FindingBody[] = [];
    if (current === 'unknown') findings.push({ code: 'index-unknown' });
    if (pending !== 'none') findings.push({ code: 'index-without-stop' });
    if (lastTurn === 0) return findings;
    if (arrival !== 0 && arrival !== lastTurn && !bothWays) {
      bothWays = true;
      findings.push({ code: 'index-both-ways' });
    }
    arrival = lastTurn;
    return findings;
  };

  return {
    comments,
    take,
    turn,
    touch,
    isUnsaid: () => current === 'unknown',
    restart: () => {
      pending = 'none';
      lastTurn = 0;
      if (byHand) current = 'unknown';
    },
  };
}
