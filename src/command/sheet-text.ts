/** The set-up sheet for the terminal and for machines: the same parts as the page has. */
import type { Part } from '../sheet/model.js';
import { findingLines, programWords, type Sheet } from '../sheet/sheet.js';
import { checkJson } from './check-screen.js';
import { labelled, table } from './screen.js';

const PEN = '________';

/** Notes are wrapped at this width, with a dash before each. */
const WIDTH = 110;

function noteText(note: string): string {
  const lines: string[] = [];
  let line = '';
  for (const word of note.split(' ')) {
    if (line !== '' && line.length + 1 + word.length > WIDTH - 4) {
      lines.push(line);
      line = word;
    } else line = line === '' ? word : `${line} ${word}`;
  }
  return [...lines, line].map((text, i) => `  ${i === 0 ? '-' : ' '} ${text}\n`).join('');
}

function partText({ heading, facts, tables, notes }: Part): string {
  return [
    `\n${heading}\n`,
    facts.length === 0 ? '' : labelled(facts.map(({ label, value }) => [label, value])),
    ...tables.map(({ head, rows, pen = [] }) =>
      table(
        [...head, ...pen],
        rows.map((row) => [...row, ...pen.map(() => PEN)]),
      ),
    ),
    ...notes.map(noteText),
  ].join('');
}

/** The sheet for the terminal, without its pictures. */
export function sheetText(sheet: Sheet): string {
  const { title, parts, verdict, programs, posted } = sheet;
  const names = programs.map(({ name }) => name).join(', ');
  const said = verdict === 'run' ? `SOUND ON PAPER  ${programWords(sheet)}\n` : `DO NOT RUN  ${names}\n`;
  return [
    `${title}: set-up sheet\n\n`,
    said,
    posted ? '' : "The program is not the plan's: wheel, passes and times below are the plan's.\n",
    ...findingLines(sheet).map(noteText),
    ...parts.map(partText),
  ].join('');
}

export const sheetJson = (sheet: Sheet): object => ({
  title: sheet.title,
  verdict: sheet.verdict,
  programs: sheet.programs.map(({ name }) => name),
  findings: sheet.pins,
  warnings: sheet.warnings,
  hands: sheet.plan.hands,
  parts: sheet.parts.map(({ id, heading, facts, tables, notes }) => ({ id, heading, facts, tables, notes })),
  check: checkJson(sheet.playback.report, sheet.plan.job),
});
