/** `flatwright adjust JOB`: from what the micrometer reads to the number to type and the program that finishes. */
import { closeSync, fsyncSync, openSync, writeSync } from 'node:fs';
import { basename, extname, resolve } from 'node:path';
import { type Command, Option } from 'commander';
import { checkPrograms } from '../check/dry-run.js';
import { allSockets } from '../file/socket-table.js';
import { standingText } from '../file/standing-file.js';
import type { Job } from '../job/job.js';
import { type Adjustment, adjust, type Relief } from '../measure/adjust.js';
import { type Across, type Height, ReadingError, type Readings } from '../measure/reading.js';
import type { Typed } from '../plan/hands.js';
import { isPostable, type Plan, planJob } from '../plan/plan.js';
import type { Stage } from '../plan/stage.js';
import { countPasses } from '../plan/step.js';
import { postPerFlat, postProgram } from '../post/program.js';
import { degFromRad } from '../quantity/angle.js';
import { QuantityError, readQuantity } from '../quantity/arithmetic.js';
import { fixed, trimmed } from '../quantity/decimal.js';
import { fromMm } from '../quantity/length.js';
import { type Say, sayIn } from '../quantity/say.js';
import { type Mm, mm, rad } from '../quantity/unit.js';
import { measuredTo } from '../section/polygon.js';
import { because } from './because.js';
import { findingsText } from './check-screen.js';
import { type Done, GOOD, Leave, REFUSED, UNUSABLE } from './exit.js';
import type { Io } from './io.js';
import { machineOption } from './options.js';
import { planFindings } from './plan-findings.js';
import { labelled, table } from './screen.js';
import { loadJob, socketTables } from './shipped.js';
import { FROM_FILE, goesOn, type StandingOptions, withStandingOptions } from './standing.js';
import { writeFiles } from './write.js';

interface Options extends StandingOptions {
  readonly over?: readonly string[];
  readonly indicator?: readonly string[];
  readonly at?: string;
  readonly warm?: string;
  readonly stage?: Stage;
  readonly output?: string;
  readonly force?: true;
  readonly log?: true;
  readonly json?: true;
  readonly machine?: string;
}

export function adjustCommand(command: Command, io: Io, done: Done): void {
  withStandingOptions(command)
    .description(
      'Takes what you read off the punch, still in its holding, and says how far each flat stands, what to type at a touch, and what is left; -o writes the program that finishes it from there. Without --over it asks.',
    )
    .option(
      '--over <reading...>',
      'micrometer over two flats, or a flat and the corner opposite: 1-4=5.113, behind the face 1-4@5=4.68, 1=6.85',
    )
    .option(
      '--indicator <reading...>',
      'indicator on flats brought up one by one, from one zero: 1=0 2=+0.012',
    )
    .option(
      '--at <length>',
      'how far behind the front face readings without @ are taken; usually at the face',
    )
    .option('--warm <kelvin>', 'how much warmer the punch is than the micrometer', '0')
    .addOption(
      new Option('--stage <stage>', 'what it should be by now; usually seen from the readings').choices([
        'roughed',
        'finished',
      ]),
    )
    .option('-o, --output <file>', 'write the program that finishes it, and beside it how the punch stands')
    .option('--force', 'replace files that are already there')
    .option('--log', 'add readings and what they came to to a log beside the job')
    .addOption(machineOption())
    .option('--json', 'print it as JSON')
    .addHelpText(
      'after',
      `
Examples:
  flatwright adjust samples/stem-bolt-hex-5.yaml --over 1-4=5.150 2-5=5.148 3-6=5.151
  flatwright adjust samples/stem-bolt-hex-5.yaml --over 1-4=5.060 1-4@5=4.630
  flatwright adjust samples/stem-bolt-hex-5.yaml --over 1-4=5.150 2-5=5.148 3-6=5.151 -o finish.nc
`,
    )
    .action(async (path: string, options: Options) => {
      const { job: whole, source, inputs } = await loadJob(path, io, options.machine);
      const on = goesOn(whole, options, io);
      const { job } = on;
      const plan = planJob(job);
      if (!isPostable(plan)) {
        io.err(planFindings(plan, source, io));
        throw new Leave(REFUSED, `${source.file}: the job itself cannot be ground, so nothing is adjusted`);
      }
      const readings = await readingsOf(plan, options, io);
      const found = orLeave(() => adjust(plan, readings, options.stage ?? 'by the readings'));
      const rest = planJob({ ...job, standing: found.standing });
      const small = found.flats.some((flat) => flat.small);
      if (options.json === true) io.out(`${JSON.stringify(adjustJson(found, rest), null, 2)}\n`);
      else io.out(adjustScreen(plan, found, rest));
      if (small) throw new Leave(REFUSED, stillMakes(job, found));
      const cannot = options.output === undefined ? undefined : whyNot(job, found, rest);
      if (cannot !== undefined) throw new Leave(cannot.code, cannot.why);
      const mark =
        options.output === undefined
          ? 'none'
          : writeRest(rest, options.output, options, [...inputs, ...on.inputs], io);
      if (options.log === true) addToLog(path, readings, found, mark, io);
      done(GOOD);
    });
}

function orLeave<Value>(work: () => Value): Value {
  try {
    return work();
  } catch (error) {
    if (error instanceof ReadingError || error instanceof QuantityError)
      throw new Leave(UNUSABLE, error.message);
    throw error;
  }
}

/** Why no program finishes from these readings; `undefined` if one does. */
function whyNot(
  job: Job,
  { flats, pairs, inTolerance, relief }: Adjustment,
  rest: Plan,
): { readonly code: typeof REFUSED | typeof UNUSABLE; readonly why: string } | undefined {
  const say = sayIn(job.units);
  const unread = flats.filter(({ read }) => !read).map(({ number }) => number);
  const once = pairs.filter(({ odd }) => odd === 'once').map(({ flat, facing }) => `${flat}-${facing}`);
  if (unread.length > 0)
    return {
      code: UNUSABLE,
      why: `flats ${unread.join(', ')} are not read yet; a program that finishes needs a reading over each`,
    };
  if (once.length > 0)
    return {
      code: UNUSABLE,
      why: `${once.join(', ')} is far from the others; wipe it, let it cool, read it again and give both readings`,
    };
  if (inTolerance)
    return { code: REFUSED, why: 'every reading is within its limits: leave the punch as it is' };
  if (rest.totals.passes === 0)
    return { code: REFUSED, why: 'nothing is left to grind, so no program is written' };
  if (relief !== 'unknown' && relief.behind > job.grinding.roughInfeed)
    return {
      code: REFUSED,
      why: `the flats slope otherwise than the job, and stand ${say.length(relief.behind)} higher where they end than a program from here believes; set the slope, then touch off and grind them as a new job with punch.relief as it is now`,
    };
  return undefined;
}

/** From options, or asked one by one and checked when given. */
async function readingsOf(plan: Plan, options: Options, io: Io): Promise<Readings> {
  const { job } = plan;
  const length = (text: string): Mm => mm(readQuantity(text, 'length', job.units));
  const warm = Number(options.warm ?? 0);
  if (!(warm >= 0 && warm < 300))
    throw new Leave(UNUSABLE, `--warm ${options.warm}: kelvin over the micrometer, from 0, such as 12`);
  const depth = orLeave(() => (options.at === undefined ? mm(0) : length(options.at)));
  if (depth < 0) throw new Leave(UNUSABLE, `--at ${options.at}: behind the front face, from 0`);
  const across = (options.over ?? []).map((text) => orLeave(() => readAcross(job, text, depth, length)));
  const heights = (options.indicator ?? []).map((text) => orLeave(() => readHeight(text, length)));
  if (across.length > 0) return { across, heights, warm };
  if (io.ask === 'no terminal')
    throw new Leave(
      UNUSABLE,
      'no reading is given; write what the micrometer reads, such as --over 1-4=5.113',
    );
  return { across: await asked(plan, depth, length, io.ask, options.stage), heights, warm };
}

async function asked(
  plan: Plan,
  depth: Mm,
  length: (text: string) => Mm,
  ask: (question: string) => Promise<string>,
  stage: Stage | undefined,
): Promise<readonly Across[]> {
  const { job, readings } = plan;
  const say = sayIn(job.units);
  const across: Across[] = [];
  for (const { flat, roughed, finished } of readings) {
    const facing = measuredTo(job.punch.section, flat - 1);
    if (typeof facing === 'number' && facing < flat - 1) continue;
    const name = `${flat}-${typeof facing === 'number' ? facing + 1 : facing}`;
    for (;;) {
      const answer = await ask(
        `over ${name}, ${say.column(roughed)} roughed, ${say.column(finished)} finished: `,
      );
      if (answer.trim() === '') break;
      try {
        const read = length(answer);
        adjust(plan, { across: [{ flat, depth, read }], heights: [], warm: 0 }, stage ?? 'roughed');
        across.push({ flat, depth, read });
        break;
      } catch (error) {
        if (!(error instanceof ReadingError || error instanceof QuantityError)) throw error;
        await ask(`${error.message}. Enter goes on `);
      }
    }
  }
  return across;
}

/** `1-4=5.113`, `1-4@5=4.63`, `1=6.85`, `1-corner=6.85`. */
function readAcross(job: Job, text: string, depth: Mm, length: (text: string) => Mm): Across {
  const [, first, second, at, read] =
    /^\s*(\d+)\s*(?:-\s*(\d+|corner|round))?\s*(?:@\s*([^=]+))?=\s*(\S.*)$/i.exec(text) ?? [];
  if (first === undefined || read === undefined)
    throw new ReadingError(
      `"${text}" is no reading over flats; write 1-4=5.113, or 1-4@5=4.68 for 5 behind the face`,
    );
  const flat = Number(first);
  const facing = measuredTo(job.punch.section, flat - 1);
  const opposite = typeof facing === 'number' ? `${facing + 1}` : facing;
  if (job.punch.section[flat - 1] === undefined)
    throw new ReadingError(
      `"${text}": there is no flat ${flat}; the section has ${job.punch.section.length}`,
    );
  if (second !== undefined && second.toLowerCase() !== opposite)
    throw new ReadingError(
      `"${text}": opposite flat ${flat} lies ${typeof facing === 'number' ? `flat ${opposite}` : `a ${opposite}`}; write ${flat}-${opposite}=...`,
    );
  return { flat, depth: at === undefined ? depth : length(at), read: length(read) };
}

function readHeight(text: string, length: (text: string) => Mm): Height {
  const [, flat, read] = /^\s*(\d+)\s*=\s*(\S.*)$/.exec(text) ?? [];
  if (flat === undefined || read === undefined)
    throw new ReadingError(`"${text}" is no reading of an indicator; write 1=+0.012`);
  return { flat: Number(flat), read: length(read) };
}

const CAUTION = `Until the rim is set, it is not where the program thinks: do that before the next
stroke, then run what is left. Wheel at rest and kept from starting, hands off while
an axis moves; the marking of the wheel and local rules come first.
`;

const plus = (say: Say, value: number): string =>
  `${value < 0 ? '-' : '+'}${say.column(mm(Math.abs(value)))}`;

function adjustScreen(plan: Plan, found: Adjustment, rest: Plan): string {
  const { job } = plan;
  const say = sayIn(job.units);
  const machine = sayIn(job.machine.units);
  const { pairs, flats, raised, relief, centre, ratio, inTolerance } = found;
  const odd = pairs.some((pair) => pair.odd === 'once');
  const shown = ({ axis, reads }: { readonly axis: string; readonly reads: Mm }): string =>
    `${axis.toUpperCase()} ${machine.column(reads)}`;
  return [
    `${job.title}: ${found.stage}, as you read it\n\n`,
    table(
      ['over', 'behind', `read ${say.unit}`, 'cold', 'wanted', 'each flat', ''],
      pairs.map(({ flat, facing, depth, read, cold, wanted, over, odd }) => [
        `${flat} - ${facing}`,
        say.length(depth),
        say.column(read),
        say.column(cold),
        say.column(wanted),
        plus(say, over),
        { no: '', once: 'odd: burr, heat, seat, index? read it again', twice: 'odd, but read twice' }[odd],
      ]),
    ),
    '\nWhere the flats stand\n',
    table(
      ['flat', `to axis ${say.unit}`, 'to come off', 'passes', 'touch it at', 'make it read'],
      flats.map(({ number, distance, left, read, stand, type }) => {
        if (!read) return [`${number}`, 'not read', '-', '-', '-', '-'];
        const flat = rest.flats.find((each) => each.number === number);
        const strokes =
          flat === undefined
            ? 0
            : countPasses(rest.steps, flat, 'finish') + countPasses(rest.steps, flat, 'rough');
        return [
          `${number}`,
          say.column(distance),
          plus(say, left),
          strokes === 0 ? '-' : `${strokes}`,
          shown(stand),
          shown(type),
        ];
      }),
    ),
    '\nWhat to do\n',
    labelled([
      ...rimRows(
        odd ? 'read again' : raised,
        pairs.some(({ facing }) => typeof facing === 'number'),
        machine,
      ),
      ...(relief === 'unknown'
        ? ([['Relief', `not known: read one behind the face too, such as ${behindName(job)}=...`]] as const)
        : ([['Relief', reliefText(relief, say)]] as const)),
      [
        'Centre',
        centre === 'blind'
          ? job.punch.section.length < 3
            ? 'not known: two flats do not show it'
            : 'not known: pairs do not show it, an indicator on every flat does'
          : `off the axis by ${say.length(centre.by)} toward ${trimmed(degFromRad(rad((centre.toward + 2 * Math.PI) % (2 * Math.PI))), 0)} deg`,
      ],
      ...(ratio === 'none'
        ? []
        : ([
            [
              'Wear',
              `by the drift a grinding ratio of ${trimmed(ratio, 1)} (wheel.grindingRatio), ${trimmed(job.figures.ratio.taken, 1)} was taken`,
            ],
          ] as const)),
      ['Left', inTolerance ? 'in tolerance: leave it as it is' : leftText(rest)],
    ]),
    `\n${CAUTION}`,
  ].join('');
}

/** A pair and a depth behind the face where an anvil clears the shoulder: half the flat's length. */
function behindName({ punch, units }: Job): string {
  const facing = measuredTo(punch.section, 0);
  const half = trimmed(fromMm(mm(punch.flatLength / 2), units), units === 'inch' ? 2 : 0);
  return `1${typeof facing === 'number' ? `-${facing + 1}` : ''}@${half}`;
}

function rimRows(
  raised: Typed | 'read again',
  pairs: boolean,
  say: Say,
): readonly (readonly [string, string])[] {
  if (raised === 'read again') return [['Rim', 'not before the odd pair is read again']];
  const { axis, reads } = raised;
  if (Math.abs(reads) < 0.0005) return [['Rim', 'stands where the program thinks it does: type nothing']];
  const [up, way] = [axis.toUpperCase(), reads > 0 ? 'lower' : 'raise'];
  return [
    ['Rim', `EITHER touch flat 1 by feeler, make ${up} read its number plus the feeler;`],
    [
      '',
      pairs
        ? 'touch the flat opposite: add half of what it reads off its own number'
        : 'touch the others too: add the mean of what they read off their numbers',
    ],
    ['', `OR, if you cannot touch, ${way} ${up} of the work offset by ${say.length(mm(Math.abs(reads)))}`],
    ['', 'once, and never both; no wear or length value besides'],
  ];
}

function reliefText({ angle, within, stack }: Relief, say: Say): string {
  const unsure = `${trimmed(degFromRad(angle), 3)} deg ground, within ${trimmed(degFromRad(within), 2)}`;
  const blocks =
    stack === 'none'
      ? ''
      : `; gauge blocks ${say.length(mm(Math.abs(stack)))} ${stack > 0 ? 'higher' : 'lower'}`;
  return `${unsure}${blocks === '' ? '' : `${blocks} for the NEXT punch, not under this one`}`;
}

function leftText(rest: Plan): string {
  const say = sayIn(rest.job.units);
  if (rest.totals.passes === 0) return 'nothing: every flat is where it should be, or within its tolerance';
  return `${rest.totals.passes} passes, about ${say.time(rest.totals.running)}; -o FILE writes them`;
}

/** What a punch that is too small for its job still makes. */
function stillMakes(job: Job, { pairs, flats }: Adjustment): string {
  const say = sayIn(job.units);
  const names = flats.filter(({ small }) => small).map(({ number }) => number);
  const least = Math.min(...pairs.filter(({ depth }) => depth === 0).map(({ cold }) => cold));
  const sockets = allSockets(socketTables()).filter(({ sides }) => sides === job.punch.sides);
  const fits = sockets
    .filter((socket) => socket.least <= least && least <= socket.most)
    .map(({ name }) => name);
  const smaller = sockets
    .filter(({ most }) => most < least)
    .toSorted((a, b) => b.most - a.most)
    .slice(0, 2)
    .map(({ name, most }) => `${name} with ${say.length(mm(least - most))} to come off`);
  const now = fits.length === 0 ? '' : `; as it stands it makes ${fits.join(', ')}`;
  const next = smaller.length === 0 ? '' : `; ground down ${smaller.join(', or ')}`;
  return `flat${names.length === 1 ? '' : 's'} ${names.join(', ')} under the least size: no program finishes that${now}${next}`;
}

/** `fin.nc` and `-02` give `fin-02.nc`. */
const named = (path: string, suffix: string): string => {
  const extension = extname(path);
  return `${path.slice(0, path.length - extension.length)}${suffix}${extension}`;
};

/** The program from the metal that is there, checked from there, and how the punch stands beside it. */
function writeRest(
  rest: Plan,
  output: string,
  { force }: Options,
  inputs: readonly string[],
  io: Io,
): string {
  const { job } = rest;
  if (!isPostable(rest))
    throw new Leave(REFUSED, 'what is left cannot be planned; see flatwright plan with --standing');
  const set = job.machine.program.stops === 'ignored' && job.holding.index === 'by hand';
  const head = { reentry: FROM_FILE };
  const programs = (set ? postPerFlat(rest, head) : [postProgram(rest, head)]).map(({ suffix, text }) => ({
    path: named(output, suffix),
    text,
  }));
  const report = checkPrograms(
    programs.map(({ path, text }) => ({ name: path, text })),
    job,
  );
  if (report.verdict === 'refused') {
    io.err(findingsText(report, job, io.colour.err));
    throw new Leave(REFUSED, 'its own check refuses the program, so it is not written');
  }
  const beside = `${output.slice(0, output.length - extname(output).length)}.standing.yaml`;
  const standing = { path: beside, text: standingText(job, job.standing) };
  writeFiles([...programs, standing], force === true, io, inputs);
  const names = programs.map(({ path }) => basename(path)).join(', ');
  io.err(
    `${names}: checked, ${report.lines} lines, ${rest.totals.passes} passes; ${basename(beside)} says how the punch stands\n`,
  );
  return programs.flatMap(({ text }) => /MARK (\S+)/.exec(text)?.[1] ?? []).join(' ') || 'none';
}

/** One entry at the end of the log beside the job: written in one piece, and nothing before it is touched. */
function addToLog(path: string, readings: Readings, found: Adjustment, mark: string, io: Io): void {
  if (path === '-') throw new Leave(UNUSABLE, '--log keeps a log beside the job; give the job as a file');
  const log = resolve(io.cwd, `${path.slice(0, path.length - extname(path).length)}.log.yaml`);
  const entry = {
    at: new Date().toISOString(),
    stage: found.stage,
    warm: readings.warm,
    over: readings.across.map(({ flat, depth, read }) => ({ flat, depth, read })),
    indicator: readings.heights.map(({ flat, read }) => ({ flat, read })),
    flats: found.flats.map(({ number, distance }) => ({
      flat: number,
      distance: Number(fixed(distance, 4)),
    })),
    ...(found.ratio === 'none' ? {} : { grindingRatio: Number(fixed(found.ratio, 2)) }),
    ...(mark === 'none' ? {} : { program: mark }),
  };
  try {
    const file = openSync(log, 'a');
    try {
      // A line that was cut off by a power failure stays by itself.
      writeSync(file, `\n- ${JSON.stringify(entry)}\n`);
      fsyncSync(file);
    } finally {
      closeSync(file);
    }
  } catch (error) {
    throw new Leave(UNUSABLE, `${basename(log)}: cannot be written: ${because(error)}`);
  }
  io.err(`${basename(log)}: one entry added\n`);
}

/** The same as data; lengths mm, angles degrees. */
const adjustJson = (
  { stage, pairs, flats, raised, relief, centre, ratio }: Adjustment,
  rest: Plan,
): object => ({
  stage,
  pairs,
  flats,
  raised: { axis: raised.axis, by: raised.reads },
  relief:
    relief === 'unknown'
      ? relief
      : { deg: degFromRad(relief.angle), withinDeg: degFromRad(relief.within), stack: relief.stack },
  centre: centre === 'blind' ? centre : { by: centre.by, towardDeg: degFromRad(centre.toward) },
  grindingRatio: ratio,
  left: { passes: rest.totals.passes, running: rest.totals.running },
});
