/**
 * Reads one line of a program. gcode-parser makes the words; since it drops what it does not know, this
 * file proves that nothing was dropped: the text outside comments must be words from end to end, and the
 * parser must have returned as many. What is not understood is refused by name, never skipped.
 * Source: NISTIR 6556 (RS274/NGC v3), 3.3 "Format of a Line": 256 characters, comments do not nest.
 */
import * as gcode from 'gcode-parser';
import type { FindingBody } from '../finding.js';

export interface Word {
  readonly letter: string;
  readonly value: number;
}

/** One readable line. `N` is not among the words. */
export interface Block {
  readonly kind: 'block';
  readonly words: readonly Word[];
  readonly number: number | 'none';
  readonly comments: readonly string[];
  /** The line opens with `/`: executed or not as the operator's switch stands. */
  readonly deletable: boolean;
  /** It holds a comment after a semicolon, or one in brackets. */
  readonly semicolon: boolean;
  readonly brackets: boolean;
  /** Axis and arc words without a decimal point, zero apart, as written but for blanks: some controls count them in thousandths. */
  readonly pointless: readonly string[];
  /** What not every control reads, in a comment only. */
  readonly odd: FindingBody | undefined;
}

export type LineRead =
  | Block
  | { readonly kind: 'percent' }
  | { readonly kind: 'program number'; readonly comments: readonly string[] }
  | { readonly kind: 'refused'; readonly finding: FindingBody };

export const LONGEST_LINE = 256;

/** Words and comments from end to end, blanks taken out; a number has digits and at most one point. */
const ALL_WORDS = /^\/?(?:\||[A-Z][-+]?(?:\d+\.?\d*|\.\d+))*$/i;
const BLANKS = /\s+/g;
/** Stands for a comment outside of it: a comment ends a word. A bar in the text itself is refused before. */
const GAP = '|';
const PROGRAM_NUMBER = /^\s*[O:]\s*\d{1,5}\s*$/i;
/** A block number after another word. */
const LATE_NUMBER = /[A-MO-Z][^A-Z]*N/i;
/** Comments that some controls act on. */
const ACTIVE = /^(debug|print|log|logopen|logappend|logclose|probeopen|probeclose|py|abort),?/i;

/** @param line without its line end. */
export function readLine(line: string): LineRead {
  if (line.length > LONGEST_LINE) {
    return { kind: 'refused', finding: { code: 'line-too-long', length: line.length, most: LONGEST_LINE } };
  }
  const split = splitComments(line);
  if ('code' in split) return { kind: 'refused', finding: split };
  const { outside, comments } = split;
  const odd = line.search(UNREADABLE);
  if (odd >= 0) {
    const bad = unreadable(line, outside);
    if (bad !== undefined) return { kind: 'refused', finding: bad };
  }
  const bare = outside.replaceAll(GAP, ' ');
  if (bare.trim() === '%') return { kind: 'percent' };
  if (PROGRAM_NUMBER.test(bare)) return { kind: 'program number', comments };
  const compact = outside.replace(BLANKS, '');
  if (!ALL_WORDS.test(compact)) return { kind: 'refused', finding: offence(outside) };
  return words(line, split, compact, odd);
}

/** Characters no control promises to read. */
const UNREADABLE = /[^\t\x20-\x7b\x7d\x7e]/;
/** Of those, the ones that do harm in a comment too: a bar is ours, a control character may end or hide a line. */
function harmfulAt(line: string): number {
  for (let i = 0; i < line.length; i += 1) {
    const code = line.charCodeAt(i);
    if (code === BAR || code === DELETE || (code < SPACE && code !== TAB)) return i;
  }
  return -1;
}

const [TAB, SPACE, BAR, DELETE] = [0x09, 0x20, 0x7c, 0x7f];

/** The first character outside a comment that not every control reads, or one that does harm anywhere. */
function unreadable(line: string, outside: string): FindingBody | undefined {
  if (line.includes('\r')) return { code: 'return-alone', column: line.indexOf('\r') + 1 };
  const blanked = outside.replaceAll(GAP, ' ');
  const harmful = harmfulAt(line);
  const at = harmful >= 0 ? harmful : blanked.search(UNREADABLE);
  return at < 0 ? undefined : { code: 'character-unreadable', column: at + 1, character: line.charAt(at) };
}

interface Split {
  /** The text outside comments, each comment blanked, so that columns stay. */
  readonly outside: string;
  readonly comments: readonly string[];
  readonly brackets: boolean;
}

const NO_COMMENTS: readonly string[] = [];

function splitComments(line: string): Split | FindingBody {
  if (!line.includes('(') && !line.includes(';') && !line.includes(')'))
    return { outside: line, comments: NO_COMMENTS, brackets: false };
  const comments: string[] = [];
  let outside = '';
  let at = 0;
  while (at < line.length) {
    const character = line.charAt(at);
    if (character === ';') {
      comments.push(line.slice(at + 1).trim());
      break;
    }
    if (character === ')') return { code: 'comment-open', column: at + 1 };
    if (character !== '(') {
      outside += character;
      at += 1;
      continue;
    }
    const end = line.indexOf(')', at);
    if (end < 0) return { code: 'comment-open', column: at + 1 };
    const nested = line.indexOf('(', at + 1);
    if (nested >= 0 && nested < end) return { code: 'comment-nested', column: nested + 1 };
    comments.push(line.slice(at + 1, end).trim());
    outside += GAP.repeat(end + 1 - at);
    at = end + 1;
  }
  return { outside, comments, brackets: outside.includes(GAP) };
}

/** Capital and small letters; a loop, since every line of a long program comes through here. */
function countLetters(text: string): number {
  let count = 0;
  for (let i = 0; i < text.length; i += 1) {
    const code = text.charCodeAt(i) | SMALL;
    if (code >= FIRST_LETTER && code <= LAST_LETTER) count += 1;
  }
  return count;
}

/** The bit by which small letters differ from capitals, and the small letters' ends. */
const SMALL = 0x20;
const [FIRST_LETTER, LAST_LETTER] = [0x61, 0x7a];

/** An axis or arc word whose number has no point, and is not zero. */
const POINTLESS = /[XYZABCUIJKR][-+]?0*[1-9]\d*(?![\d.])/gi;
const NO_WORDS: readonly string[] = [];

function words(line: string, { outside, comments, brackets }: Split, compact: string, odd: number): LineRead {
  const parsed = gcode.parseLine(line);
  const expected = countLetters(outside);
  const read = parsed.words.length + (parsed.ln === undefined ? 0 : 1);
  const lost = (): LineRead => ({ kind: 'refused', finding: { code: 'words-lost', expected, read } });
  if (expected !== read) return lost();
  const list: Word[] = [];
  for (let i = 0; i < parsed.words.length; i += 1) {
    const word = parsed.words[i];
    const letter = word?.[0];
    const value = word?.[1];
    if (letter === undefined) return lost();
    if (typeof value !== 'number' || !Number.isFinite(value)) return lost();
    list.push({ letter, value });
  }
  const number = parsed.ln ?? 'none';
  if (number !== 'none' && LATE_NUMBER.test(outside)) {
    return { kind: 'refused', finding: { code: 'block-number-late', word: `N${number}` } };
  }
  const active = comments.find((text) => ACTIVE.test(text) && text.includes(','));
  if (active !== undefined) return { kind: 'refused', finding: { code: 'comment-active', text: active } };
  return {
    kind: 'block',
    words: list,
    number,
    comments,
    deletable: outside.trimStart().startsWith('/'),
    semicolon: outside.length < line.length,
    brackets,
    pointless: compact.match(POINTLESS) ?? NO_WORDS,
    odd: odd < 0 ? undefined : { code: 'comment-odd', column: odd + 1, character: line.charAt(odd) },
  };
}

/** Names the first thing in `outside` that is no word. */
function offence(outside: string): FindingBody {
  const body = outside.replace(/^(\s*)\//, '$1 ');
  const symbol = body.search(/[^A-Za-z0-9.+\-\s|]/);
  const column = symbol + 1;
  const character = body.charAt(symbol);
  if (/^\s*O/i.test(body)) return { code: 'subprogram', text: outside.trim() };
  if (symbol >= 0) {
    if ('[]#='.includes(character)) return { code: 'expression-or-parameter', column, character };
    if (character === ',') return { code: 'decimal-comma', column };
    if (character === '*') return { code: 'checksum', column };
    return { code: 'text-unreadable', column, text: character };
  }
  const bare = /([A-Za-z])\s*(?=[A-Za-z|]|$)/.exec(body);
  if (bare !== null)
    return { code: 'number-missing', column: bare.index + 1, letter: (bare[1] ?? '').toUpperCase() };
  const first = /^\s*[-+.\d]/.exec(body);
  return { code: 'number-malformed', column: first === null ? body.search(/[-+.]/) + 1 : first[0].length };
}
