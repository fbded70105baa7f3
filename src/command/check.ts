/** `flatwright check PROGRAM... --job JOB`: the dry run before metal is touched. */
import type { Command } from 'commander';
import { createDryRun, type DryRun } from '../check/dry-run.js';
import { UNFINISHED } from '../check/finding.js';
import { type ReadingReport, reading } from '../check/reading.js';
import { standingText } from '../file/standing-file.js';
import { headAmong } from '../job/heads.js';
import { toTheEnd } from '../quantity/in-steps.js';
import { checkOther, otherKind } from './check-other.js';
import { checkJson, checkScreen, readJson, readScreen } from './check-screen.js';
import { type Done, GOOD, Leave, REFUSED, UNUSABLE } from './exit.js';
import type { Io } from './io.js';
import { blockDeleteOption, lengthOption } from './options.js';
import { refuseHandWheels } from './plan-findings.js';
import { loadJob, loadMachine, programLines } from './shipped.js';
import { goesOn, goesOnAsSaid, standingOption } from './standing.js';
import { writeFiles } from './write.js';

interface Options {
  readonly job?: string;
  readonly standing?: string;
  readonly left?: string;
  readonly force?: true;
  readonly machine?: string;
  readonly blockDelete?: 'on' | 'off';
  readonly raised?: string;
  readonly json?: true;
}

export function checkCommand(command: Command, io: Io, done: Done): void {
  command
    .description(
      'Reads any program and says whether it is safe to run for JOB and which punch it would leave. Several programs are taken as a set, run one after the other on one punch.',
    )
    .option('--job <file>', 'the job it should make')
    .option(
      '--machine <name>',
      'for this machine profile instead of the one the job names; without --job it is only read',
    )
    .addOption(blockDeleteOption())
    .addOption(standingOption())
    .option('--raised <length>', 'as a run in the air, the zero set so much higher: nothing is to be cut')
    .option('--left <file>', 'write how it leaves the punch to this file, to go on from')
    .option('--force', 'replace that file if it is there')
    .option('--json', 'print the report as JSON')
    .addHelpText(
      'after',
      `
Examples:
  flatwright check hex.nc --job samples/stem-bolt-hex-5.yaml
  flatwright check cap-0*.nc --job samples/valve-cap-triangle.yaml
  flatwright check hex.nc --job samples/stem-bolt-hex-5.yaml --raised 5
  flatwright check other.nc --machine bench-mill-rotary

Exit code 0: good to run; 1: refused; 2: a file cannot be used.
`,
    )
    .action(async (paths: readonly string[], options: Options) => {
      if (options.job === undefined) {
        const report = await readAlone(paths, options, io);
        done(report.verdict === 'read' ? GOOD : REFUSED);
        return;
      }
      const { job: whole, source, inputs } = await loadJob(options.job, io, options.machine);
      refuseHandWheels(whole, source);
      const { blockDelete, standing, left } = options;
      const known = goesOn(whole, standing === undefined ? {} : { standing }, io).job;
      const switched = blockDelete === undefined ? {} : { blockDelete };
      const asked =
        options.raised === undefined ? 'no' : lengthOption('--raised', options.raised, whole.units);
      let job = known;
      let run: DryRun | 'none' = 'none';
      for (const path of paths) {
        const { head, rest } = await opened(programLines(path, io));
        const other = otherKind(head);
        if (other !== 'none') {
          const idle = IDLE.find((option) => options[option] !== undefined);
          refuseIdle(path, idle, paths.length);
          const lines = [...head];
          for await (const line of rest) lines.push(line);
          const found = checkOther(other, { name: path, text: lines.join('\n') }, whole);
          io.out(options.json === true ? found.json : found.screen(io.colour.out));
          done(found.verdict === 'run' ? GOOD : REFUSED);
          return;
        }
        if (run === 'none') {
          const said = standing === undefined ? headAmong('reentry', head) : 'none';
          job = said === 'none' ? known : goesOnAsSaid(known, said);
          // A program that only shows places says so in its head; what it cuts it should not.
          const looks = headAmong('outline', head) !== 'none';
          run = createDryRun(job, {
            ...switched,
            standing: said === 'none' ? 'known' : 'believed',
            purpose: asked !== 'no' ? { raised: asked } : looks ? 'look' : 'cut',
          });
        }
        run.start(path);
        for (const line of head) run.line(line);
        for await (const line of rest) run.line(line);
      }
      if (run === 'none') throw new Leave(UNUSABLE, 'no program is given');
      const report = run.finish();
      const worse = report.findings.find(
        ({ code, severity }) => severity === 'error' && !UNFINISHED.has(code),
      );
      if (left !== undefined && worse !== undefined)
        io.err(
          `${left}: not written: the program does worse than stop early (${worse.code}), and leaves nobody knows what\n`,
        );
      else if (left !== undefined) {
        const text = standingText(job, report.left);
        writeFiles([{ path: left, text }], options.force === true, io, [
          ...inputs,
          ...paths,
          ...(standing === undefined ? [] : [standing]),
        ]);
      }
      io.out(
        options.json === true
          ? `${JSON.stringify(checkJson(report, job), null, 2)}\n`
          : checkScreen(report, job, io.colour.out),
      );
      done(report.verdict === 'run' ? GOOD : REFUSED);
    });
}

/** Without a job nobody knows the punch: the program is read for a machine alone. */
async function readAlone(paths: readonly string[], options: Options, io: Io): Promise<ReadingReport> {
  const { machine: name } = options;
  if (name === undefined)
    throw new Leave(
      UNUSABLE,
      'say --job JOB, to see what it does to the punch; or --machine NAME, to read it for a machine alone',
    );
  const idle = IDLE.find((option) => options[option] !== undefined);
  if (idle !== undefined)
    throw new Leave(UNUSABLE, `${optionOf(idle)} goes with --job; without one the program is only read`);
  const machine = loadMachine(name, io);
  const programs = [];
  for (const path of paths) {
    const lines: string[] = [];
    for await (const line of programLines(path, io)) lines.push(line);
    programs.push({ name: path, text: lines.join('\n') });
  }
  if (programs.length === 0) throw new Leave(UNUSABLE, 'no program is given');
  const report = toTheEnd(reading(programs, machine));
  io.out(
    options.json === true ? readJson(report, machine) : readScreen(report, machine, name, io.colour.out),
  );
  return report;
}

/** Options that only say something of a program that grinds flats. */
const IDLE = ['raised', 'left', 'standing', 'blockDelete'] as const;

const optionOf = (key: (typeof IDLE)[number]): string => `--${key === 'blockDelete' ? 'block-delete' : key}`;

function refuseIdle(path: string, idle: (typeof IDLE)[number] | undefined, programs: number): void {
  if (idle !== undefined)
    throw new Leave(
      UNUSABLE,
      `${path}: grinds no flats, and ${optionOf(idle)} goes with those; leave it out`,
    );
  if (programs > 1)
    throw new Leave(UNUSABLE, `${path}: grinds no flats and is checked by itself, not in a set`);
}

/** A head that says where it goes on says it within so many lines. */
const HEAD = 80;

/** The first lines of a program, and those after. */
async function opened(
  lines: AsyncIterable<string>,
): Promise<{ readonly head: readonly string[]; readonly rest: AsyncIterable<string> }> {
  const iterator = lines[Symbol.asyncIterator]();
  const head: string[] = [];
  while (head.length < HEAD) {
    const { value, done } = await iterator.next();
    if (done === true) break;
    head.push(value);
  }
  return { head, rest: { [Symbol.asyncIterator]: () => iterator } };
}
