/**
 * The command line: `run(argv, io)` gives an exit code and touches the world only through `io`.
 * 0 good, 1 refused, 2 the input cannot be used, 3 our own fault. Only the command asked for is loaded.
 */
import { Command, CommanderError } from 'commander';
import { InputError, problemLine } from '../file/problem.js';
import { type Done, type ExitCode, GOOD, Leave, OUR_FAULT, UNUSABLE } from './exit.js';
import { guidePage, guideTopics } from './guide.js';
import { type Io, paint } from './io.js';
import { version } from './version.js';

/** Gives a command its options and what it does. */
type Fill = (command: Command, io: Io, done: Done) => void;

/** Every command: how it is called, what the list says of it, and where the rest of it is. */
interface Row {
  readonly usage: string;
  /** What its argument is. */
  readonly argument: string;
  readonly summary: string;
  readonly load: () => Promise<Fill>;
}

const COMMANDS: Readonly<Record<string, Row>> = {
  new: {
    usage: '[file]',
    argument: 'where to write the job',
    summary: 'a starter job, from flags or by asking',
    load: async () => (await import('./new.js')).newCommand,
  },
  plan: {
    usage: '<job>',
    argument: 'job file, or - for standard input',
    summary: 'what will happen: size, slope, touch-off, passes, time, warnings',
    load: async () => (await import('./plan.js')).planCommand,
  },
  post: {
    usage: '<job>',
    argument: 'job file, or - for standard input',
    summary: 'the program, checked before it is written',
    load: async () => (await import('./post.js')).postCommand,
  },
  check: {
    usage: '<program...>',
    argument: 'program files, or - for standard input',
    summary: 'dry run: verdict, findings by block, the punch it would leave',
    load: async () => (await import('./check.js')).checkCommand,
  },
  sheet: {
    usage: '<job>',
    argument: 'job file, or - for standard input',
    summary: 'the set-up sheet: a page to print and to play the dry run, or text',
    load: async () => (await import('./sheet.js')).sheetCommand,
  },
  dial: {
    usage: '<job>',
    argument: 'job file, or - for standard input',
    summary: 'for machines without a control: dials, stops and passes for hand wheels',
    load: async () => (await import('./dial.js')).dialCommand,
  },
  block: {
    usage: '<job>',
    argument: 'job file, or - for standard input',
    summary: 'an indexing block to make: drawing, sizes, milling, measuring and truing',
    load: async () => (await import('./block.js')).blockCommand,
  },
  adjust: {
    usage: '<job>',
    argument: 'job file',
    summary: 'what you measured: where the flats stand, what to type, the program that finishes',
    load: async () => (await import('./adjust.js')).adjustCommand,
  },
  dress: {
    usage: '<job>',
    argument: 'job file',
    summary: 'the program that dresses the wheel on a diamond at a known place',
    load: async () => (await import('./dress.js')).dressCommand,
  },
  resharpen: {
    usage: '<job>',
    argument: 'job file',
    summary: 'face cuts left in a punch, what each leaves, the program for one',
    load: async () => (await import('./resharpen.js')).resharpenCommand,
  },
  size: {
    usage: '[socket...]',
    argument: 'hex 5, hex 1/4 in, square 3/8 in',
    summary: 'size to grind for a socket, blank, regrinds, pilot hole',
    load: async () => (await import('./size.js')).sizeCommand,
  },
  machines: {
    usage: '[machine]',
    argument: 'name of a shipped profile, or the path of your own',
    summary: 'profiles and what each can do; checks yours, --new asks for one',
    load: async () => (await import('./machines.js')).machinesCommand,
  },
  page: {
    usage: '',
    argument: '',
    summary: 'all of it in one HTML file, for a browser without Node or network',
    load: async () => (await import('./page.js')).pageCommand,
  },
  completion: {
    usage: '<shell>',
    argument: 'bash, zsh or fish',
    summary: 'what your shell needs to complete commands and options',
    load: async () => (await import('./completion.js')).completionCommand,
  },
  trace: {
    usage: '<program>',
    argument: 'program file, or - for standard input',
    summary: 'what a control would do, one JSON object a line',
    load: async () => (await import('./trace.js')).traceCommand,
  },
};

/** The command tree with these commands filled in; the others are there by name. */
export async function commandTree(
  io: Io,
  done: Done,
  wanted: readonly string[] = Object.keys(COMMANDS),
): Promise<Command> {
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
  flatwright dial my-hex.yaml                   for hand wheels, in place of a program

Pages to read: flatwright help TOPIC
  ${guideTopics().join(', ')}

A grinding wheel can burst and a spindle takes fingers: the marking of the wheel maker,
local rules and qualified practice come before anything printed here.
`,
    )
    .version(version, '-V, --version', 'show the version')
    .showHelpAfterError('(flatwright --help shows the commands)')
    .configureHelp({
      // Not every command in the list is loaded, but all of them take options.
      subcommandTerm: (command) =>
        command.name() === 'help'
          ? 'help [command]'
          : `${command.name()} [options] ${COMMANDS[command.name()]?.usage ?? ''}`,
    })
    .exitOverride()
    .configureOutput({
      writeOut: io.out,
      writeErr: io.err,
      getOutHasColors: () => io.colour.out,
      getErrHasColors: () => io.colour.err,
    });
  for (const [name, { usage, argument, summary, load }] of Object.entries(COMMANDS)) {
    const command = program.command(name).summary(summary);
    if (usage !== '') command.argument(usage, argument);
    command.copyInheritedSettings(program).helpOption('-h, --help', 'show this help');
    if (wanted.includes(name)) (await load())(command, io, done);
  }
  return program;
}

export async function run(argv: readonly string[], io: Io): Promise<ExitCode> {
  let code: ExitCode = GOOD;
  try {
    const [first, second] = argv;
    const page = first === 'help' && second !== undefined ? guidePage(second) : 'none';
    if (page !== 'none') {
      io.out(page);
      return GOOD;
    }
    const tree = await commandTree(
      io,
      (ended) => {
        code = ended;
      },
      // To complete them all, all are needed.
      first === 'completion' ? undefined : argv.slice(0, 2),
    );
    // Nothing asked for: what there is, and no fault.
    await tree.parseAsync(argv.length === 0 ? ['--help'] : [...argv], { from: 'user' });
    return code;
  } catch (error) {
    return failed(error, io, argv.includes('--json'));
  }
}

/** @param json whether a program reads the answer: then it gets what is wrong as data as well. */
function failed(error: unknown, io: Io, json: boolean): ExitCode {
  const { bad } = paint(io.colour.err);
  const asData = (code: ExitCode, problems: readonly object[]): ExitCode => {
    if (json && code === UNUSABLE) io.out(`${JSON.stringify({ exit: code, problems }, null, 2)}\n`);
    return code;
  };
  if (error instanceof CommanderError) {
    if (error.exitCode === 0) return GOOD;
    return asData(UNUSABLE, [{ message: error.message }]);
  }
  if (error instanceof InputError) {
    for (const problem of error.problems) io.err(`${bad('error')} ${problemLine(problem)}\n`);
    return asData(UNUSABLE, error.problems);
  }
  if (error instanceof Leave) {
    io.err(`${error.message}\n`);
    return asData(error.code, [{ message: error.message }]);
  }
  io.err(
    `${bad('error')} a fault in flatwright itself, not in your files: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}\n`,
  );
  return OUR_FAULT;
}
