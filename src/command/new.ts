/**
 * `flatwright new [FILE]`: a starter job, from flags or by asking. What is not said is filled in so that
 * the job plans: a blank that covers the corners, a stick-out that clears the holding nose.
 */
import { type Command, Option } from 'commander';
import { NAMED_SECTIONS } from '../file/job-schema.js';
import { InputError } from '../file/problem.js';
import { readJob } from '../file/read.js';
import { findSocket, SocketError } from '../file/socket-table.js';
import { sizeToGrind, USUAL_SHARE } from '../job/socket.js';
import { type Plan, planJob } from '../plan/plan.js';
import { QuantityError, readQuantity } from '../quantity/arithmetic.js';
import { trimmed } from '../quantity/decimal.js';
import { fromMm } from '../quantity/length.js';
import { type LengthUnit, mm } from '../quantity/unit.js';
import { acrossCorners } from '../section/corner.js';
import { planSentence } from '../wording/plan.js';
import { type Done, GOOD, Leave, UNUSABLE } from './exit.js';
import type { Io } from './io.js';
import { jobTexts, profileText, shippedMachines, socketTables } from './shipped.js';
import { writeFiles } from './write.js';

type SectionName = keyof typeof NAMED_SECTIONS;

interface Answers {
  readonly title: string;
  readonly units: LengthUnit;
  readonly section: SectionName;
  readonly size: string;
  readonly length: string;
  readonly relief: string;
  readonly wheel: string;
  readonly rated: string;
  readonly speed: string;
  readonly machine: string;
  /** Takes the place of section and size. */
  readonly socket?: string;
}

/** Every answer: the flag, what is asked, and what is taken where nobody answers. */
const questions: readonly {
  readonly key: keyof Answers;
  readonly flag: string;
  readonly ask: string;
  /** Left out where only the person can know. */
  readonly usual?: string;
  readonly choices?: () => readonly string[];
}[] = [
  { key: 'title', flag: '--title <text>', ask: 'what the punch is for', usual: 'new punch' },
  {
    key: 'units',
    flag: '--units <units>',
    ask: 'units of the job',
    usual: 'mm',
    choices: () => ['mm', 'inch'],
  },
  {
    key: 'section',
    flag: '--section <name>',
    ask: 'section',
    usual: 'hex',
    choices: () => Object.keys(NAMED_SECTIONS),
  },
  {
    key: 'size',
    flag: '--size <length>',
    ask: 'across flats, or inscribed diameter of an odd section',
    usual: '5.06 mm',
  },
  { key: 'length', flag: '--length <length>', ask: 'full-width length of the flats', usual: '10 mm' },
  {
    key: 'relief',
    flag: '--relief <angle>',
    ask: 'relief, more than the tilt of the broaching head',
    usual: '2.5 deg',
  },
  { key: 'wheel', flag: '--wheel <length>', ask: 'diameter of the cup wheel', usual: '75 mm' },
  { key: 'rated', flag: '--rated <speed>', ask: 'speed marked on the wheel, such as 5100 or 32 m/s' },
  { key: 'speed', flag: '--speed <speed>', ask: 'speed to run the wheel at', usual: '4000' },
  {
    key: 'machine',
    flag: '--machine <name>',
    ask: 'machine profile',
    usual: 'bench-mill-rotary',
    choices: shippedMachines,
  },
];

export function newCommand(command: Command, io: Io, done: Done): void {
  command
    .description(
      'Writes a starter job to FILE, or to standard output. On a terminal it asks for what the flags leave open; elsewhere it takes the usual values.',
    )
    .option('--socket <name>', 'section and size for this socket, such as "hex 5"; flatwright size --list')
    .option('--force', 'replace a file that is already there')
    .option('--yes', 'ask nothing, take the usual values');
  for (const { flag, ask, usual, choices } of questions) {
    const option = new Option(flag, usual === undefined ? ask : `${ask} (usual: ${usual})`);
    command.addOption(choices === undefined ? option : option.choices([...choices()]));
  }
  command
    .addHelpText(
      'after',
      `
Examples:
  flatwright new my-hex.yaml
  flatwright new cap.yaml --section square --size "8.05 mm" --machine knee-mill-by-hand --rated 5100 --yes
`,
    )
    .action(async (file: string | undefined, options: Partial<Answers> & { force?: true; yes?: true }) => {
      const answers = await answerAll(withSocket(options), options.yes === true ? 'no terminal' : io.ask);
      const text = starterJob(answers, io);
      if (file === undefined || file === '-') io.out(text);
      else {
        writeFiles([{ path: file, text }], options.force === true, io);
        io.err(`${file}: written; next: flatwright plan ${file}\n`);
      }
      done(GOOD);
    });
}

/** A socket answers for section and size; asked for both ways, neither is certain. */
function withSocket(options: Partial<Answers>): Partial<Answers> {
  const { socket, section, size } = options;
  if (socket === undefined) return options;
  if (section !== undefined || size !== undefined) {
    throw new Leave(UNUSABLE, '--socket gives section and size; leave --section and --size out');
  }
  try {
    const found = findSocket(socketTables(), socket);
    return {
      ...options,
      socket: found.name,
      section: found.section,
      size: `${sizeToGrind(found, USUAL_SHARE)} mm`,
    };
  } catch (error) {
    if (error instanceof SocketError) throw new Leave(UNUSABLE, `--socket: ${error.message}`);
    throw error;
  }
}

/** Asked so often for one answer; somebody who has gone away gives none. */
const PATIENCE = 10;

async function answerAll(given: Partial<Answers>, ask: Io['ask']): Promise<Answers> {
  const answers: Record<string, string> = given.socket === undefined ? {} : { socket: given.socket };
  for (const { key, ask: question, usual, choices } of questions) {
    const said = given[key];
    if (said !== undefined || ask === 'no terminal') {
      const answer = said ?? usual;
      if (answer === undefined)
        throw new Leave(UNUSABLE, `say --${key}: the ${question}; nobody else can read it`);
      answers[key] = answer;
      continue;
    }
    const list = choices === undefined ? '' : ` (${choices().join(', ')})`;
    const otherwise = usual === undefined ? '' : ` [${usual}]`;
    const accepted = (answer: string): string | undefined => {
      const meant = answer === '' ? usual : answer;
      return meant !== undefined && choices?.().includes(meant) === false ? undefined : meant;
    };
    let answer = (await ask(`${question}${list}${otherwise}: `)).trim();
    for (let asked = 1; accepted(answer) === undefined && asked < PATIENCE; asked += 1) {
      const wrong = answer === '' ? 'needed' : `not one of ${choices?.().join(', ')}`;
      answer = (await ask(`  ${wrong}; again${otherwise}: `)).trim();
    }
    const taken = accepted(answer);
    if (taken === undefined) throw new Leave(UNUSABLE, `no answer for the ${question}`);
    answers[key] = taken;
  }
  return answers as unknown as Answers;
}

/** First stick-out tried, mm: what most short punches need. */
const STICK_OUT = 24;
/** The blank covers the corners by this much, mm, and comes in steps of it. */
const BLANK_STEP = 0.5;

/**
 * The starter job's text; it has been read and planned, so that it works as it stands.
 * @throws Leave with exit 2 if the answers cannot be used.
 */
function starterJob(answers: Answers, io: Io): string {
  const size = sizeOf(answers);
  const sides = NAMED_SECTIONS[answers.section];
  const corners = acrossCorners(mm(size), sides);
  const blank = Math.ceil((corners + BLANK_STEP) / BLANK_STEP) * BLANK_STEP;
  const first = jobText(answers, blank, STICK_OUT, io);
  const nose = planned(first, io).findings.find((finding) => finding.code === 'nose-in-reach');
  const text = nose === undefined ? first : jobText(answers, blank, Math.ceil(nose.wouldDo), io);
  const { job, findings } = planned(text, io);
  const [error] = findings.filter(({ severity }) => severity === 'error');
  if (error !== undefined)
    throw new Leave(UNUSABLE, `the answers do not make a safe job: ${planSentence(error, job)}`);
  return text;
}

function sizeOf({ size, units }: Answers): number {
  try {
    return readQuantity(size, 'length', units);
  } catch (error) {
    if (error instanceof QuantityError) throw new Leave(UNUSABLE, `--size: ${error.message}`);
    throw error;
  }
}

function planned(text: string, io: Io): Plan {
  try {
    return planJob(readJob({ file: 'the new job', text }, jobTexts(io.cwd)));
  } catch (error) {
    if (error instanceof InputError) {
      const [problem] = error.problems;
      throw new Leave(
        UNUSABLE,
        `the answers do not make a job: ${problem?.key ?? ''} ${problem?.message ?? ''}`,
      );
    }
    throw error;
  }
}

function jobText(answers: Answers, blankMm: number, stickOutMm: number, io: Io): string {
  const { units, section, machine } = answers;
  const sides = NAMED_SECTIONS[section];
  const length = (value: number): string => trimmed(fromMm(mm(value), units), units === 'inch' ? 4 : 3);
  const rotary = /^rotary:/m.test(profileText(machine, io.cwd).text);
  const holding = rotary
    ? ['  index: rotary axis']
    : [
        '  index: by hand',
        `  device: {kind: indexing block, sides: ${sides}}   # or {kind: spin indexer, step: 1 deg}`,
      ];
  const size =
    answers.socket === undefined
      ? [
          `  section: ${section}`,
          `  ${sides % 2 === 0 ? 'acrossFlats' : 'inscribedDiameter'}: ${answers.size}`,
        ]
      : [`  socket: ${answers.socket}          # section and size from the socket tables`];
  return `# A starter job. Lengths without a unit are in ${units}, angles in degrees; arithmetic such as 1/4 in works.
title: ${JSON.stringify(answers.title)}
units: ${units}
punch:
${size.join('\n')}
  flatLength: ${answers.length}
  relief: ${answers.relief}          # more than headTilt
  headTilt: 1 deg
blank:
  shape: round
  size: ${length(blankMm)}
  stickOut: ${length(stickOutMm)}           # from the front face to the holding nose
wheel:
  shape: straight cup
  diameter: ${answers.wheel}
  rim: 8 mm
  height: 40 mm
  ratedSpeed: ${answers.rated}      # the number marked on the wheel, never more
grinding:
  roughInfeed: 0.02 mm
  finishInfeed: 0.005 mm
  finishAllowance: 0.03 mm
  sparkOut: 3
  spindleSpeed: ${answers.speed}
  order: rough first      # so that the wheel wears alike on every flat
  measuringStop: after roughing   # measure, and set the rim anew for what it has worn
holding:
${holding.join('\n')}
  slope: {by: fixture, sineBar: 100 mm}
  nose: {halfHeight: 12 mm}
machine: ${machine}
`;
}
