/** What somebody read off the punch, line by line, and what it comes to. No page in it. */
import { checkPrograms } from '../check/dry-run.js';
import { standingText } from '../file/standing-file.js';
import { adjust } from '../measure/adjust.js';
import { ANVILS } from '../measure/instrument.js';
import { readAcross, readHeight } from '../measure/read-text.js';
import { ReadingError } from '../measure/reading-error.js';
import { isPostable, type Plan, planJob } from '../plan/plan.js';
import { FROM_FILE } from '../plan/restart.js';
import type { Stage } from '../plan/stage.js';
import { postForMachine } from '../post/program.js';
import { QuantityError, readQuantity } from '../quantity/arithmetic.js';
import { type Mm, mm } from '../quantity/unit.js';
import { type AdjustReport, adjustReport, whyNot } from '../wording/adjust.js';

export interface Adjusted {
  readonly report: AdjustReport | 'none';
  /** Why there is none, or no program. */
  readonly why: string;
  /** What finishes the punch, and how it stands before; empty where nothing does. */
  readonly files: readonly { readonly name: string; readonly text: string }[];
}

/** An indicator's reading, told from a micrometer's: `indicator 1=+0.012`. */
const INDICATOR = /^\s*indicator\s+/i;

/** Readings stand a line each, or in one with blanks between. */
const BETWEEN = /[\n;]|\s+(?=indicator\b)|(?<!indicator)\s+(?=\d+\s*(?:-\s*\w+\s*)?[@=])/i;

/** @param name of the files, without an ending */
export function adjusted(
  plan: Plan,
  lines: string,
  stage: Stage | 'by the readings',
  name: string,
): Adjusted {
  const { job } = plan;
  const length = (text: string): Mm => mm(readQuantity(text, 'length', job.units));
  const list = lines.split(BETWEEN).filter((line) => line.trim() !== '');
  try {
    const found = adjust(
      plan,
      {
        across: list
          .filter((line) => !INDICATOR.test(line))
          .map((line) => readAcross(job, line, mm(0), length)),
        heights: list
          .filter((line) => INDICATOR.test(line))
          .map((line) => readHeight(line.replace(INDICATOR, ''), length)),
        instrument: ANVILS,
        warm: 0,
      },
      stage,
    );
    const rest = planJob({ ...job, standing: found.standing });
    const report = adjustReport(plan, found, rest);
    if (found.flats.some(({ small }) => small))
      return { report, why: 'A flat is under its least size: no program finishes that.', files: [] };
    const cannot = whyNot(job, found, rest);
    if (cannot !== 'it does') return { report, why: cannot.why, files: [] };
    if (!isPostable(rest)) return { report, why: 'What is left cannot be planned.', files: [] };
    const files = filesOf(rest, name);
    const { verdict } = checkPrograms(files.programs, rest.job);
    return verdict === 'run'
      ? { report, why: '', files: [...files.programs, files.standing] }
      : { report, why: 'Its own check refuses the program that would finish it.', files: [] };
  } catch (error) {
    if (error instanceof ReadingError || error instanceof QuantityError)
      return { report: 'none', why: error.message, files: [] };
    throw error;
  }
}

type File = Adjusted['files'][number];

function filesOf(rest: Plan, name: string): { readonly programs: readonly File[]; readonly standing: File } {
  const programs = postForMachine(rest, { reentry: FROM_FILE });
  return {
    programs: programs.map(({ suffix, text }) => ({ name: `${name}-finish${suffix}.nc`, text })),
    standing: { name: `${name}-finish.standing.yaml`, text: standingText(rest.job, rest.job.standing) },
  };
}
