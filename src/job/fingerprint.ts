/**
 * A short mark of a program's text, so that paper, file and control can be told to be the same: two 32-bit FNV-1a sums
 * over every line but the one that carries the mark, one forward, one with each line's length. Not against malice: it
 * tells an edited program from the posted one.
 * Source: Fowler, Noll, Vo, FNV-1a, 32 bit: offset 2166136261, prime 16777619 (from memory).
 */

/** The comment that carries it: `MARK 8F3A-21C7 2010 LINES`. */
export const MARK_COMMENT = /^MARK ([0-9A-F]{4}-[0-9A-F]{4}) (\d+) LINES$/;

export const markComment = (mark: string, lines: number): string => `MARK ${mark} ${lines} LINES`;

/** The mark a whole program says it has. */
export const markIn = (program: string): string | undefined =>
  /\bMARK ([0-9A-F]{4}-[0-9A-F]{4}) \d+ LINES\b/.exec(program)?.[1];

/** Sums over the lines so far. */
export interface Fingerprint {
  readonly sum: number;
  readonly other: number;
}

const [OFFSET, PRIME] = [2166136261, 16777619];

export const NO_LINES: Fingerprint = { sum: OFFSET, other: OFFSET };

const step = (sum: number, value: number): number => Math.imul(sum ^ value, PRIME) >>> 0;

/** The sums with one more line. */
export function withLine({ sum, other }: Fingerprint, line: string): Fingerprint {
  let next = sum;
  for (let i = 0; i < line.length; i += 1) next = step(next, line.charCodeAt(i));
  return { sum: step(next, 0x0a), other: step(other, (next ^ line.length) & 0xffff) };
}

const hex = (value: number): string => (value & 0xffff).toString(16).toUpperCase().padStart(4, '0');

/** The mark as people compare it. */
export const markOf = ({ sum, other }: Fingerprint): string => `${hex(sum ^ (sum >>> 16))}-${hex(other)}`;

/** The mark of a whole program, given without the line that carries it. */
export const fingerprintOf = (lines: readonly string[]): string => markOf(lines.reduce(withLine, NO_LINES));
