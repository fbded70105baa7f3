/** One pass over the job: read, planned, posted, dry-run, or what stands in the way. No page in it. */
import { InputError } from '../file/problem.js';
import { readJobFile } from '../file/read.js';
import { readStandingFile } from '../file/standing-file.js';
import type { Job } from '../job/job.js';
import { isPostable, type Plan, planJob } from '../plan/plan.js';
import { FROM_FILE } from '../plan/restart.js';
import { postForMachine } from '../post/program.js';
import { type DialSheet, dialSheet } from '../sheet/hand/sheet.js';
import { sheetFor } from '../sheet/of-plan.js';
import type { SheetProgram } from '../sheet/parts/index-table.js';
import type { Sheet } from '../sheet/sheet.js';
import { planSentences } from '../wording/plan.js';
import { type Opened, textsWith } from './shipped.js';

/** What is wrong, and at which key of the job; an empty key means the whole. */
export interface Complaint {
  readonly severity: 'error' | 'warning';
  readonly key: string;
  readonly sentence: string;
}

export interface Worked {
  readonly complaints: readonly Complaint[];
  readonly job: Job | 'unread';
  readonly plan: Plan | 'none';
  /** What the job posts; empty where it cannot. */
  readonly programs: readonly SheetProgram[];
  readonly sheet: Sheet | 'none';
  /** In place of program and sheet, for a machine with hand wheels. */
  readonly dial: DialSheet | 'none';
}

const NOTHING: Worked = {
  complaints: [],
  job: 'unread',
  plan: 'none',
  programs: [],
  sheet: 'none',
  dial: 'none',
};

/** A name for files: letters, figures and hyphens. */
export const fileName = (title: string): string =>
  title
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '') || 'punch';

/**
 * The job of a text, with how its punch stands where a file says so.
 * @throws InputError
 */
export function readWhole(text: string, opened: Opened): Job {
  const { job } = readJobFile({ file: 'job', text }, textsWith(opened));
  const { standing } = opened;
  return standing === 'none'
    ? job
    : { ...job, standing: readStandingFile({ file: standing.name, text: standing.text }, job) };
}

/**
 * Works the job through.
 * @param how far: the plan is there at once, posting and dry-running it takes a moment
 * @param other programs of somebody's to dry-run in place of its own
 */
export function work(
  text: string,
  opened: Opened,
  far: 'plan' | 'all',
  other: readonly SheetProgram[] = [],
): Worked {
  let job: Job;
  try {
    job = readWhole(text, opened);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    const complaints = error.problems.map(
      ({ file, line, key, message }): Complaint => ({
        severity: 'error',
        key,
        sentence: `${file === 'job' ? '' : `${file} `}${line > 0 ? `line ${line}: ` : ''}${message}`,
      }),
    );
    return { ...NOTHING, complaints };
  }
  const plan = planJob(job);
  const complaints = planSentences(plan.findings, job).map(
    ({ finding, sentence }): Complaint => ({ severity: finding.severity, key: finding.key, sentence }),
  );
  if (!isPostable(plan) || far === 'plan') return { ...NOTHING, complaints, job, plan };
  const names = other.map(({ name }) => name).join(', ');
  if (job.machine.dials !== undefined && other.length > 0) {
    const sentence = `${names} cannot be held against a machine with hand wheels; choose one with a control, or go back to the job's own`;
    return {
      ...NOTHING,
      complaints: [...complaints, { severity: 'error', key: 'machine', sentence }],
      job,
      plan,
    };
  }
  if (plan.totals.passes === 0 && other.length === 0) {
    const nothing = { severity: 'error', key: 'blank.flats', sentence: 'nothing is left to grind' } as const;
    return { ...NOTHING, complaints: [...complaints, nothing], job, plan };
  }
  // No program is for a machine without a control.
  if (job.machine.dials !== undefined) return { ...NOTHING, complaints, job, plan, dial: dialSheet(plan) };
  const goesOn = opened.standing === 'none' ? {} : { reentry: FROM_FILE };
  const programs = (plan.totals.passes === 0 ? [] : postForMachine(plan, goesOn)).map(
    ({ suffix, text: program }) => ({
      name: `${fileName(job.title)}${opened.standing === 'none' ? '' : '-goes-on'}${suffix}.nc`,
      text: program,
    }),
  );
  // Somebody's program that is the job's own to the letter is the job's own.
  const isOwn = other.map((each) => each.text).join() === programs.map((each) => each.text).join();
  const sheet = other.length > 0 && !isOwn ? sheetFor(plan, other, false) : sheetFor(plan, programs);
  return { ...NOTHING, complaints, job, plan, programs, sheet };
}
