/** `flatwright trace PROGRAM`: what a control would do, one JSON object a line, mm and degrees. */
import type { Command } from 'commander';
import { createTracer } from '../check/read/trace.js';
import { type Done, GOOD, REFUSED } from './exit.js';
import type { Io } from './io.js';
import { blockDeleteOption } from './options.js';
import { loadMachine, programLines } from './shipped.js';

/** Reads plain RS274/NGC words in either unit. */
const USUAL_MACHINE = 'bench-mill-rotary';

export function traceCommand(command: Command, io: Io, done: Done): void {
  command
    .description(
      'Executes PROGRAM as a control would and prints each block: motion, position, feed, wheel, coolant, dwell, stop. Lengths in mm, angles in degrees. A coordinate not said yet is left out; a block that cannot be read with certainty is refused by name.',
    )
    .option('--machine <name>', 'profile whose words the program uses', USUAL_MACHINE)
    .addOption(blockDeleteOption())
    .addHelpText('after', '\nExample:\n  flatwright trace hex.nc | head -3\n')
    .action(async (path: string, options: { machine: string; blockDelete?: 'on' | 'off' }) => {
      const tracer = createTracer(loadMachine(options.machine, io), options.blockDelete ?? 'unsaid');
      for await (const line of programLines(path, io)) {
        for (const row of tracer.line(line)) io.out(`${JSON.stringify(row)}\n`);
      }
      done(tracer.refused() ? REFUSED : GOOD);
    });
}
