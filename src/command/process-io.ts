/** The real world: this process' streams, terminal and environment. */
import { splitLines } from '../check/read/lines.js';
import { because } from './because.js';
import { type ExitCode, Leave, UNUSABLE } from './exit.js';
import { type Io, shown } from './io.js';
import { fitted, WIDTH } from './screen.js';

/** Colour on a terminal, unless NO_COLOR says otherwise (no-color.org). */
const coloured = (stream: NodeJS.WriteStream): boolean =>
  stream.isTTY === true && (process.env['NO_COLOR'] ?? '') === '' && process.env['TERM'] !== 'dumb';

interface Writer {
  readonly write: (text: string) => void;
  /** Resolves once everything is out, or cannot get out: to `true` if it could not be written. */
  readonly failed: () => Promise<boolean>;
}

/**
 * Writes until nobody reads any more: a reader that stops, such as head, is no fault of anyone's, and what the
 * command found still decides how it ends.
 */
function writer(stream: NodeJS.WriteStream, complain: (why: string) => void): Writer {
  let [open, failed] = [true, false];
  stream.on('error', (error: NodeJS.ErrnoException) => {
    if (!open) return;
    open = false;
    failed = error.code !== 'EPIPE';
    if (failed) complain(because(error));
  });
  return {
    write: (text) => void (open && stream.write(onScreen(stream, shown(text)))),
    failed: () =>
      new Promise((resolve) => {
        if (open && stream.writableLength > 0) stream.write('', () => setImmediate(() => resolve(failed)));
        else setImmediate(() => resolve(failed));
      }),
  };
}

/** JSON and programs are copied off a screen, and stay as they are. */
const COPIED = /^\s*[[{%(]|^(O|N?\d|G\d)/;

/** What a person reads fits a screen; what goes on to a file or a program stays line for line. */
const onScreen = (stream: NodeJS.WriteStream, text: string): string =>
  stream.isTTY === true && !COPIED.test(text) ? fitted(text, Math.min(stream.columns ?? WIDTH, WIDTH)) : text;

export interface ProcessIo extends Io {
  /** The exit code, once it is known whether standard output took everything. */
  readonly ended: (code: ExitCode) => Promise<ExitCode>;
}

export function processIo(): ProcessIo {
  const err = writer(process.stderr, () => {});
  const out = writer(process.stdout, (why) => err.write(`standard output: cannot be written: ${why}\n`));
  let taken = false;
  const input = (encoding: BufferEncoding): NodeJS.ReadStream => {
    // A second reader would find it empty, and an empty program is not what was meant.
    if (taken) throw new Leave(UNUSABLE, 'standard input can be read once; give one of the two as a file');
    taken = true;
    return process.stdin.setEncoding(encoding);
  };
  return {
    out: out.write,
    err: err.write,
    inputLines: () => splitLines(input('latin1')),
    inputText: async () => {
      let text = '';
      for await (const chunk of input('utf8')) text += chunk;
      return text;
    },
    ask: process.stdin.isTTY === true && process.stderr.isTTY === true ? ask : 'no terminal',
    colour: { out: coloured(process.stdout), err: coloured(process.stderr) },
    cwd: process.cwd(),
    ended: async (code) => ((await out.failed()) ? UNUSABLE : code),
  };
}

/** Columns left beside a question for a short answer. */
const ROOM = 10;

async function ask(question: string): Promise<string> {
  const { createInterface } = await import('node:readline/promises');
  const terminal = createInterface({ input: process.stdin, output: process.stderr });
  try {
    // Ctrl-D closes the terminal without an answer, Ctrl-C rejects the question: both mean stop.
    return await new Promise<string>((answer, stop) => {
      terminal.once('close', () => stop(new Leave(UNUSABLE, '\nstopped; nothing is written')));
      terminal.once('SIGINT', () => terminal.close());
      terminal.question(fitted(shown(question), WIDTH - ROOM)).then(answer, stop);
    });
  } finally {
    terminal.close();
  }
}
