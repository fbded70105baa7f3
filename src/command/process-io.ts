/** The real world: this process' streams, terminal and environment. */
import { createInterface } from 'node:readline/promises';
import { Leave, UNUSABLE } from './exit.js';
import { splitLines } from './files.js';
import type { Io } from './io.js';

/** Colour on a terminal, unless NO_COLOR says otherwise (no-color.org). */
const coloured = (stream: NodeJS.WriteStream): boolean =>
  stream.isTTY === true && (process.env['NO_COLOR'] ?? '') === '' && process.env['TERM'] !== 'dumb';

export function processIo(): Io {
  // A reader that stops reading, such as head, is no fault of anyone's.
  process.stdout.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code === 'EPIPE') process.exit(0);
    throw error;
  });
  const input = (encoding: BufferEncoding): NodeJS.ReadStream => process.stdin.setEncoding(encoding);
  return {
    out: (text) => void process.stdout.write(text),
    err: (text) => void process.stderr.write(text),
    inputLines: () => splitLines(input('latin1')),
    inputText: async () => {
      let text = '';
      for await (const chunk of input('utf8')) text += chunk;
      return text;
    },
    ask: process.stdin.isTTY === true && process.stderr.isTTY === true ? ask : 'no terminal',
    colour: { out: coloured(process.stdout), err: coloured(process.stderr) },
    cwd: process.cwd(),
  };
}

async function ask(question: string): Promise<string> {
  const terminal = createInterface({ input: process.stdin, output: process.stderr });
  try {
    // Ctrl-D closes the terminal without an answer, Ctrl-C rejects the question: both mean stop.
    return await new Promise<string>((answer, stop) => {
      terminal.once('close', () => stop(new Leave(UNUSABLE, '\nstopped; nothing is written')));
      terminal.once('SIGINT', () => terminal.close());
      terminal.question(question).then(answer, stop);
    });
  } finally {
    terminal.close();
  }
}
