/** Aligned text for the terminal: label columns and tables. */

/** A label and what stands beside it. */
export type Row = readonly [label: string, text: string];

/** `  Punch      hex, AF 5.06 mm`: labels in one column, continued lines under the text. */
export function labelled(rows: readonly Row[], indent = 2): string {
  const width = Math.max(...rows.map(([label]) => label.length)) + 2;
  return rows.map(([label, text]) => `${' '.repeat(indent)}${label.padEnd(width)}${text}\n`).join('');
}

/** A screen of a workshop: lines are kept within it. */
export const WIDTH = 80;

/** Rows of it, less one for what is typed next. */
export const ROWS = 39;

/** How many rows a text takes there. */
export const rowsOf = (text: string): number => fitted(text.trimEnd(), WIDTH).split('\n').length;

/** Without its empty lines where it would not fit a screen: headings still stand out. */
export const onOneScreen = (text: string): string => (rowsOf(text) <= ROWS ? text : withoutGaps(text));

export const withoutGaps = (text: string): string => text.replace(/\n\n/g, '\n');

/** Columns as wide as their widest cell; numbers to the right, text to the left. Too wide for a screen, a row a paragraph. */
export function table(head: readonly string[], rows: readonly (readonly string[])[], indent = 2): string {
  const widths = head.map((title, i) => Math.max(title.length, ...rows.map((row) => row[i]?.length ?? 0)));
  const numeric = head.map((_, i) => rows.every((row) => /^-?[\d.]*$/.test(row[i] ?? '')));
  const whole = widths.reduce((sum, width) => sum + width + 2, indent - 2);
  if (whole > WIDTH) return paragraphs(head, rows, indent);
  const line = (cells: readonly string[]): string =>
    `${' '.repeat(indent)}${cells
      .map((cell, i) => (numeric[i] === true ? cell.padStart(widths[i] ?? 0) : cell.padEnd(widths[i] ?? 0)))
      .join('  ')
      .trimEnd()}\n`;
  return [head, ...rows].map(line).join('');
}

/** A cell this long is a sentence, and needs no title over it. */
const SENTENCE = 24;

/** `1 - 4   roughed 5.120, front 5.060`: the first cell, then each other with its title; what does not apply is left out. */
function paragraphs(
  [, ...titles]: readonly string[],
  rows: readonly (readonly string[])[],
  indent: number,
): string {
  const sentences = titles.map((_, i) => rows.some((row) => (row[i + 1] ?? '').length > SENTENCE));
  const text = labelled(
    rows.map(
      ([first = '', ...cells]): Row => [
        first,
        cells
          .map((cell, i) => (sentences[i] === true ? cell : `${titles[i]} ${cell}`))
          .filter((_, i) => cells[i] !== '-')
          .join(', '),
      ],
    ),
    indent,
  );
  return fitted(text, WIDTH);
}

/** A label and the gap after it, or the indent of a line: where its continuation stands. */
const HANG = /^( *\S+(?: \S+)* {2,}(?=\S)| *(?:- |error |warning )?)/;
/** No continuation stands farther in than this. */
const DEEPEST = 24;

/**
 * Lines longer than `width` broken at words, what follows under where the text began. A line without a place to break
 * stays as it is: a path must remain one.
 */
export function fitted(text: string, width: number): string {
  return text
    .split('\n')
    .map((line) => (line.length <= width ? line : broken(line, width)))
    .join('\n');
}

function broken(line: string, width: number): string {
  const gap = HANG.exec(line)?.[1]?.length ?? 0;
  const hang = ' '.repeat(gap === 0 ? 2 : Math.min(gap, DEEPEST));
  const lines: string[] = [];
  let rest = line;
  while (rest.length > width) {
    const at = rest.lastIndexOf(' ', width);
    // Nothing to break at but the hang itself.
    if (at <= hang.length) break;
    lines.push(rest.slice(0, at).trimEnd());
    rest = hang + rest.slice(at + 1);
  }
  return [...lines, rest].join('\n');
}
