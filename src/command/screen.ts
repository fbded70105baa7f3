/** Aligned text for the terminal: label columns and tables. */

/** `  Punch      hex, AF 5.06 mm`: labels in one column, continued lines under the text. */
export function labelled(rows: readonly (readonly [label: string, text: string])[], indent = 2): string {
  const width = Math.max(...rows.map(([label]) => label.length)) + 2;
  return rows.map(([label, text]) => `${' '.repeat(indent)}${label.padEnd(width)}${text}\n`).join('');
}

/** Columns as wide as their widest cell; numbers to the right, text to the left. */
export function table(head: readonly string[], rows: readonly (readonly string[])[], indent = 2): string {
  const widths = head.map((title, i) => Math.max(title.length, ...rows.map((row) => row[i]?.length ?? 0)));
  const numeric = head.map((_, i) => rows.every((row) => /^-?[\d.]*$/.test(row[i] ?? '')));
  const line = (cells: readonly string[]): string =>
    `${' '.repeat(indent)}${cells
      .map((cell, i) => (numeric[i] === true ? cell.padStart(widths[i] ?? 0) : cell.padEnd(widths[i] ?? 0)))
      .join('  ')
      .trimEnd()}\n`;
  return [head, ...rows].map(line).join('');
}
