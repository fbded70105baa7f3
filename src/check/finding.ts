/**
 * What the checker has against a program, as data. `error` means do not run it; `warning` means look.
 * Codes are plain words and stable. Wording lives in wording/check.
 */

import type { JobFault } from '../job/fault.js';
import type { Setting } from '../job/indexing.js';
import type { LayoutName, LinearAxis } from '../job/layout.js';
import type { Mm, Mm3PerS, MmPerMin, Rad, RevPerMin, Seconds } from '../quantity/unit.js';

type None = Record<never, never>;

interface Numbers {
  // reading: what is not understood is refused by name
  'character-unreadable': { readonly column: number; readonly character: string };
  'return-alone': { readonly column: number };
  'point-missing': { readonly word: string };
  'comment-odd': { readonly column: number; readonly character: string };
  'comment-long': { readonly length: number; readonly most: number };
  'line-too-long': { readonly length: number; readonly most: number };
  'comment-open': { readonly column: number };
  'comment-nested': { readonly column: number };
  'expression-or-parameter': { readonly column: number; readonly character: string };
  'decimal-comma': { readonly column: number };
  'number-missing': { readonly column: number; readonly letter: string };
  'number-malformed': { readonly column: number };
  checksum: { readonly column: number };
  'block-delete': None;
  'text-unreadable': { readonly column: number; readonly text: string };
  subprogram: { readonly text: string };
  'words-lost': { readonly expected: number; readonly read: number };
  // words and modal groups
  'code-unknown': { readonly word: string };
  'code-refused': { readonly word: string; readonly reason: string };
  'code-not-on-control': { readonly word: string; readonly wouldDo: string };
  'group-twice': { readonly words: readonly string[]; readonly group: string };
  'letter-twice': { readonly letter: string };
  'word-unused': { readonly word: string };
  'axis-without-motion': { readonly word: string };
  'axis-unknown': { readonly word: string };
  'motion-without-axis': { readonly word: string };
  'number-negative': { readonly word: string };
  'feed-missing': None;
  'dwell-missing': { readonly word: string };
  'dwell-with-axis': { readonly word: string };
  'arc-plane-unsaid': None;
  'block-number-late': { readonly word: string };
  'comment-active': { readonly text: string };
  'comment-style': { readonly wanted: 'parentheses' | 'semicolon' };
  'percent-misplaced': None;
  'mode-unsaid': { readonly words: readonly string[] };
  'path-mode-unsaid': None;
  'block-number-bad': { readonly word: string };
  'arc-bad': { readonly reason: string };
  'units-unsaid': { readonly wouldDo: string };
  'distance-unsaid': None;
  'units-switched': None;
  'other-work-offset': { readonly word: string; readonly wouldDo: string };
  'wheel-not-at-rest': { readonly word: string };
  'face-off': { readonly face: Mm; readonly ordered: Mm };
  'rim-off': { readonly off: Mm; readonly ordered: Mm };
  'diamond-unknown': None;
  'cuts-in-the-air': { readonly depth: Mm; readonly wouldDo: Mm };
  // machine limits
  'outside-travel': { readonly axis: LinearAxis; readonly at: Mm; readonly least: Mm; readonly most: Mm };
  'span-over-travel': { readonly axis: LinearAxis; readonly need: Mm; readonly have: Mm };
  'feed-over-machine': { readonly feed: MmPerMin; readonly max: MmPerMin };
  'speed-over-rating': { readonly speed: RevPerMin; readonly rated: RevPerMin };
  'speed-outside-spindle': { readonly speed: RevPerMin; readonly min: RevPerMin; readonly max: RevPerMin };
  // state
  'speed-missing': None;
  'wheel-turns-backward': { readonly word: string; readonly wouldDo: string };
  'wheel-not-turning': None;
  'speed-not-ordered': { readonly speed: RevPerMin; readonly ordered: RevPerMin };
  'speed-slow': { readonly speed: RevPerMin; readonly ordered: RevPerMin };
  'wheel-near-metal': { readonly does: 'starts' | 'stops' | 'changes speed'; readonly needed: Mm };
  'wheel-switched-by-hand': { readonly word: string };
  'spindle-turns-punch': { readonly word: string };
  /** The guard that stays on would meet blank or nose. */
  'guard-meets-work': { readonly by: Mm };
  'dwell-in-contact': { readonly time: Seconds };
  'feed-crawls': { readonly feed: MmPerMin; readonly least: MmPerMin };
  'tool-change-late': None;
  'spin-up-short': { readonly waited: Seconds; readonly needed: Seconds };
  'stop-while-turning': None;
  'coast-down-short': { readonly waited: Seconds; readonly needed: Seconds };
  'stop-near-work': None;
  'stop-too-low': { readonly height: Mm; readonly needed: Mm };
  'stop-ignored': None;
  'coolant-at-stop': None;
  'hands-before-rest': { readonly needed: Seconds };
  'measuring-stop-missing': None;
  'dressing-stop-missing': None;
  'coolant-missing': { readonly wanted: string };
  'coolant-unwanted': None;
  'start-unknown': { readonly up: LinearAxis };
  'height-unsaid': { readonly up: LinearAxis };
  'end-missing': None;
  'end-while-turning': None;
  'end-near-work': None;
  'text-after-end': None;
  'index-near-work': None;
  'axis-turns-nothing': { readonly axis: string };
  'index-comment-malformed': { readonly text: string };
  'index-comment-twice': None;
  'set-wrong': { readonly said: string; readonly needed: Setting; readonly layout: LayoutName };
  'axis-outside-turn': { readonly at: Rad };
  'index-off': { readonly flat: number; readonly by: Rad };
  'section-turned': { readonly by: Rad };
  'index-while-turning': { readonly waited: Seconds; readonly needed: Seconds };
  'index-while-moving': None;
  'index-clamped': { readonly wouldDo: string };
  'stroke-unclamped': { readonly wouldDo: string };
  'index-both-ways': None;
  'index-without-stop': None;
  'index-unknown': None;
  'index-again': { readonly at: Rad };
  'index-out-of-order': { readonly flat: number; readonly after: number };
  'index-mismatch': {
    readonly flat: number;
    readonly said: Rad;
    readonly ordered: Rad | 'none';
    readonly flats: number;
  };
  // sweep
  'rapid-in-stock': { readonly depth: Mm };
  'rapid-near-stock': { readonly gap: Mm; readonly needed: Mm };
  'plunge-near-stock': { readonly needed: Mm };
  'stroke-stays-inside': { readonly by: Mm };
  'infeed-in-stock': { readonly depth: Mm };
  'stroke-too-deep': { readonly depth: Mm; readonly allowed: Mm };
  'stroke-too-fast': { readonly feed: MmPerMin; readonly allowed: MmPerMin };
  'stroke-over-limit': { readonly rate: Mm3PerS; readonly limit: Mm3PerS };
  'stroke-off-centre': { readonly v: Mm };
  'wheel-near-nose': { readonly clearance: Mm };
  'below-the-flats': { readonly by: Mm };
  'wheel-meets-fixture': { readonly what: string; readonly by: Mm };
  // the punch
  'flat-missing': { readonly flat: number; readonly at: Rad };
  'flat-not-ordered': { readonly at: Rad };
  'flat-off': { readonly flat: number; readonly by: Mm; readonly most: Mm };
  'roughed-long': { readonly flat: number; readonly length: Mm; readonly ordered: Mm };
  'flat-long': { readonly flat: number; readonly length: Mm; readonly ordered: Mm };
  'size-over': { readonly flat: number; readonly size: Mm; readonly most: Mm };
  'size-under': { readonly flat: number; readonly size: Mm; readonly least: Mm };
  'section-off-axis': { readonly by: Mm; readonly most: Mm };
  'flat-short': { readonly flat: number; readonly length: Mm; readonly ordered: Mm };
  'corner-land': { readonly by: Mm };
  'spark-out-short': { readonly flat: number; readonly strokes: number; readonly ordered: number };
  'more-findings': { readonly left: number };
  // the job itself, and what the program says of itself
  'job-unsafe': { readonly fault: JobFault };
  'other-job': { readonly said: string };
  /** It goes on where flats stand, and nobody says how. */
  'standing-unsaid': { readonly said: string };
  /** They are taken to stand as its head says. */
  'standing-believed': { readonly said: string };
  /** The program is not as it was marked. */
  'text-changed': { readonly mark: string };
  /** `none`: it says it is part of no set, though the one before was. */
  'set-out-of-order': {
    readonly said: { readonly number: number; readonly of: number } | 'none';
    readonly wanted: number;
  };
  'set-incomplete': { readonly number: number; readonly of: number };
}

export type CheckCode = keyof Numbers;

/** Where a finding stands: the program's name, line from 1, and the line's text; line 0 for the whole. */
export interface BlockPlace {
  readonly program: string;
  readonly line: number;
  readonly text: string;
}

export type FindingBody = { [Code in CheckCode]: { readonly code: Code } & Numbers[Code] }[CheckCode];

/** What is found against a program that only stops early: what it did until then is none the worse. */
export const UNFINISHED: ReadonlySet<CheckCode> = new Set<CheckCode>([
  'flat-missing',
  'flat-off',
  'flat-short',
  'size-over',
  'corner-land',
  'spark-out-short',
  'section-off-axis',
  'measuring-stop-missing',
  'end-missing',
  'set-incomplete',
]);

/** A finding of one code, or of any. */
export type CheckFinding<C extends CheckCode = CheckCode> = {
  [Code in C]: { readonly code: Code } & Numbers[Code] & {
      readonly severity: 'error' | 'warning';
      readonly place: BlockPlace;
    };
}[C];

/** Codes that ask for a look and do not refuse the program. */
const WARNINGS: ReadonlySet<CheckCode> = new Set<CheckCode>([
  'coolant-unwanted',
  'comment-odd',
  'comment-long',
  'mode-unsaid',
  'path-mode-unsaid',
  'speed-slow',
  'hands-before-rest',
  'height-unsaid',
  'index-off',
  'section-turned',
  'index-both-ways',
  'index-again',
  'index-out-of-order',
  'text-after-end',
  'spark-out-short',
  'other-job',
  'standing-believed',
  'text-changed',
  'more-findings',
]);

/** Whether a code refuses the program or only asks for a look. */
export const severityOf = (code: CheckCode): 'error' | 'warning' =>
  WARNINGS.has(code) ? 'warning' : 'error';

/** No finding: one list for all, since nearly every block has none. */
export const NOTHING: readonly FindingBody[] = [];
