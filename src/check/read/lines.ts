/**
 * A program's lines, split at LF or CRLF; a last line end opens no further line. A return alone is no line end: some
 * controls drop it and read on, so it stays in its line, where the reader refuses it by name.
 */
import type { InSteps } from '../../quantity/in-steps.js';

const ENDS = /\r?\n/;

/** Lines of a whole text. */
export function linesOf(text: string): readonly string[] {
  const lines = text.split(ENDS);
  const last = lines.pop() ?? '';
  // The last line may end in half of a line end.
  return last === '' ? lines : [...lines, last.endsWith('\r') ? last.slice(0, -1) : last];
}

/** Programs of a set in lines, and how many those are. */
export interface SplitSet {
  readonly programs: readonly { readonly name: string; readonly lines: readonly string[] }[];
  readonly count: number;
}

export function splitSet(set: readonly { readonly name: string; readonly text: string }[]): SplitSet {
  const programs = set.map(({ name, text }) => ({ name, lines: linesOf(text) }));
  return { programs, count: programs.reduce((sum, { lines }) => sum + lines.length, 0) };
}

/** So many lines between two looks at how far it is. */
const A_STEP = 500;

/** Hands a set on line by line, one program after the other. */
export function* lineByLine(
  { programs, count }: SplitSet,
  to: { readonly start: (program: string) => void; readonly line: (text: string) => void },
): InSteps<void> {
  let done = 0;
  for (const { name, lines } of programs) {
    to.start(name);
    for (const line of lines) {
      if (done % A_STEP === 0) yield done / count;
      done += 1;
      to.line(line);
    }
  }
}

/** No control reads a line longer than this; what lies past it is not kept. */
const KEPT = 1024;

/** Lines of a text that comes in pieces, in the memory of one line however long a line is. */
export async function* splitLines(chunks: AsyncIterable<string>): AsyncGenerator<string> {
  let rest = '';
  for await (const chunk of chunks) {
    let from = 0;
    for (let end = chunk.indexOf('\n'); end >= 0; end = chunk.indexOf('\n', from)) {
      const line = rest + chunk.slice(from, Math.min(end, from + KEPT));
      yield line.endsWith('\r') ? line.slice(0, -1) : line;
      rest = '';
      from = end + 1;
    }
    if (rest.length < KEPT) rest += chunk.slice(from, from + KEPT);
  }
  if (rest === '') return;
  yield rest.endsWith('\r') ? rest.slice(0, -1) : rest;
}
