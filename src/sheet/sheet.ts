/** The whole sheet as data: verdict, ten parts, the dry run. Nothing is written here. */
import type { Playback } from '../check/playback.js';
import type { Plan } from '../plan/plan.js';
import { cautionPart } from './caution.js';
import type { GaugeSet } from './gauge.js';
import { headPart } from './head.js';
import { indexPart, type SheetProgram } from './index-table.js';
import { inspectionPart } from './inspection.js';
import { madePart } from './made.js';
import type { Part } from './model.js';
import { passesPart } from './passes.js';
import type { Pin } from './play.js';
import { sidePart } from './side.js';
import { slopePart } from './slope.js';
import { touchPart } from './touch.js';
import { wheelPart } from './wheel.js';

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
  readonly gauges: GaugeSet;
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

/** The parts of the sheet, in the order they are read. */
export function buildSheet(input: SheetInput): Sheet {
  const { plan, programs, playback, gauges } = input;
  return {
    ...input,
    title: plan.job.title,
    verdict: playback.report.verdict,
    parts: [
      cautionPart(),
      madePart(plan),
      sidePart(plan),
      slopePart(plan, gauges),
      touchPart(plan),
      indexPart(plan, programs),
      wheelPart(plan),
      passesPart(plan),
      inspectionPart(plan),
      headPart(plan),
    ],
  };
}
