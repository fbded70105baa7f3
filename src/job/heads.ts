/**
 * What a program says of itself at its head, a comment each: which job it is of, whether it cuts a face or dresses the rim,
 * only shows places, or goes on where something stands. Written where programs are made, read where they are checked.
 */
const HEADS = {
  job: 'JOB',
  face: 'FACE',
  rim: 'DRESS',
  outline: 'OUTLINE',
  reentry: 'RE-ENTRY',
} as const;

export type Head = keyof typeof HEADS;

/** The comment's text. */
export const headWords = (head: Head, text: string): string => `${HEADS[head]}: ${text}`;

/** What a comment says under that head; `none` if it is another one. */
export function headIn(head: Head, comment: string): string | 'none' {
  const begins = `${HEADS[head]}: `;
  return comment.startsWith(begins) && comment.length > begins.length ? comment.slice(begins.length) : 'none';
}

/** A line that is one comment: in brackets, or after a semicolon. */
const COMMENT = /^(?:\(([^()]*)\)|;\s?(.*?))\s*$/;

/** What the first lines of a program say under that head; `none` if they do not. */
export function headAmong(head: Head, lines: readonly string[]): string | 'none' {
  for (const line of lines) {
    // Most lines say nothing of the kind.
    if (!line.includes(HEADS[head])) continue;
    const [, bracketed, after] = COMMENT.exec(line) ?? [];
    const said = headIn(head, (bracketed ?? after ?? '').trim());
    if (said !== 'none') return said;
  }
  return 'none';
}
