/**
 * A program's lines, split at LF or CRLF; a last line end opens no further line. A return alone is no line end: some
 * controls drop it and read on, so it stays in its line, where the reader refuses it by name.
 */

const ENDS = /\r?\n/;

/** Lines of a whole text. */
export function linesOf(text: string): readonly string[] {
  const lines = text.split(ENDS);
  const last = lines.pop() ?? '';
  // The last line may end in half of a line end.
  return last === '' ? lines : [...lines, last.endsWith('\r') ? last.slice(0, -1) : last];
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
