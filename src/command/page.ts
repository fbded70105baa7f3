/** `flatwright page -o FILE`: everything in one file for a browser, without Node and without a network. */
import { readFileSync } from 'node:fs';
import type { Command } from 'commander';
import { because } from './because.js';
import { type Done, GOOD, Leave, OUR_FAULT } from './exit.js';
import type { Io } from './io.js';
import { writeFiles } from './write.js';

/** The page as the build made it. */
const PAGE = new URL('../../dist/page.html', import.meta.url);

export function pageCommand(command: Command, io: Io, done: Done): void {
  command
    .description(
      'Writes one HTML file that does all of it in a browser, without Node and without a network: put it on a stick and open it in the shop.',
    )
    .requiredOption('-o, --output <file>', 'where to write it')
    .option('--force', 'replace a file that is already there')
    .addHelpText('after', '\nExample:\n  flatwright page -o flatwright.html\n')
    .action(({ output, force }: { readonly output: string; readonly force?: true }) => {
      let text: string;
      try {
        text = readFileSync(PAGE, 'utf8');
      } catch (error) {
        throw new Leave(OUR_FAULT, `the page is not built: ${because(error)}; npm run build makes it`);
      }
      writeFiles([{ path: output, text }], force === true, io);
      io.err(`${output}: written, ${Math.round(text.length / 1000)} kB; open it in any browser\n`);
      done(GOOD);
    });
}
