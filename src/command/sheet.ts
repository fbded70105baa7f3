/** `flatwright sheet JOB`: the set-up sheet, as a page, as text or as data. */
import { basename, extname } from 'node:path';
import type { Command } from 'commander';
import { playPrograms } from '../check/playback.js';
import { isPostable, type Plan, planJob } from '../plan/plan.js';
import { postPerFlat, postProgram } from '../post/program.js';
import { sheetPage } from '../sheet/page.js';
import type { SheetProgram } from '../sheet/parts/index-table.js';
import { buildSheet, type Sheet } from '../sheet/sheet.js';
import { checkSentence } from '../wording/check.js';
import { planSentence } from '../wording/plan.js';
import { type Done, GOOD, Leave, REFUSED, UNUSABLE } from './exit.js';
import type { Io } from './io.js';
import { machineOption } from './options.js';
import { planFindings } from './plan-findings.js';
import { sheetJson, sheetText } from './sheet-text.js';
import { loadJob, programText, sheetAssets } from './shipped.js';
import { type GoesOn, goesOn, type StandingOptions, withStandingOptions } from './standing.js';
import { writeFiles } from './write.js';

interface Options extends StandingOptions {
  readonly output?: string;
  readonly force?: true;
  readonly text?: true;
  readonly json?: true;
  readonly program?: readonly string[];
  readonly machine?: string;
}

export function sheetCommand(command: Command, io: Io, done: Done): void {
  withStandingOptions(command)
    .description(
      'Writes what to do with your hands for JOB: slope, touch-off, indexing, passes, inspection. The page prints on two sheets of paper and plays the dry run.',
    )
    .option('-o, --output <file>', 'write the page to this file')
    .option('--text', 'print it as text instead')
    .option('--json', 'print it as JSON instead')
    .option('--program <file...>', 'dry-run these programs on the page instead of the ones posted')
    .option('--force', 'replace a file that is already there')
    .addOption(machineOption())
    .addHelpText(
      'after',
      `
Examples:
  flatwright sheet samples/stem-bolt-hex-5.yaml -o hex.html
  flatwright sheet samples/stem-bolt-hex-5.yaml --text
  flatwright sheet samples/stem-bolt-hex-5.yaml --program mine.nc -o mine.html
`,
    )
    .action(async (path: string, options: Options) => {
      const { output } = options;
      if (output === undefined && options.text !== true && options.json !== true) {
        throw new Leave(UNUSABLE, 'say where the page goes with -o FILE.html, or take --text or --json');
      }
      const { job: whole, source, inputs } = await loadJob(path, io, options.machine);
      const on = goesOn(whole, options, io);
      const plan = planJob(on.job);
      io.err(planFindings(plan, source, io));
      if (!isPostable(plan)) throw new Leave(REFUSED, `${source.file}: no sheet is written`);
      const sheet = sheetFor(
        plan,
        await programsFor(plan, path, options, io, on.said),
        options.program === undefined,
      );
      if (options.json === true) io.out(`${JSON.stringify(sheetJson(sheet), null, 2)}\n`);
      else if (options.text === true) io.out(sheetText(sheet));
      if (output !== undefined) {
        const page = { path: output, text: sheetPage(sheet, sheetAssets()) };
        writeFiles([page], options.force === true, io, [...inputs, ...on.inputs, ...(options.program ?? [])]);
        io.err(
          `${output}: written, ${sheet.verdict === 'run' ? 'its program is sound on paper' : 'its program is REFUSED'}\n`,
        );
      }
      done(sheet.verdict === 'run' ? GOOD : REFUSED);
    });
}

async function programsFor(
  plan: Plan,
  path: string,
  { program }: Options,
  io: Io,
  said: GoesOn['said'],
): Promise<readonly SheetProgram[]> {
  if (program !== undefined) {
    return Promise.all(
      program.map(async (file) => {
        // Two files of one name in different folders keep their folders.
        const alone = program.filter((other) => basename(other) === basename(file)).length === 1;
        return { name: alone ? basename(file) : file, text: await programText(file, io) };
      }),
    );
  }
  const stem = path === '-' ? 'program' : basename(path, extname(path));
  const { holding, machine } = plan.job;
  const perFlat = machine.program.stops === 'ignored' && holding.index === 'by hand';
  const head = said === 'none' ? {} : { reentry: said };
  const posted = perFlat ? postPerFlat(plan, head) : [postProgram(plan, head)];
  return posted.map(({ suffix, text }) => ({ name: `${stem}${suffix}.nc`, text }));
}

export function sheetFor(plan: Plan, programs: readonly SheetProgram[], posted = true): Sheet {
  const { job } = plan;
  const playback = playPrograms(programs, job);
  return buildSheet({
    plan,
    programs,
    posted,
    playback,
    pins: playback.report.findings.map((finding) => ({
      program: finding.place.program,
      line: finding.place.line,
      severity: finding.severity,
      sentence: checkSentence(finding, job.units),
    })),
    warnings: plan.findings.map((finding) => planSentence(finding, job)),
  });
}
