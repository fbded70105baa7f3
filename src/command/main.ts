/**
 * The command line: `run(argv, io)` gives an exit code and touches the world only through `io`.
 * 0 good, 1 refused, 2 the input cannot be used, 3 our own fault.
 */
import { createRequire } from 'node:module';
import { Command, CommanderError } from 'commander';
import { InputError, problemLine } from '../job/problem.js';
import { checkCommand } from './check.js';
import { type Done, type ExitCode, GOOD, Leave, OUR_FAULT, UNUSABLE } from './exit.js';
import { type Io, paint } from './io.js';
import { newCommand } from './new.js';
import { planCommand } from './plan.js';
import { postCommand } from './post.js';
import { sheetCommand } from './sheet.js';
import { sizeCommand } from './size.js';
import { traceCommand } from './trace.js';

const { version } = createRequire(import.meta.url)('../../package.json') as { readonly version: string };

const commands = [
  newCommand,
  planCommand,
  postCommand,
  checkCommand,
  sheetCommand,
  sizeCommand,
  traceCommand,
];

/** The whole command tree, for running and for documentation. */
export function commandTree(io: Io, done: Done): Command {
  const program = new Command('flatwright')
    .description(
      'Plans, writes and dry-runs the grinding of flats on rotary-broach punches with a cup wheel.',
    )
    .addHelpText(
      'after',
      `
Start here:
  flatwright new my-hex.yaml                    a starter job
  flatwright plan my-hex.yaml                   what will happen
  flatwright post my-hex.yaml -o my-hex.nc      the program, checked
  flatwright check my-hex.nc --job my-hex.yaml  dry-run it again, or any other program
  flatwright sheet my-hex.yaml -o my-hex.html   what to do with your hands, to print

A grinding wheel can burst and a spindle takes fingers: the marking of the wheel maker,
local rules and qualified practice come before anything printed here.
`,
    )
    .version(version, '-V, --version', 'show the version')
    .showHelpAfterError('(flatwright --help shows the commands)')
    .exitOverride()
    .configureOutput({
      writeOut: io.out,
      writeErr: io.err,
      getOutHasColors: () => io.colour.out,
      getErrHasColors: () => io.colour.err,
    });
  for (const command of commands) command(program, io, done);
  for (const command of program.commands)
    command.copyInheritedSettings(program).helpOption('-h, --help', 'show this help');
  return program;
}

export async function run(argv: readonly string[], io: Io): Promise<ExitCode> {
  let code: ExitCode = GOOD;
  try {
    await commandTree(io, (ended) => {
      code = ended;
    }).parseAsync([...argv], { from: 'user' });
    return code;
  } catch (error) {
    return failed(error, io);
  }
}

function failed(error: unknown, io: Io): ExitCode {
  const { bad } = paint(io.colour.err);
  if (error instanceof CommanderError) return error.exitCode === 0 ? GOOD : UNUSABLE;
  if (error instanceof InputError) {
    for (const problem of error.problems) io.err(`${bad('error')} ${problemLine(problem)}\n`);
    return UNUSABLE;
  }
  if (error instanceof Leave) {
    io.err(`${error.message}\n`);
    return error.code;
  }
  io.err(
    `${bad('error')} a fault in flatwright itself, not in your files: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}\n`,
  );
  return OUR_FAULT;
}
