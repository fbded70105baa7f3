/** What the planner has against a job, for standard error. */
import type { JobSource } from '../file/read.js';
import type { Job } from '../job/job.js';
import { isPostable, type Plan } from '../plan/plan.js';
import { slipsOf } from '../plan/slips.js';
import { planFindingLines } from '../wording/plan.js';
import { Leave, REFUSED, UNUSABLE } from './exit.js';
import { type Io, paint } from './io.js';

/** Ends the command if the job cannot be ground; `so` says what does not happen. @throws Leave */
export function refuseUnplannable(plan: Plan, source: JobSource, io: Io, so: string): void {
  if (isPostable(plan)) return;
  io.err(planFindings(plan, source, io));
  throw new Leave(REFUSED, `${source.file}: the job itself cannot be ground, so ${so}`);
}

/** Ends a command that needs a control. @throws Leave on a machine that has hand wheels instead */
export function refuseHandWheels(job: Job, { file }: JobSource): void {
  if (job.machine.dials === undefined) return;
  throw new Leave(
    UNUSABLE,
    `${file}: ${job.machineName} has hand wheels and no control, so no program is for it; flatwright dial ${file} writes what they are set to`,
  );
}

/** Findings, errors first, each with its place and cure; empty without any. */
export function planFindings(plan: Plan, source: JobSource, io: Io): string {
  const { bad, warn } = paint(io.colour.err);
  const sorted = plan.findings.toSorted(
    (a, b) => Number(a.severity !== 'error') - Number(b.severity !== 'error'),
  );
  const slips = slipsOf(plan).map(
    ({ key, meant }) =>
      `${warn('look')} ${key}: in ${meant}, everything would be in order; was it meant so? (${source.file}:${source.locate(key).line})\n`,
  );
  const lines = planFindingLines(sorted, plan.job, source).map(
    ({ severity, line }) => `${severity === 'error' ? bad('error') : warn('warning')} ${line}\n`,
  );
  // A slip of the pen explains the rest.
  return [...slips, ...lines].join('');
}
