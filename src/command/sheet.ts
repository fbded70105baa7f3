/** `flatwright sheet JOB`: the set-up sheet, as a page, as text or as data. */
import { existsSync, readFileSync } from 'node:fs';
import { basename, dirname, extname, join, resolve } from 'node:path';
import type { Command } from 'commander';
import { isPostable, type Plan, planJob } from '../plan/plan.js';
import { postForMachine } from '../post/program.js';
import { sheetFor } from '../sheet/of-plan.js';
import { sheetPage } from '../sheet/page.js';
import type { SheetProgram } from '../sheet/parts/index-table.js';
import { type Done, GOOD, Leave, REFUSED, UNUSABLE } from './exit.js';
import type { Io } from './io.js';
import { machineOption } from './options.js';
import { planFindings, refuseHandWheels } from './plan-findings.js';
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
      'Writes what to do with your hands for JOB: slope, touch-off, indexing, passes, inspection, the punch as a tool. The page prints on two or three sheets of paper and plays the dry run.',
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
      refuseHandWheels(whole, source);
      const on = goesOn(whole, options, io);
      const plan = planJob(on.job);
      io.err(planFindings(plan, source, io));
      if (!isPostable(plan)) throw new Leave(REFUSED, `${source.file}: no sheet is written`);
      const own = postedFor(plan, path, on.said);
      const given = options.program === undefined ? own : await programsOf(options.program, io);
      // Somebody's program that is the job's own to the letter is the job's own.
      const posted = own.map(({ text }) => text).join() === given.map(({ text }) => text).join();
      const sheet = sheetFor(plan, given, posted, posted ? otherFiles(own, path, output, io) : []);
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

/** Programs of the user's, by their names. */
const programsOf = (program: readonly string[], io: Io): Promise<readonly SheetProgram[]> =>
  Promise.all(
    program.map(async (file) => {
      // Two files of one name in different folders keep their folders.
      const alone = program.filter((other) => basename(other) === basename(file)).length === 1;
      return { name: alone ? basename(file) : file, text: await programText(file, io) };
    }),
  );

/** What the job posts, under the names post would give it. */
function postedFor(plan: Plan, path: string, said: GoesOn['said']): readonly SheetProgram[] {
  const stem = path === '-' ? 'program' : basename(path, extname(path));
  const head = said === 'none' ? {} : { reentry: said };
  return postForMachine(plan, head).map(({ suffix, text }) => ({ name: `${stem}${suffix}.nc`, text }));
}

/** Files of these names that lie about and are something else: the sheet must not be taken for theirs. */
function otherFiles(
  own: readonly SheetProgram[],
  path: string,
  output: string | undefined,
  io: Io,
): readonly string[] {
  const beside = [path, output].flatMap((file) =>
    file === undefined || file === '-' ? [] : [dirname(file)],
  );
  return [...new Set(beside)].flatMap((folder) =>
    own.flatMap(({ name, text }) => {
      const file = join(folder, name);
      const there = resolve(io.cwd, file);
      if (!existsSync(there) || readFileSync(there, 'latin1') === text) return [];
      return [
        `${file} is there and is another program than this sheet speaks of; post it anew, or give it with --program`,
      ];
    }),
  );
}
