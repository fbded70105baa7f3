/** `flatwright resharpen JOB`: what each face cut leaves of a punch, and the program that makes one. */
import { basename } from 'node:path';
import type { Command } from 'commander';
import { checkFace } from '../check/face.js';
import type { Job } from '../job/job.js';
import { FaceError, planFace } from '../plan/face.js';
import { planJob } from '../plan/plan.js';
import { type Regrind, RegrindError, type RegrindLife, regrindLife } from '../plan/regrind.js';
import { usualCut } from '../plan/tool.js';
import { postFace } from '../post/face.js';
import { degFromRad } from '../quantity/angle.js';
import { fixed, trimmed } from '../quantity/decimal.js';
import { fromMm } from '../quantity/length.js';
import { sayIn } from '../quantity/say.js';
import { mm } from '../quantity/unit.js';
import { refuseOwn } from './check-other.js';
import { type Done, GOOD, Leave, orLeave, REFUSED, UNUSABLE } from './exit.js';
import type { Io } from './io.js';
import { angleOption, lengthOption, machineOption } from './options.js';
import { refuseHandWheels, refuseUnplannable } from './plan-findings.js';
import { labelled, table } from './screen.js';
import { loadJob } from './shipped.js';
import { writeFiles } from './write.js';

/** Why no face may be cut. */
const NO_FACE = [RegrindError, FaceError];

interface Options {
  readonly cut?: string;
  readonly size?: string;
  readonly off?: string;
  readonly dish?: string;
  readonly output?: string;
  readonly force?: true;
  readonly json?: true;
  readonly machine?: string;
}

export function resharpenCommand(command: Command, io: Io, done: Done): void {
  command
    .description(
      'Shows what is left of the punch of JOB after each cut off its face, until it no longer makes its socket; -o writes the program that takes one cut, the punch standing upright.',
    )
    .option(
      '--cut <length>',
      'taken off the face each time: the wear land and a little over; usually 0.15 mm',
    )
    .option('--size <length>', 'what it measures now, across flats or twice a flat from the axis')
    .option('--off <length>', 'ground off its face already, by its length; usually nothing')
    .option('--dish <angle>', 'rake of a face ground hollow, 2 to 5 deg')
    .option('-o, --output <file>', 'write the program that takes one cut')
    .option('--force', 'replace a file that is already there')
    .addOption(machineOption())
    .option('--json', 'print it as JSON')
    .addHelpText(
      'after',
      `
Examples:
  flatwright resharpen samples/stem-bolt-hex-5.yaml
  flatwright resharpen samples/stem-bolt-hex-5.yaml --cut 0.2 -o face.nc
`,
    )
    .action(async (path: string, options: Options) => {
      const { job, source, inputs } = await loadJob(path, io, options.machine);
      if (options.output !== undefined) refuseHandWheels(job, source);
      const usual = usualCut(job.units);
      const cut = options.cut === undefined ? usual : lengthOption('--cut', options.cut, job.units);
      if (cut <= 0)
        throw new Leave(
          UNUSABLE,
          `--cut ${options.cut}: more than 0, such as ${sayIn(job.units).length(usual)}`,
        );
      const life = orLeave(NO_FACE, () =>
        regrindLife(
          job,
          cut,
          options.size === undefined ? 'as ground' : lengthOption('--size', options.size, job.units),
          options.dish === undefined ? 'none' : angleOption('--dish', options.dish),
          options.off === undefined ? mm(0) : lengthOption('--off', options.off, job.units),
        ),
      );
      io.out(options.json === true ? `${JSON.stringify(lifeJson(life), null, 2)}\n` : lifeScreen(job, life));
      if (options.output !== undefined && life.rows.length < 2)
        throw new Leave(REFUSED, 'a cut brings it under its least size, so no program is written');
      if (options.output !== undefined) {
        const plan = planJob(job);
        refuseUnplannable(plan, source, io, 'no program is written');
        const program = postFace(
          plan,
          orLeave(NO_FACE, () => planFace(job, cut)),
        );
        const report = checkFace(program.text, options.output, job, cut);
        refuseOwn(report, job, io);
        writeFiles([{ path: options.output, text: program.text }], options.force === true, io, inputs);
        io.err(
          `${basename(options.output)}: checked, ${report.lines} lines, takes ${sayIn(job.units).length(cut)} off the face\n`,
        );
        io.err(
          'Before the first stroke: ring test, guard, eye protection; the marking of the wheel and local rules come first.\n',
        );
      }
      done(GOOD);
    });
}

function lifeScreen(job: Job, life: RegrindLife): string {
  const say = sayIn(job.units);
  const { rows, least, orbitPerMm, dish } = life;
  const digits = job.units === 'inch' ? 3 : 2;
  const short = (value: number): string => fixed(fromMm(mm(value), job.units), digits);
  const even = job.punch.sides !== 'free' && job.punch.sides % 2 === 0;
  const head = ['regrind', 'off', even ? 'across flats' : 'inscribed', 'corners', 'flats', 'depth', 'spacer'];
  const cells = rows.map((row: Regrind) => [
    `${row.number}`,
    short(row.off),
    say.column(row.size),
    row.acrossCorners === 'none' ? '-' : say.column(row.acrossCorners),
    short(row.flatLength),
    short(row.depth),
    short(row.off),
  ]);
  const last = rows.length - 1;
  return [
    `${job.title}: its life, ${say.length(life.cut)} off the face each time\n\n`,
    table(head, cells),
    '\n',
    labelled([
      [
        'Last',
        last === 0
          ? `none: a cut brings it under ${say.length(least)}`
          : `${last}; one more is under ${say.length(least)}, the least it may be`,
      ],
      [
        'Spacer',
        `behind the shank, as thick as is off in all: without it the tip runs on a circle ${trimmed(orbitPerMm, 3)} wide for each 1 off`,
      ],
      ...(dish === 'none'
        ? []
        : ([
            [
              'Dish',
              `${say.length(dish.depth)} deep at the middle for a rake of ${say.angle(dish.rake)}; flats and size stay`,
            ],
          ] as const)),
      [
        'Square',
        `the face within ${say.length(mm(life.cut / 10))} of square to the shank, or one corner cuts alone`,
      ],
    ]),
    '\nGrind the face, never the flats, to sharpen; stone the burr off. Ring test, guard, eye protection;\nthe marking of the wheel and local rules come first.\n',
  ].join('');
}

const lifeJson = ({ rows, least, cut, orbitPerMm, dish }: RegrindLife): object => ({
  cutMm: cut,
  leastMm: least,
  rows: rows.map(({ number, off, size, acrossCorners, flatLength, depth }) => ({
    regrind: number,
    offMm: off,
    sizeMm: size,
    acrossCornersMm: acrossCorners,
    flatLengthMm: flatLength,
    depthMm: depth,
    spacerMm: off,
  })),
  orbitMmPerMm: orbitPerMm,
  dish: dish === 'none' ? 'none' : { rakeDeg: degFromRad(dish.rake), depthMm: dish.depth },
});
