/** The outside world as the commands see it; a test passes its own. */
import { Chalk } from 'chalk';

export interface Io {
  readonly out: (text: string) => void;
  readonly err: (text: string) => void;
  /** Lines of standard input as they come. */
  readonly inputLines: () => AsyncIterable<string>;
  readonly inputText: () => Promise<string>;
  /** Asks a person; `no terminal` where nobody is there to answer. */
  readonly ask: ((question: string) => Promise<string>) | 'no terminal';
  /** Colours on standard output, and on standard error. */
  readonly colour: { readonly out: boolean; readonly err: boolean };
  readonly cwd: string;
}

export interface Paint {
  readonly bad: (text: string) => string;
  readonly warn: (text: string) => string;
  readonly good: (text: string) => string;
}

/** Colour for meaning only: everything reads the same without it. */
export function paint(colour: boolean): Paint {
  const chalk = new Chalk({ level: colour ? 1 : 0 });
  return { bad: chalk.red, warn: chalk.yellow, good: chalk.green };
}

/**
 * Names and texts from outside may hold characters that a terminal obeys: move, hide, turn about. They show as `?`;
 * line ends, tabs and the colours of `paint` stay. Source: ECMA-48, 5.2 to 5.5, control functions (from memory);
 * Unicode Standard Annex 9, 2, the explicit directional characters.
 */
export const shown = (text: string): string =>
  text.replace(OBEYED, (found) => (found.length > 1 ? found : '?'));

/** One of our colours, a whole line end, or a character that is obeyed. */
const OBEYED = new RegExp(
  [
    `\u001b\\[3[1239]m`,
    String.raw`\r\n`,
    String.raw`[^\P{Cc}\t\n]`,
    String.raw`[\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069]`,
  ].join('|'),
  'gu',
);
