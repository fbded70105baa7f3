/** The whole sheet as data: verdict, its parts, the dry run. Nothing is written here. */
import type { Playback } from '../check/playback.js';
import { markIn } from '../job/fingerprint.js';
import type { Plan } from '../plan/plan.js';
import type { Part } from './model.js';
import { headPart } from './parts/broaching.js';
import { cautionPart } from './parts/caution.js';
import { indexPart, type SheetProgram } from './parts/index-table.js';
import { inspectionPart } from './parts/inspection.js';
import { madePart } from './parts/made.js';
import { passesPart } from './parts/passes.js';
import { sidePart } from './parts/side.js';
import { slopePart } from './parts/slope.js';
import { toolPart } from './parts/tool.js';
import { touchPart } from './parts/touch.js';
import { wheelPart } from './parts/wheel.js';
import type { Pin } from './play.js';

export interface SheetInput {
  readonly plan: Plan;
  /** The programs the sheet goes with, and their dry run. */
  readonly programs: readonly SheetProgram[];
  /** They are the plan's own, not somebody's. */
  readonly posted: boolean;
  readonly playback: Playback;
  /** Findings of plan and dry run as sentences. */
  readonly pins: readonly Pin[];
  readonly warnings: readonly string[];
}

export interface Sheet extends SheetInput {
  readonly title: string;
  readonly verdict: 'run' | 'refused';
  readonly parts: readonly Part[];
}

/** Findings of dry run and plan, each with its place, as page and text list them. */
export const findingLines = ({ pins, warnings }: Sheet): readonly string[] => [
  ...pins.map(({ program, line, sentence }) => `${line === 0 ? program : `${program}:${line}`} ${sentence}`),
  ...warnings,
];

/** Which programs the sheet speaks of: the job's own, by how they are marked, or somebody's, by their names. */
export function programWords({ programs, posted, playback }: Sheet): string {
  const { lines } = playback.report;
  const names = programs.map(({ name }) => name).join(', ');
  if (!posted) return `${names}, ${lines} lines`;
  const marks = programs.flatMap(({ text }) => markIn(text) ?? []);
  const one = programs.length === 1;
  return `the ${one ? 'program' : 'set of programs'} this job posts (${names}), ${lines} lines${one ? `, mark ${marks[0] ?? 'none'}` : ''}`;
}

/** The parts of the sheet, in the order they are read. */
export function buildSheet(input: SheetInput): Sheet {
  const { plan, programs, playback } = input;
  return {
    ...input,
    title: plan.job.title,
    verdict: playback.report.verdict,
    parts: [
      cautionPart(plan),
      madePart(plan),
      sidePart(plan),
      wheelPart(plan),
      slopePart(plan),
      touchPart(plan),
      indexPart(plan, programs),
      passesPart(plan),
      inspectionPart(plan),
      headPart(plan),
      toolPart(plan),
    ],
  };
}
