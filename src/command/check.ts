/** `flatwright check PROGRAM... --job JOB`: the dry run before metal is touched. */
import type { Command } from 'commander';
import { createDryRun, type DryRun } from '../check/dry-run.js';
import { UNFINISHED } from '../check/finding.js';
import { standingText } from '../file/standing-file.js';
import { checkOther, otherKind } from './check-other.js';
import { checkJson, checkScreen } from './check-screen.js';
import { type Done, GOOD, Leave, REFUSED, UNUSABLE } from './exit.js';
import type { Io } from './io.js';
import { blockDeleteOption, lengthOption, machineOption } from './options.js';
import { refuseHandWheels } from './plan-findings.js';
import { loadJob, programLines } from './shipped.js';
import { goesOn, goesOnAsSaid, standingOption } from './standing.js';
import { writeFiles } from './write.js';

interface Options {
  readonly job: string;
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
    .requiredOption('--job <file>', 'the job it should make')
    .addOption(machineOption())
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

Exit code 0: good to run; 1: refused; 2: a file cannot be used.
`,
    )
    .action(async (paths: readonly string[], options: Options) => {
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
          const said = standing === undefined ? reentryOf(head) : 'none';
          job = said === 'none' ? known : goesOnAsSaid(known, said);
          // A program that only shows places says so in its head; what it cuts it should not.
          const looks = head.some((line) => OUTLINE.test(line));
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

/** How the head of a program begins that cuts nothing. */
const OUTLINE = /^[(;]\s*OUTLINE:/;

/** Options that only say something of a program that grinds flats. */
const IDLE = ['raised', 'left', 'standing', 'blockDelete'] as const;

function refuseIdle(path: string, idle: (typeof IDLE)[number] | undefined, programs: number): void {
  if (idle !== undefined)
    throw new Leave(
      UNUSABLE,
      `${path}: grinds no flats, and --${idle === 'blockDelete' ? 'block-delete' : idle} goes with those; leave it out`,
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

/** Where the head of a program says it goes on; `none` if it begins at the beginning. */
const reentryOf = (head: readonly string[]): string | 'none' =>
  head.flatMap((line) => /^[(;]\s*RE-ENTRY: ([^()]+?)\s*\)?\s*$/.exec(line)?.[1] ?? [])[0] ?? 'none';
