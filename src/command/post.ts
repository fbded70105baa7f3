/** `flatwright post JOB`: the program, checked before it is written. */
import { basename } from 'node:path';
import type { Command } from 'commander';
import { type CheckReport, checkPrograms } from '../check/dry-run.js';
import type { Job } from '../job/job.js';
import { isPostable, type Plan, planJob } from '../plan/plan.js';
import { postOutline } from '../post/outline.js';
import { hasParts, needsSet, postProgram, postSplit } from '../post/program.js';
import { sayIn } from '../quantity/say.js';
import { mm } from '../quantity/unit.js';
import { checkJson, findingsText } from './check-screen.js';
import { type Done, GOOD, Leave, REFUSED, UNUSABLE } from './exit.js';
import { type Io, paint } from './io.js';
import { machineOption } from './options.js';
import { planFindings, refuseHandWheels } from './plan-findings.js';
import { planJson } from './plan-json.js';
import { loadJob } from './shipped.js';
import { type GoesOn, goesOn, type StandingOptions, withStandingOptions } from './standing.js';
import { leftOver, type Output, suffixed, writeFiles } from './write.js';

interface Options extends StandingOptions {
  readonly output?: string;
  readonly force?: true;
  readonly split?: true;
  readonly outline?: true;
  readonly writeRefused?: true;
  readonly json?: true;
  readonly machine?: string;
}

/** Stands at the top of a program written although its own check refused it. */
const REFUSED_NOTES = [
  'WARNING: THE CHECK REFUSED THIS PROGRAM, WRITTEN AT THE WISH OF THE USER',
  'WARNING: DO NOT RUN IT WITHOUT KNOWING WHY',
];

export function postCommand(command: Command, io: Io, done: Done): void {
  withStandingOptions(command)
    .description(
      'Writes the program that grinds the punch of JOB. It is dry-run first; one that its check refuses is not written.',
    )
    .option('-o, --output <file>', 'write to this file; without it the program goes to standard output')
    .option('--force', 'replace files that are already there')
    .option('--split', 'one complete program for each part between two stops, numbered files')
    .option(
      '--outline',
      'instead a program that shows the farthest places with the wheel at rest, a stop at each',
    )
    .option(
      '--write-refused',
      'write even a program that its check refuses, with a warning at its top; the exit code stays 1',
    )
    .addOption(machineOption())
    .option('--json', 'print programs and check as JSON instead')
    .addHelpText(
      'after',
      `
Examples:
  flatwright post samples/stem-bolt-hex-5.yaml -o hex.nc
  flatwright post samples/valve-cap-triangle.yaml --split -o cap.nc    writes cap-01.nc, cap-02.nc, ...
  flatwright post samples/stem-bolt-hex-5.yaml --from "finish flat 4" -o rest.nc
  flatwright post samples/stem-bolt-hex-5.yaml --outline -o places.nc
`,
    )
    .action(async (path: string, given: Options) => {
      // A hyphen is standard output, as for every tool.
      const { output, ...others } = given;
      const options: Options = output === undefined || output === '-' ? others : given;
      const { job: whole, source, inputs } = await loadJob(path, io, options.machine);
      refuseHandWheels(whole, source);
      const on = goesOn(whole, options, io);
      const { job } = on;
      if (options.outline === true && options.split === true)
        throw new Leave(UNUSABLE, '--outline is one program with stops of its own; leave --split out');
      if (options.split === true && options.output === undefined && options.json !== true) {
        throw new Leave(UNUSABLE, '--split writes several files; say where with -o FILE');
      }
      if (options.outline === true && job.machine.program.stops === 'ignored')
        throw new Leave(
          REFUSED,
          `${source.file}: ${job.machineName} runs on through program stops, so it cannot stop at a place to be looked at; jog there by the sheet`,
        );
      if (needsSet(job) && options.split !== true) {
        const why = `${job.machineName} runs on through program stops, and this job is indexed by hand`;
        throw new Leave(REFUSED, `${source.file}: ${why}; post it with --split -o FILE, one program a flat`);
      }
      const plan = planJob(job);
      io.err(planFindings(plan, source, io));
      if (!isPostable(plan)) {
        if (options.json === true)
          io.out(`${JSON.stringify({ written: false, plan: planJson(plan, source) }, null, 2)}\n`);
        throw new Leave(REFUSED, `${source.file}: no program is written`);
      }
      if (plan.totals.passes === 0)
        throw new Leave(REFUSED, `${source.file}: nothing is left to grind, so no program is written`);
      if (options.split === true && !hasParts(plan))
        throw new Leave(UNUSABLE, `${source.file}: has no stop to split at; leave --split out`);
      const { outputs, report } = postChecked(plan, options, on);
      if (report.verdict === 'refused' && options.writeRefused !== true) {
        io.err(findingsText(report, job, io.colour.err));
        throw new Leave(
          REFUSED,
          `${source.file}: its own check refuses the program, so it is not written; ${otherwise(report, job, options)}`,
        );
      }
      deliver(
        outputs,
        report,
        plan,
        { ...options, inputs: [...inputs, ...on.inputs], whole: on.said === 'none' ? path : 'no' },
        io,
      );
      done(report.verdict === 'run' ? GOOD : REFUSED);
    });
}

/** By how much shorter flats keep off the ends another size has left: 1 mm of size moves an end by 0.05 mm at 2.5 to 3 deg. */
const OFF_OLD_ENDS = mm(0.05);

/** What to do about a program its own check refuses. */
function otherwise(report: CheckReport, job: Job, { standing }: StandingOptions): string {
  // Flats of a smaller size end further on, and their first strokes meet the whole end of the old ones.
  if (standing === undefined || !report.findings.some(({ code }) => code === 'stroke-too-deep'))
    return '--write-refused writes it all the same';
  const shorter = sayIn(job.units).length(mm(job.punch.flatLength - OFF_OLD_ENDS));
  return `was ${standing} made for another size? Its flats end elsewhere then; keep off those ends with punch.flatLength ${shorter}`;
}

/** The programs under the names they will have, and what the check says of them. */
function postChecked(
  plan: Plan,
  options: Options,
  { said }: GoesOn,
): { readonly outputs: readonly Output[]; readonly report: CheckReport } {
  const write = (notes: readonly string[]): readonly Output[] => {
    const head = said === 'none' ? { notes } : { notes, reentry: said };
    const programs =
      options.outline === true
        ? [postOutline(plan)]
        : options.split === true
          ? postSplit(plan, head)
          : [postProgram(plan, head)];
    return programs.map(({ suffix, text }) => ({
      path: suffixed(options.output ?? 'program.nc', suffix),
      text,
    }));
  };
  const outputs = write([]);
  const report = checkPrograms(
    outputs.map(({ path, text }) => ({ name: path, text })),
    plan.job,
    { purpose: options.outline === true ? 'look' : 'cut' },
  );
  return { outputs: report.verdict === 'refused' ? write(REFUSED_NOTES) : outputs, report };
}

function deliver(
  outputs: readonly Output[],
  report: CheckReport,
  plan: Plan,
  options: Options & { readonly inputs: readonly string[]; readonly whole: string | 'no' },
  io: Io,
): void {
  const { job } = plan;
  if (options.output !== undefined) {
    writeFiles(outputs, options.force === true, io, options.inputs);
    io.err(leftOver(outputs, options.output, options.force === true, io));
  }
  if (options.json === true) {
    io.out(
      `${JSON.stringify({ written: options.output !== undefined, programs: outputs, check: checkJson(report, job) }, null, 2)}\n`,
    );
    return;
  }
  if (options.output === undefined) {
    for (const { text } of outputs) io.out(text);
    return;
  }
  const { good, bad } = paint(io.colour.err);
  const verdict = report.verdict === 'run' ? good('checked') : bad('REFUSED by its check');
  const names = outputs.map(({ path }) => basename(path)).join(', ');
  const say = sayIn(job.units);
  io.err(
    options.outline === true
      ? `${names}: ${verdict}, ${report.lines} lines, nothing is cut; the spindle stays off\n`
      : `${names}: ${verdict}, ${report.lines} lines, ${plan.totals.passes} passes, about ${say.time(plan.totals.running)} running\n`,
  );
  // What goes on has a sheet of its own, with the options it was posted with.
  if (options.outline !== true && report.verdict === 'run' && options.whole !== 'no')
    io.err(`Next: flatwright sheet ${options.whole} -o ${sheetName(options.output)}\n`);
  io.err(
    'Before the first stroke: ring test, guard, eye protection; the marking of the wheel and local rules come first.\n',
  );
}

/** The sheet beside its program. */
const sheetName = (program: string): string => `${program.replace(/\.[^./\\]*$/, '')}.html`;
