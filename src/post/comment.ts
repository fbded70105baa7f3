/**
 * Comments. Whatever text a job brings, a comment stays one comment: 7-bit capitals, no brackets, no line
 * break, no semicolon, and only our own INDEX lines may begin with INDEX. Some controls act on comments
 * that begin with a key word; every line of ours begins with its own label.
 */

/** Letters that decompose to nothing 7-bit. */
const LETTERS: Readonly<Record<string, string>> = {
  ß: 'SS',
  Æ: 'AE',
  Ø: 'O',
  Œ: 'OE',
  Ł: 'L',
  Đ: 'D',
  '×': 'X',
  '°': ' DEG',
};

/** `text` as a control can show it: A-Z, 0-9, space and . , + - / = : only. */
export function plainText(text: string): string {
  return text
    .normalize('NFKD')
    .replace(/\p{Mark}/gu, '')
    .replace(/[^\x20-\x7e]/gu, (letter) => LETTERS[letter] ?? LETTERS[letter.toUpperCase()] ?? ' ')
    .toUpperCase()
    .replace(/[^A-Z0-9 .,+\-/=:]/g, ' ')
    .replace(/ +/g, ' ')
    .trim();
}

/** A line of a program before it is numbered. */
export type Line =
  | { readonly kind: 'comment'; readonly text: string }
  | { readonly kind: 'block'; readonly words: readonly string[] };

export const comment = (text: string): Line => ({ kind: 'comment', text });
export const block = (...words: readonly string[]): Line => ({ kind: 'block', words });

/** A space that does not break: a number stays with its unit. */
export const TIED = '\u00a0';

/** Breaks `text` at spaces into pieces of at most `room`; every piece after the first opens with a dash. */
export function wrap(text: string, room: number): readonly string[] {
  const pieces: string[] = [];
  let piece = '';
  // A word longer than a line is cut; only a name somebody typed can be one.
  for (const word of text
    .split(' ')
    .flatMap((long) => long.match(new RegExp(`.{1,${room - 2}}`, 'g')) ?? [])) {
    const longer = piece === '' ? word : `${piece} ${word}`;
    if (longer.length <= room) piece = longer;
    else {
      pieces.push(piece);
      piece = `- ${word === '-' ? '' : word}`.trimEnd();
    }
  }
  return [...pieces, piece].map((part) => part.replaceAll(TIED, ' '));
}
