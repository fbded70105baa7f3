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
