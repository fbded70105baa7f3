/**
 * The dry run: lines in, findings and the punch out. It reads only program text, job and machine, and
 * knows nothing of how a program was made. Lines may come one by one, so length costs no memory.
 */
import type { Job } from '../job/job.js';
import { holdAgainstOrder } from './against-order.js';
import { execute } from './execute.js';
import { type BlockPlace, type CheckFinding, type FindingBody, severityOf } from './finding.js';
import { type MeasuredPunch, measure } from './measure.js';
import { type Block, readLine } from './reader.js';
import { type ModalState, START } from './state.js';
import { createSweep } from './sweep.js';
import { createWatch } from './watch.js';

export interface CheckOptions {
  /** How the operator's block-delete switch stands; without it a block with `/` is refused. */
  readonly blockDelete?: 'on' | 'off';
}

export interface CheckReport {
  /** `run` if no error was found. */
  readonly verdict: 'run' | 'refused';
  readonly findings: readonly CheckFinding[];
  readonly punch: MeasuredPunch;
  /** Lines read, of all programs. */
  readonly lines: number;
}

/** More findings than anyone reads: the rest are counted. */
const MOST_FINDINGS = 200;

export interface DryRun {
  /** Begins a program; a set goes on with the punch as the one before left it. */
  readonly start: (program: string) => void;
  /** One line without its line end. */
  readonly line: (text: string) => void;
  /** Ends the last program and measures the punch. */
  readonly finish: () => CheckReport;
}

export function createDryRun(job: Job, options: CheckOptions = {}): DryRun {
  const sweep = createSweep(job);
  const watch = createWatch(job, sweep);
  const findings: CheckFinding[] = [];
  let left = 0;
  let refused = false;
  let lines = 0;
  let program = '';
  let line = 0;
  let state: ModalState = START;
  let percents = 0;
  let body = 0;
  let afterEnd = false;

  const report = (bodies: readonly FindingBody[], place: BlockPlace): void => {
    for (const finding of bodies) {
      const severity = severityOf(finding.code);
      if (severity === 'error') refused = true;
      if (findings.length < MOST_FINDINGS) findings.push({ ...finding, severity, place });
      else left += 1;
    }
  };

  const close = (): void => {
    if (program === '') return;
    report(watch.finish(state), { program, line, text: '' });
  };

  const readInto = (text: string, place: BlockPlace): void => {
    const read = readLine(text);
    switch (read.kind) {
      case 'refused':
        report([read.finding], place);
        break;
      case 'percent':
        percents += 1;
        break;
      case 'program number':
        if (body > 0) report([{ code: 'subprogram', text: text.trim() }], place);
        report(watch.comments(read.comments), place);
        break;
      case 'block':
        report(watch.comments(read.comments), place);
        if (read.words.length > 0) runBlock(read, place);
    }
  };

  const runBlock = (block: Block, place: BlockPlace): void => {
    body += 1;
    if (block.deletable && options.blockDelete === 'on') return;
    if (block.deletable && options.blockDelete === undefined) {
      report([{ code: 'block-delete' }], place);
      return;
    }
    const done = execute(state, block, job.machine);
    if (done.kind === 'refused') report([done.finding], place);
    else {
      state = done.state;
      for (const action of done.actions) report(watch.act(action, state), place);
    }
  };

  return {
    start: (name) => {
      close();
      if (program !== '') watch.restart();
      program = name;
      [line, state, percents, body, afterEnd] = [0, START, 0, 0, false];
    },
    line: (text) => {
      lines += 1;
      line += 1;
      if (text.length > job.machine.program.longestBlock) {
        // A control cuts such a block short or stops at it.
        const finding = {
          code: 'line-too-long',
          length: text.length,
          most: job.machine.program.longestBlock,
        } as const;
        return report([finding], { program, line, text });
      }
      // After the second % or an end nothing is read; text there is only said aloud.
      if (state.ended || percents >= 2) {
        if (text.trim() !== '' && text.trim() !== '%' && !afterEnd) {
          afterEnd = true;
          report([{ code: 'text-after-end' }], { program, line, text });
        }
        return;
      }
      readInto(text, { program, line, text });
    },
    finish: () => {
      close();
      const punch = measure(job, sweep.records());
      report(holdAgainstOrder(job, punch), { program, line: 0, text: '' });
      const all = left === 0 ? findings : [...findings, moreFindings(left, program)];
      return { verdict: refused ? 'refused' : 'run', findings: all, punch, lines };
    },
  };
}

const moreFindings = (left: number, program: string): CheckFinding => ({
  code: 'more-findings',
  severity: severityOf('more-findings'),
  left,
  place: { program, line: 0, text: '' },
});

/** A program's name and text. */
export interface ProgramText {
  readonly name: string;
  readonly text: string;
}

/** Splits at LF, CRLF or CR; a last line end opens no further line. */
export function linesOf(text: string): readonly string[] {
  const lines = text.split(/\r\n|\n|\r/);
  return lines.at(-1) === '' ? lines.slice(0, -1) : lines;
}

/** Checks one program, or a set that is run one after the other, against `job`. Never throws on any text. */
export function checkPrograms(
  programs: readonly ProgramText[],
  job: Job,
  options: CheckOptions = {},
): CheckReport {
  const run = createDryRun(job, options);
  for (const { name, text } of programs) {
    run.start(name);
    for (const line of linesOf(text)) run.line(line);
  }
  return run.finish();
}
