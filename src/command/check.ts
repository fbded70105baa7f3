/** `flatwright check PROGRAM... --job JOB`: the dry run before metal is touched. */
import type { Command } from 'commander';
import { createDryRun } from '../check/dry-run.js';
import { checkJson, checkScreen } from './check-screen.js';
import { type Done, GOOD, REFUSED } from './exit.js';
import type { Io } from './io.js';
import { blockDeleteOption, machineOption } from './options.js';
import { loadJob, programLines } from './shipped.js';

interface Options {
  readonly job: string;
  readonly machine?: string;
  readonly blockDelete?: 'on' | 'off';
  readonly json?: true;
}

export function checkCommand(command: Command, io: Io, done: Done): void {
  command
    .description(
      'Reads any program and says whether it is safe to run for JOB and which punch it would leave. Several programs are taken as a set, run one after the other on one punch.',
    )
    .requiredOption('--job <file>', 'the job it should make')
    .addOption(machineOption())
    .addOption(blockDeleteOption())
    .option('--json', 'print the report as JSON')
    .addHelpText(
      'after',
      `
Examples:
  flatwright check hex.nc --job samples/stem-bolt-hex-5.yaml
  flatwright check cap-0*.nc --job samples/valve-cap-triangle.yaml

Exit code 0: good to run; 1: refused; 2: a file cannot be used.
`,
    )
    .action(async (paths: readonly string[], options: Options) => {
      const { job } = await loadJob(options.job, io, options.machine);
      const run = createDryRun(
        job,
        options.blockDelete === undefined ? {} : { blockDelete: options.blockDelete },
      );
      for (const path of paths) {
        run.start(path);
        for await (const line of programLines(path, io)) run.line(line);
      }
      const report = run.finish();
      io.out(
        options.json === true
          ? `${JSON.stringify(checkJson(report, job), null, 2)}\n`
          : checkScreen(report, job, io.colour.out),
      );
      done(report.verdict === 'run' ? GOOD : REFUSED);
    });
}
