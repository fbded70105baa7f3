/**
 * The library: read a job, plan it, post it, check any program against it. Values in, values out; nothing reached
 * from here needs Node. `flatwright/node` adds the shipped files.
 */
export type { CheckOptions, CheckReport, DryRun, ProgramText } from './check/dry-run.js';
export { checkPrograms, createDryRun } from './check/dry-run.js';
export type { CheckCode, CheckFinding } from './check/finding.js';
export { type Playback, type PlayStep, playPrograms } from './check/playback.js';
export type { MeasuredFlat, MeasuredPunch } from './check/punch/measure.js';
export { createTracer, type TraceRow, type Tracer } from './check/read/trace.js';
export { InputError, type Problem } from './file/problem.js';
export {
  type JobRead,
  type JobSource,
  type JobTexts,
  readJob,
  readJobFile,
  readMachine,
} from './file/read.js';
export type { TextFile } from './file/text-file.js';
export type { Job } from './job/job.js';
export type { Machine } from './job/machine.js';
export type { PlanCode, PlanFinding } from './plan/finding.js';
export { isPostable, type Plan, planJob } from './plan/plan.js';
export { type Program, postProgram, postSplit } from './post/program.js';
export type { LengthUnit, Mm, MmPerMin, Rad, RevPerMin, Seconds } from './quantity/unit.js';
export type { Part } from './sheet/model.js';
export { type PageAssets, sheetPage } from './sheet/page.js';
export { buildSheet, type Sheet, type SheetInput } from './sheet/sheet.js';
export { checkSentence } from './wording/check.js';
export { planSentence } from './wording/plan.js';
