/** `flatwright adjust JOB`: from what the micrometer reads to the number to type and the program that finishes. */
import { closeSync, fsyncSync, openSync, writeSync } from 'node:fs';
import { basename, extname, resolve } from 'node:path';
import { type Command, Option } from 'commander';
import { checkPrograms } from '../check/dry-run.js';
import { readLog } from '../file/log.js';
import { allSockets } from '../file/socket-table.js';
import { standingText } from '../file/standing-file.js';
import { markIn } from '../job/fingerprint.js';
import type { Job } from '../job/job.js';
import { type Adjustment, adjust } from '../measure/adjust.js';
import { ANVILS, type Instrument, shows } from '../measure/instrument.js';
import { learn } from '../measure/learn.js';
import { readAcross, readHeight, readInstrument } from '../measure/read-text.js';
import type { Across, Readings } from '../measure/reading.js';
import { ReadingError } from '../measure/reading-error.js';
import { isPostable, type Plan, planJob } from '../plan/plan.js';
import { FROM_FILE } from '../plan/restart.js';
import { type Stage, sectionAt } from '../plan/stage.js';
import { hasParts, postForMachine, postSplit } from '../post/program.js';
import { degFromRad } from '../quantity/angle.js';
import { QuantityError, readQuantity } from '../quantity/arithmetic.js';
import { fixed } from '../quantity/decimal.js';
import { sayIn } from '../quantity/say.js';
import { type Mm, mm } from '../quantity/unit.js';
import { measuredTo } from '../section/polygon.js';
import { type AdjustReport, adjustReport, stillMakes, whyNot } from '../wording/adjust.js';
import { learntText } from '../wording/learn.js';
import { planSentence } from '../wording/plan.js';
import { because } from './because.js';
import { findingsText } from './check-screen.js';
import { type Done, GOOD, Leave, orLeave, REFUSED, UNUSABLE } from './exit.js';
import type { Io } from './io.js';
import { machineOption } from './options.js';
import { refuseHandWheels, refuseUnplannable } from './plan-findings.js';
import { labelled, table } from './screen.js';
import { loadJob, socketTables, textFile } from './shipped.js';
import { goesOn, type StandingOptions, withStandingOptions } from './standing.js';
import { leftOver, suffixed, writeFiles } from './write.js';

/** What a reading may be refused with. */
const NOT_READ = [ReadingError, QuantityError];

interface Options extends StandingOptions {
  readonly over?: readonly string[];
  readonly indicator?: readonly string[];
  readonly at?: string;
  readonly instrument?: string;
  readonly warm?: string;
  readonly stage?: Stage;
  readonly output?: string;
  readonly split?: true;
  readonly force?: true;
  readonly log?: true;
  readonly learn?: true;
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
    .option(
      '--instrument <what>',
      'anvils 6.5: depths count to the middle of anvils so wide; blade 0.75; V 60: a V-anvil, spindle on the flat named',
    )
    .option('--warm <kelvin>', 'how much warmer the punch is than the micrometer', '0')
    .addOption(
      new Option('--stage <stage>', 'what it should be by now; usually seen from the readings').choices([
        'roughed',
        'finished',
      ]),
    )
    .option('-o, --output <file>', 'write the program that finishes it, and beside it how the punch stands')
    .option('--split', 'write it as one program for each part between two stops')
    .option('--force', 'replace files that are already there')
    .option('--log', 'add readings and what they came to to a log beside the job')
    .option('--learn', 'say instead what the log proposes for the job or the shop file; nothing is changed')
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
      if (options.learn === true) {
        showLearnt(path, whole, options, io);
        done(GOOD);
        return;
      }
      if (options.output !== undefined) refuseHandWheels(whole, source);
      const on = goesOn(whole, options, io);
      const { job } = on;
      const plan = planJob(job);
      refuseUnplannable(plan, source, io, 'nothing is adjusted');
      const readings = await readingsOf(plan, options, io);
      const found = orLeave(NOT_READ, () => adjust(plan, readings, options.stage ?? 'by the readings'));
      const rest = planJob({ ...job, standing: found.standing });
      const small = found.flats.some((flat) => flat.small);
      if (options.json === true) io.out(`${JSON.stringify(adjustJson(found, rest), null, 2)}\n`);
      else io.out(adjustScreen(adjustReport(plan, found, rest)));
      const cannot = whyNot(job, found, rest);
      if (options.json !== true && options.output === undefined && cannot === 'it does' && !small)
        io.out('\nNext: the same with -o FILE writes the program for what is left.\n');
      if (small) throw new Leave(REFUSED, stillMakes(job, found, allSockets(socketTables())));
      if (options.output !== undefined && cannot !== 'it does')
        throw new Leave(cannot.of === 'readings' ? UNUSABLE : REFUSED, cannot.why);
      const mark =
        options.output === undefined
          ? 'none'
          : writeRest(rest, options.output, options, [...inputs, ...on.inputs], io);
      if (options.log === true) addToLog(path, readings, found, mark, io);
      done(GOOD);
    });
}

const adjustScreen = ({ title, pairs, flats, rows, caution }: AdjustReport): string =>
  [
    `${title}\n\n`,
    table(pairs.head, pairs.rows),
    '\nWhere the flats stand\n',
    table(flats.head, flats.rows),
    '\nWhat to do\n',
    labelled(rows),
    `\n${caution}`,
  ].join('');

/** From options, or asked one by one and checked when given. */
async function readingsOf(plan: Plan, options: Options, io: Io): Promise<Readings> {
  const { job } = plan;
  const length = (text: string): Mm => mm(readQuantity(text, 'length', job.units));
  const warm = Number(options.warm ?? 0);
  if (!(warm >= 0 && warm < 300))
    throw new Leave(UNUSABLE, `--warm ${options.warm}: kelvin over the micrometer, from 0, such as 12`);
  const depth = orLeave(NOT_READ, () => (options.at === undefined ? mm(0) : length(options.at)));
  if (depth < 0) throw new Leave(UNUSABLE, `--at ${options.at}: behind the front face, from 0`);
  const across = (options.over ?? []).map((text) =>
    orLeave(NOT_READ, () => readAcross(job, text, depth, length)),
  );
  const heights = (options.indicator ?? []).map((text) => orLeave(NOT_READ, () => readHeight(text, length)));
  const instrument = orLeave(NOT_READ, () =>
    options.instrument === undefined
      ? ANVILS
      : readInstrument(options.instrument, length, (text) => readQuantity(text, 'angle', 'deg')),
  );
  if (across.length > 0) return { across, heights, instrument, warm };
  if (io.ask === 'no terminal')
    throw new Leave(
      UNUSABLE,
      'no reading is given; write what the micrometer reads, such as --over 1-4=5.113',
    );
  const ask = { plan, depth, length, instrument, stage: options.stage };
  return { across: await asked(ask, io.ask), heights, instrument, warm };
}

/** A single reading is tried as of either stage; all of them together tell which. @throws ReadingError */
function tryReading({ plan, instrument, stage }: Asking, reading: Across): void {
  const readings = { across: [reading], heights: [], instrument, warm: 0 };
  try {
    adjust(plan, readings, stage ?? 'roughed');
  } catch (error) {
    if (!(error instanceof ReadingError) || stage !== undefined) throw error;
    adjust(plan, readings, 'finished');
  }
}

/** What is asked about. */
interface Asking {
  readonly plan: Plan;
  readonly depth: Mm;
  readonly length: (text: string) => Mm;
  readonly instrument: Instrument;
  readonly stage: Stage | undefined;
}

async function asked(asking: Asking, ask: (question: string) => Promise<string>): Promise<readonly Across[]> {
  const { plan, depth, length, instrument } = asking;
  const { job, readings } = plan;
  const say = sayIn(job.units);
  const across: Across[] = [];
  const inV = instrument.kind === 'V-anvil';
  const shown = (stage: Stage, flat: number): Mm => shows(job, instrument, sectionAt(job, stage), flat - 1);
  for (const { flat } of readings) {
    const facing = measuredTo(job.punch.section, flat - 1);
    if (!inV && typeof facing === 'number' && facing < flat - 1) continue;
    const name = `${flat}-${inV ? 'V' : typeof facing === 'number' ? facing + 1 : facing}`;
    const [roughed, finished] = orLeave(NOT_READ, () => [shown('roughed', flat), shown('finished', flat)]);
    for (;;) {
      const answer = await ask(
        `over ${name}, ${say.column(roughed)} roughed, ${say.column(finished)} finished: `,
      );
      if (answer.trim() === '') break;
      try {
        const read = length(answer);
        tryReading(asking, { flat, depth, read });
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

/** The program from the metal that is there, checked from there, and how the punch stands beside it. */
function writeRest(
  rest: Plan,
  output: string,
  { force, split }: Options,
  inputs: readonly string[],
  io: Io,
): string {
  const { job } = rest;
  if (!isPostable(rest))
    throw new Leave(
      REFUSED,
      `what is left cannot be planned: ${rest.findings.map((finding) => planSentence(finding, job)).join('; ')}`,
    );
  if (split === true && !hasParts(rest))
    throw new Leave(UNUSABLE, 'what is left has no stop to split at; leave --split out');
  const post = split === true ? postSplit : postForMachine;
  const programs = post(rest, { reentry: FROM_FILE }).map(({ suffix, text }) => ({
    path: suffixed(output, suffix),
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
  io.err(leftOver(programs, output, force === true, io));
  const names = programs.map(({ path }) => basename(path)).join(', ');
  io.err(
    `${names}: checked, ${report.lines} lines, ${rest.totals.passes} passes; ${basename(beside)} says how the punch stands\n`,
  );
  return programs.flatMap(({ text }) => markIn(text) ?? []).join(' ') || 'none';
}

/** The log of the job at `path`, beside it. */
const logOf = (path: string): string => `${path.slice(0, path.length - extname(path).length)}.log.yaml`;

/** What the runs before say of the shop. */
function showLearnt(path: string, job: Job, { json }: Options, io: Io): void {
  const { runs, unread } = readLog(textFile(logOf(path), io).text);
  const learnt = learn(runs);
  io.out(
    json === true
      ? `${JSON.stringify({ ...learnt, unread }, null, 2)}\n`
      : learntText(learnt, { log: basename(logOf(path)), unread, title: job.title }, sayIn(job.units)),
  );
}

/** One entry at the end of the log beside the job: written in one piece, and nothing before it is touched. */
function addToLog(path: string, readings: Readings, found: Adjustment, mark: string, io: Io): void {
  if (path === '-') throw new Leave(UNUSABLE, '--log keeps a log beside the job; give the job as a file');
  const log = resolve(io.cwd, logOf(path));
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
    raised: Number(fixed(found.raised.reads, 4)),
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
