/** `flatwright dress JOB`: the program that dresses the wheel on a diamond at a known place. */
import { basename } from 'node:path';
import type { Command } from 'commander';
import { checkDress } from '../check/dress.js';
import { DressError, planDress } from '../plan/dress.js';
import { planJob } from '../plan/plan.js';
import { postDress } from '../post/dress.js';
import { sayIn } from '../quantity/say.js';
import { mm } from '../quantity/unit.js';
import { refuseOwn } from './check-other.js';
import { type Done, GOOD, Leave, UNUSABLE } from './exit.js';
import type { Io } from './io.js';
import { lengthOption, machineOption } from './options.js';
import { refuseHandWheels, refuseUnplannable } from './plan-findings.js';
import { loadJob } from './shipped.js';
import { writeFiles } from './write.js';

interface Options {
  readonly passes: string;
  readonly depth: string;
  readonly output?: string;
  readonly force?: true;
  readonly machine?: string;
}

const MOST_PASSES = 50;

export function dressCommand(command: Command, io: Io, done: Done): void {
  command
    .description(
      'Writes the program that draws the rim over the diamond at holding.diamond, pass by pass and once without infeed, and says by how much the offset falls: nothing is touched off after it.',
    )
    .option('--passes <count>', 'passes with an infeed', '3')
    .option('--depth <length>', 'infeed of a pass', '0.01 mm')
    .option('-o, --output <file>', 'write to this file; without it the program goes to standard output')
    .option('--force', 'replace a file that is already there')
    .addOption(machineOption())
    .addHelpText('after', '\nExample:\n  flatwright dress my-hex.yaml --passes 3 -o dress.nc\n')
    .action(async (path: string, options: Options) => {
      const { job, source, inputs } = await loadJob(path, io, options.machine);
      refuseHandWheels(job, source);
      const passes = Number(options.passes);
      if (!Number.isInteger(passes) || passes < 1 || passes > MOST_PASSES)
        throw new Leave(UNUSABLE, `--passes ${options.passes}: a whole number from 1 to ${MOST_PASSES}`);
      const depth = lengthOption('--depth', options.depth, job.units);
      if (depth <= 0) throw new Leave(UNUSABLE, `--depth ${options.depth}: more than 0, such as 0.01 mm`);
      const plan = planJob(job);
      refuseUnplannable(plan, source, io, 'no program is written');
      let text: string;
      try {
        text = postDress(plan, planDress(job, passes, depth)).text;
      } catch (error) {
        if (error instanceof DressError) throw new Leave(UNUSABLE, `${source.file}: ${error.message}`);
        throw error;
      }
      const name = options.output ?? 'program.nc';
      const report = checkDress(text, name, job, mm(passes * depth));
      refuseOwn(report, job, io);
      if (options.output === undefined) io.out(text);
      else {
        writeFiles([{ path: options.output, text }], options.force === true, io, inputs);
        io.err(
          `${basename(options.output)}: checked, ${report.lines} lines, takes ${sayIn(job.units).length(report.off)} off the rim; its head says by how much the offset falls\n`,
        );
      }
      // A rim worn by more than is drawn off never meets the point, and an offset lowered then is wrong.
      const { most } = plan.wear.total;
      if (most >= passes * depth)
        io.err(
          `look the program may wear the rim by ${sayIn(job.units).length(most)}; dressed after it, --passes ${Math.ceil(most / depth) + 1} reaches the point all round\n`,
        );
      io.err('Guard on, eyes protected, stand clear: the marking of the wheel and local rules come first.\n');
      done(GOOD);
    });
}
