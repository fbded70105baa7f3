/**
 * A dry run with rules of its own beside those of every run, for programs that grind no flats: what a block does is handed
 * to a judge, with how long ago the wheel was started, and what the judge reports stands beside what the run found.
 */
import type { Job } from '../job/job.js';
import type { Mm } from '../quantity/unit.js';
import { type CheckReport, createDryRun, type Moment, type Purpose } from './dry-run.js';
import { type BlockPlace, type CheckFinding, type FindingBody, severityOf } from './finding.js';
import { linesOf } from './read/lines.js';

export interface BesideReport extends Pick<CheckReport, 'verdict' | 'lines'> {
  readonly findings: readonly CheckFinding[];
  /** What came off the face or the rim in all. */
  readonly off: Mm;
}

/** Told of the block that is run; of `text` as a whole line, or of the whole program, where that is given. */
export type Report = (finding: FindingBody, text?: string) => void;

export interface Judge {
  /** @param waited seconds since the wheel was last switched. */
  readonly act: (moment: Moment, waited: number) => void;
  /** A line as it is written, after it has run. */
  readonly line?: (text: string) => void;
  /** After the last line. @returns what came off in all. */
  readonly end: () => Mm;
}

/** Runs `text` for `purpose` and lets a judge see all of it. Never throws on any text. */
export function runBeside(
  { text, name }: { readonly text: string; readonly name: string },
  job: Job,
  purpose: Purpose,
  judged: (report: Report) => Judge,
): BesideReport {
  const own: CheckFinding[] = [];
  const whole: BlockPlace = { program: name, line: 0, text: '' };
  let place = whole;
  let waited = 0;
  const judge = judged((finding, line) => {
    own.push({
      ...finding,
      severity: severityOf(finding.code),
      place: line === undefined ? place : { ...whole, text: line },
    });
  });
  const run = createDryRun(job, {
    purpose,
    observe: (moment) => {
      const { action } = moment;
      place = moment.place;
      if (action.kind === 'spindle') waited = 0;
      if (action.kind === 'dwell') waited += action.seconds;
      judge.act(moment, waited);
    },
  });
  run.start(name);
  for (const line of linesOf(text)) {
    run.line(line);
    judge.line?.(line);
  }
  const { findings: common, lines } = run.finish();
  place = whole;
  const off = judge.end();
  const findings = [...common, ...own];
  const refused = findings.some(({ severity }) => severity === 'error');
  return { verdict: refused ? 'refused' : 'run', findings, lines, off };
}
