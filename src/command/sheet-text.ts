/** The set-up sheet for the terminal and for machines: the same parts as the page has. */
import type { BlockSheet } from '../sheet/hand/block.js';
import type { DialSheet } from '../sheet/hand/sheet.js';
import type { Part } from '../sheet/model.js';
import { findingLines, programWords, type Sheet } from '../sheet/sheet.js';
import { checkJson } from './check-screen.js';
import { fitted, labelled, table, WIDTH } from './screen.js';

/** Room for a reading, or under a short title for a tick. */
const penFor = (title: string): string => '_'.repeat(title.length > 3 ? 8 : 2);

const noteText = (note: string): string => fitted(`  - ${note}\n`, WIDTH);

function partText({ heading, facts, tables, notes }: Part): string {
  return [
    `\n${heading}\n`,
    facts.length === 0
      ? ''
      : fitted(
          labelled(
            facts.map(({ label, value, pen }) => [
              label,
              pen === undefined ? value : `${value}; ${pen} ________`,
            ]),
          ),
          WIDTH,
        ),
    ...tables.map(({ head, rows, pen = [] }) =>
      table(
        [...head, ...pen],
        rows.map((row) => [...row, ...pen.map(penFor)]),
      ),
    ),
    ...notes.map(noteText),
  ].join('');
}

/** The sheet of an indexing block, for the terminal. */
export const blockText = ({ job, parts }: BlockSheet): string =>
  [`${job.title}: its indexing block\n`, ...parts.map(partText)].join('');

/** The sheet of a machine without a control, for the terminal. */
export function dialText({ title, verdict, findings, parts }: DialSheet): string {
  const said =
    verdict === 'run'
      ? 'SOUND ON PAPER  these passes, dry-run as a program would be\n'
      : 'DO NOT GRIND  these passes are refused\n';
  return [
    `${title}: sheet for hand wheels\n\n`,
    said,
    ...findings.map(noteText),
    ...parts.map(partText),
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

/** Parts without their pictures. */
export const partsJson = (parts: readonly Part[]): readonly object[] =>
  parts.map(({ id, heading, facts, tables, notes }) => ({ id, heading, facts, tables, notes }));

export const sheetJson = (sheet: Sheet): object => ({
  title: sheet.title,
  verdict: sheet.verdict,
  programs: sheet.programs.map(({ name }) => name),
  findings: sheet.pins,
  warnings: sheet.warnings,
  hands: sheet.plan.hands,
  parts: partsJson(sheet.parts),
  check: checkJson(sheet.playback.report, sheet.plan.job),
});
