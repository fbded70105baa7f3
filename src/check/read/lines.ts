/** A program's lines, split at LF, CRLF or CR; a last line end opens no further line. */

const ENDS = /\r\n|\n|\r/;

/** Lines of a whole text. */
export function linesOf(text: string): readonly string[] {
  const lines = text.split(ENDS);
  return lines.at(-1) === '' ? lines.slice(0, -1) : lines;
}

/** Lines of a text that comes in pieces, even where a piece ends between CR and LF. */
export async function* splitLines(chunks: AsyncIterable<string>): AsyncGenerator<string> {
  let rest = '';
  for await (const chunk of chunks) {
    const text = rest + chunk;
    // A CR at the very end may be half of a CRLF: keep it for the next chunk.
    const held = text.endsWith('\r') ? 1 : 0;
    const lines = text.slice(0, text.length - held).split(ENDS);
    rest = (lines.pop() ?? '') + text.slice(text.length - held);
    yield* lines;
  }
  if (rest === '') return;
  yield rest.endsWith('\r') ? rest.slice(0, -1) : rest;
}
