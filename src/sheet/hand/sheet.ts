/**
 * The sheet for a machine without a control: everything for its hand wheels, in the order it is done. Its passes are
 * dry-run as a program of them would be; where that refuses them, so does the sheet.
 */
import { checkPrograms } from '../../check/dry-run.js';
import { type DialPlan, dialPlan } from '../../hand/dial.js';
import type { Job } from '../../job/job.js';
import type { Plan } from '../../plan/plan.js';
import { postProgram } from '../../post/program.js';
import { mm } from '../../quantity/unit.js';
import { checkSentence } from '../../wording/check.js';
import { planSentences } from '../../wording/plan.js';
import type { Part } from '../model.js';
import { headPart } from '../parts/broaching.js';
import { cautionPart } from '../parts/caution.js';
import { inspectionPart } from '../parts/inspection.js';
import { madePart } from '../parts/made.js';
import { slopePart } from '../parts/slope.js';
import { toolPart } from '../parts/tool.js';
import { wheelPart } from '../parts/wheel.js';
import {
  byEyePart,
  dialCorrectPart,
  dialOrderPart,
  dialPassesPart,
  dialZeroPart,
  standPart,
} from './dial.js';

export interface DialSheet {
  readonly dial: DialPlan;
  readonly title: string;
  readonly verdict: 'run' | 'refused';
  /** Findings of the dry run and of the plan, as sentences. */
  readonly findings: readonly string[];
  readonly parts: readonly Part[];
}

/** The same machine as a program would need it: with room to bring a flat up, where a hand draws the punch away. */
const roomy = (job: Job): Job => {
  const wide = [mm(-ROOM), mm(ROOM)] as const;
  const { travel } = job.machine;
  return {
    ...job,
    machine: { ...job.machine, travel: { x: wide, z: wide, ...(travel.y === undefined ? {} : { y: wide }) } },
  };
};
const ROOM = 10_000;

/** @throws DialError on a machine with a control. */
export function dialSheet(plan: Plan): DialSheet {
  const dial = dialPlan(plan);
  const { job } = plan;
  const report = checkPrograms([{ name: 'passes', text: postProgram(plan).text }], roomy(job));
  const eye = byEyePart(dial);
  return {
    dial,
    title: job.title,
    verdict: report.verdict,
    findings: [
      ...report.findings.map((finding) => checkSentence(finding, job.units)),
      ...planSentences(plan.findings, job).map(({ sentence }) => sentence),
    ],
    parts: [
      cautionPart(plan),
      madePart(plan),
      standPart(dial),
      wheelPart(plan),
      slopePart(plan),
      dialZeroPart(dial),
      dialOrderPart(dial),
      dialPassesPart(dial),
      dialCorrectPart(dial),
      inspectionPart(plan),
      ...(eye === 'none' ? [] : [eye]),
      headPart(plan),
      toolPart(plan),
    ],
  };
}
