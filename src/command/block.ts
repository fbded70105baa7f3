/** `flatwright block JOB`: drawing and numbers for making an indexing block, and what was read off one. */
import type { Command } from 'commander';
import { BlockError, designBlock, measureBlock } from '../hand/block.js';
import type { LengthUnit, Mm } from '../quantity/unit.js';
import { blockSheet } from '../sheet/hand/block.js';
import { blockPage, blockPicture } from '../sheet/page.js';
import { type Done, GOOD, Leave, orLeave, UNUSABLE } from './exit.js';
import type { Io } from './io.js';
import { lengthOption } from './options.js';
import { blockText } from './sheet-text.js';
import { loadJob, sheetAssets } from './shipped.js';
import { writeFiles } from './write.js';

interface Options {
  readonly plain?: true;
  readonly front?: string;
  readonly rear?: string;
  readonly apart: string;
  readonly output?: string;
  readonly force?: true;
  readonly json?: true;
}

export function blockCommand(command: Command, io: Io, done: Done): void {
  command
    .description(
      'Draws the indexing block that stands every flat of JOB up, its own sides sloping by the relief, or plain: sizes, stock, bore, how its sides are milled, how it is measured with a pin and trued.',
    )
    .option('--plain', 'sides that do not slope, for a sine bar or a wedge')
    .option(
      '--front <readings>',
      'top of a pin in the bore near the tip end, each side down in turn: 12.000,12.004,...',
    )
    .option('--rear <readings>', 'the same farther back')
    .option('--apart <length>', 'how far apart the two places are', '20 mm')
    .option('-o, --output <file>', 'write the page, or with .svg the drawing alone, to this file')
    .option('--force', 'replace a file that is already there')
    .option('--json', 'print it as JSON')
    .addHelpText(
      'after',
      `
Examples:
  flatwright block samples/by-hand/bell-cap-square-5.yaml
  flatwright block samples/by-hand/bell-cap-square-5.yaml -o block.html
  flatwright block samples/by-hand/bell-cap-square-5.yaml --front 18.75,18.752,18.749,18.753 --rear 19.623,19.625,19.622,19.626
`,
    )
    .action(async (path: string, options: Options) => {
      const { job, inputs } = await loadJob(path, io);
      const { front, rear } = options;
      if ((front === undefined) !== (rear === undefined))
        throw new Leave(
          UNUSABLE,
          '--front and --rear go together: two places on the pin, each side down in turn',
        );
      const sheet = orLeave([BlockError], () => {
        const design = designBlock(job, options.plain === true ? 'plain' : 'sloping');
        const measured =
          front === undefined || rear === undefined
            ? 'none'
            : measureBlock(
                readings('--front', front, job.units),
                readings('--rear', rear, job.units),
                lengthOption('--apart', options.apart, job.units),
                design.sides,
              );
        return blockSheet(job, design, measured);
      });
      if (options.json === true) {
        const { design, parts } = sheet;
        io.out(`${JSON.stringify({ title: job.title, design, parts }, null, 2)}\n`);
      } else if (options.output === undefined) io.out(blockText(sheet));
      if (options.output !== undefined) {
        const text = /\.svg$/i.test(options.output) ? blockPicture(sheet) : blockPage(sheet, sheetAssets());
        writeFiles([{ path: options.output, text }], options.force === true, io, inputs);
        io.err(`${options.output}: written\n`);
      }
      done(GOOD);
    });
}

/** Lengths with commas between. */
const readings = (option: string, text: string, units: LengthUnit): readonly Mm[] =>
  text.split(',').map((each) => lengthOption(option, each.trim(), units));
