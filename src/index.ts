/** The library: read a job, plan it, post it, check any program against it. Values in, values out. */
export type { CheckOptions, CheckReport, DryRun, ProgramText } from './check/dry-run.js';
export { checkPrograms, createDryRun } from './check/dry-run.js';
export type { CheckCode, CheckFinding } from './check/finding.js';
export type { MeasuredFlat, MeasuredPunch } from './check/measure.js';
export { createTracer, type TraceRow, type Tracer } from './check/trace.js';
export { jobTexts } from './command/files.js';
export { checkSentence } from './command/wording-check.js';
export { planSentence } from './command/wording-plan.js';
export type { Job } from './job/job.js';
export type { Machine } from './job/machine.js';
export { InputError, type Problem } from './job/problem.js';
export { type JobTexts, readJob, readMachine } from './job/read.js';
export type { TextFile } from './job/text-file.js';
export type { PlanCode, PlanFinding } from './plan/finding.js';
export { isPostable, type Plan, planJob } from './plan/plan.js';
export { type Program, postPerFlat, postProgram } from './post/program.js';
export type { LengthUnit, Mm, MmPerMin, Rad, RevPerMin, Seconds } from './quantity/unit.js';
