/** A sheet from a plan and the programs it goes with: dry-run, with every finding as a sentence. */
import { playing } from '../check/playback.js';
import type { Plan } from '../plan/plan.js';
import { type InSteps, toTheEnd } from '../quantity/in-steps.js';
import { checkSentence } from '../wording/check.js';
import { planSentences } from '../wording/plan.js';
import type { SheetProgram } from './parts/index-table.js';
import { buildSheet, type Sheet } from './sheet.js';

/**
 * @param posted the programs are the plan's own.
 * @param others sentences besides those of plan and dry run.
 */
export const sheetFor = (
  plan: Plan,
  programs: readonly SheetProgram[],
  posted = true,
  others: readonly string[] = [],
): Sheet => toTheEnd(sheetInSteps(plan, programs, posted, others));

/** The same in steps. */
export function* sheetInSteps(
  plan: Plan,
  programs: readonly SheetProgram[],
  posted: boolean,
  others: readonly string[] = [],
): InSteps<Sheet> {
  const { job } = plan;
  const playback = yield* playing(programs, job);
  return buildSheet({
    plan,
    programs,
    posted,
    playback,
    pins: playback.report.findings.map((finding) => ({
      program: finding.place.program,
      line: finding.place.line,
      severity: finding.severity,
      sentence: checkSentence(finding, job.units),
    })),
    warnings: [...planSentences(plan.findings, job).map(({ sentence }) => sentence), ...others],
  });
}
