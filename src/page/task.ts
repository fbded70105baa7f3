/**
 * What takes long on the page: a long program's dry run, thousands of punches ground in thought. A task is plain values,
 * so that another thread can do it, and answers with plain values: a page to show, words and rows. No page in it.
 */
import { reading } from '../check/reading.js';
import { readMachine } from '../file/read.js';
import { isPostable, planJob } from '../plan/plan.js';
import type { InSteps } from '../quantity/in-steps.js';
import { sheetInSteps } from '../sheet/of-plan.js';
import { sheetPage } from '../sheet/page.js';
import type { SheetProgram } from '../sheet/parts/index-table.js';
import { checkSentence } from '../wording/check.js';
import { type ErrorWords, errorWords, findingErrors, USUAL_PUNCHES } from '../wording/errors.js';
import { readRows, readWords } from '../wording/reading.js';
import { assets, type Opened, textsWith } from './shipped.js';
import { readWhole } from './work.js';

export type Task = {
  readonly text: string;
  readonly opened: Opened;
} & (
  | { readonly kind: 'dry run'; readonly programs: readonly SheetProgram[] }
  | { readonly kind: 'reading'; readonly machine: string; readonly programs: readonly SheetProgram[] }
  | { readonly kind: 'what may be off' }
);

export type Answer =
  | { readonly kind: 'dry run'; readonly refused: boolean; readonly lines: number; readonly page: string }
  | { readonly kind: 'what may be off'; readonly words: ErrorWords }
  | {
      readonly kind: 'reading';
      readonly refused: boolean;
      readonly said: string;
      readonly rows: readonly (readonly [label: string, text: string])[];
      readonly findings: readonly { readonly severity: 'error' | 'warning'; readonly sentence: string }[];
    }
  | { readonly kind: 'nothing' };

/** The same punches each time, so that only the job changes the answer. */
const SEED = 1;

/** Does a task in steps; `nothing` for a job that cannot be planned, which the page says by itself. */
export function* doTask(task: Task): InSteps<Answer> {
  if (task.kind === 'reading') {
    const machine = readMachine(textsWith(task.opened).machine(task.machine));
    const report = yield* reading(task.programs, machine);
    return {
      kind: 'reading',
      refused: report.verdict === 'refused',
      said: readWords(report, task.machine),
      rows: readRows(report, machine),
      findings: report.findings.map((finding) => {
        const { program, line } = finding.place;
        return {
          severity: finding.severity,
          sentence: `${program}${line > 0 ? `:${line}` : ''} ${checkSentence(finding, machine.units)}`,
        };
      }),
    };
  }
  const job = readWhole(task.text, task.opened);
  const plan = planJob(job);
  if (!isPostable(plan)) return { kind: 'nothing' };
  if (task.kind === 'dry run') {
    const sheet = yield* sheetInSteps(plan, task.programs, false);
    const { lines } = sheet.playback.report;
    return {
      kind: 'dry run',
      refused: sheet.verdict === 'refused',
      lines,
      page: sheetPage(sheet, assets),
    };
  }
  const found = yield* findingErrors(plan, USUAL_PUNCHES, SEED);
  return { kind: 'what may be off', words: errorWords(plan, found) };
}
