/** What the planner has against a job, for standard error. */
import type { JobSource } from '../file/read.js';
import type { Plan } from '../plan/plan.js';
import { slipsOf } from '../plan/slips.js';
import { planFindingLines } from '../wording/plan.js';
import { type Io, paint } from './io.js';

/** Findings, errors first, each with its place and cure; empty without any. */
export function planFindings(plan: Plan, source: JobSource, io: Io): string {
  const { bad, warn } = paint(io.colour.err);
  const sorted = plan.findings.toSorted(
    (a, b) => Number(a.severity !== 'error') - Number(b.severity !== 'error'),
  );
  const slips = slipsOf(plan.job).map(
    ({ key, meant }) =>
      `${warn('look')} ${key}: in ${meant}, everything would be in order; was it meant so? (${source.file}:${source.locate(key).line})\n`,
  );
  const lines = planFindingLines(sorted, plan.job, source).map(
    ({ severity, line }) => `${severity === 'error' ? bad('error') : warn('warning')} ${line}\n`,
  );
  // A slip of the pen explains the rest.
  return [...slips, ...lines].join('');
}
