/**
 * `flatwright new [FILE]`: a starter job, from flags or by asking in the order a colleague would: what the punch is for, on
 * which machine, from what is at hand. What is not said is filled in so that the job plans: a blank that covers the corners,
 * flats twice as long as the size, a stick-out that clears the holding nose.
 */
import { existsSync } from 'node:fs';
import { resolve } from 'node:path';
import { type Command, Option } from 'commander';
import { InputError } from '../file/problem.js';
import { readJob } from '../file/read.js';
import { NAMED_SECTIONS, ROUNDED_SECTIONS } from '../file/section-name.js';
import { findSocket, SocketError } from '../file/socket-table.js';
import { kindOf, layouts, punchTurns } from '../job/layout.js';
import type { Machine } from '../job/machine.js';
import { type Socket, sizeToGrind, USUAL_SHARE } from '../job/socket.js';
import { type Plan, planJob } from '../plan/plan.js';
import { readQuantity } from '../quantity/arithmetic.js';
import { trimmed } from '../quantity/decimal.js';
import { fromMm, toMm } from '../quantity/length.js';
import { inchText, sayIn } from '../quantity/say.js';
import { speedAtSurface } from '../quantity/speed.js';
import { type LengthUnit, mm, mPerS } from '../quantity/unit.js';
import { acrossCorners } from '../section/corner.js';
import { readMarking } from '../wheel/marking.js';
import { planSentence } from '../wording/plan.js';
import { roundedText } from '../wording/section.js';
import { type Done, GOOD, Leave, UNUSABLE } from './exit.js';
import { type Answers, interview, type Question, quantityCheck } from './interview.js';
import type { Io } from './io.js';
import { jobSchemaUrl, jobTexts, loadMachine, shippedMachines, socketTables } from './shipped.js';
import { writeFiles } from './write.js';

type SectionName = keyof typeof NAMED_SECTIONS;

const SECTIONS: readonly string[] = [...Object.keys(NAMED_SECTIONS), ...Object.keys(ROUNDED_SECTIONS)];
/** A round is about so much larger than what is over its flats, as on a D 6 x 4.5; common practice, no source. */
const ROUND_OVER = 4 / 3;

/** What is usual in a metric shop and in one that works in inches. Common practice, no source. */
const USUAL = {
  mm: {
    machine: 'bench-mill-rotary',
    size: '5.06 mm',
    wheel: '75 mm',
    rim: '8 mm',
    height: '40 mm',
    bar: '100 mm',
    nose: '12 mm',
    infeeds: ['0.02 mm', '0.005 mm', '0.03 mm'],
  },
  inch: {
    machine: 'inch-mill',
    size: '0.2525 in',
    wheel: '3 in',
    rim: '5/16 in',
    height: '1.5 in',
    bar: '5 in',
    nose: '1/2 in',
    infeeds: ['0.0008 in', '0.0002 in', '0.001 in'],
  },
} as const;

const length = (io: Io) => quantityCheck('length', (answers) => unitsOf(answers, io));
const angle = quantityCheck('angle', () => 'deg');
const rotation = quantityCheck('rotation', () => 'rpm');

/** rev/min, or m/s at the rim. */
const marked = (answer: string, answers: Answers): string =>
  /^\s*\d+(\.\d+)?\s*m\/s\s*$/.test(answer)
    ? Number.parseFloat(answer) > 0
      ? 'good'
      : `${answer}: must be more than 0`
    : rotation(answer, answers);

function machineOf(answers: Answers, io: Io): Machine {
  return loadMachine(answers['machine'] ?? '', io);
}

/** Said, or those of the machine. */
const unitsOf = (answers: Answers, io: Io): LengthUnit => {
  const said = answers['units'];
  if (said === 'mm' || said === 'inch') return said;
  return answers['machine'] === undefined ? 'mm' : machineOf(answers, io).units;
};

const sidesOf = (answers: Answers): number => NAMED_SECTIONS[answers['section'] as SectionName];
const isRounded = ({ section }: Answers): boolean =>
  section !== undefined && Object.hasOwn(ROUNDED_SECTIONS, section);

/** Left out, in whatever letters. */
const isNone = (answer: string): boolean => answer.trim().toLowerCase() === 'none';

const socketOf = (answers: Answers): Socket | 'none' => {
  const said = answers['socket'];
  return said === undefined || isNone(said) ? 'none' : findSocket(socketTables(), said);
};

/** Limits as a person says them: `6.02 to 6.10`; a unit behind one goes for both. */
const LIMITS = /^(.+?)\s+to\s+(.+)$/i;
const UNIT_BEHIND = /\s*(mm|in|inch|")$/i;
/** `6.1 +0 -0.08` says limits in another way, and reads as a sum. */
const WITH_BOTH_SIGNS = /^[\d./]+\s*(?:mm|in)?\s*\+\s*[\d.]+.*-\s*[\d.]+/;

/** The two limits as quantities. */
function limitsIn(answer: string): readonly [least: string, most: string] | 'none' {
  const [, first, second] = LIMITS.exec(answer) ?? [];
  if (first === undefined || second === undefined) return 'none';
  const [, unit] = UNIT_BEHIND.exec(second) ?? UNIT_BEHIND.exec(first) ?? [];
  const said = (each: string): string =>
    unit === undefined || UNIT_BEHIND.test(each) ? each : `${each} ${unit === '"' ? 'in' : unit}`;
  return [said(first), said(second)];
}

/** A size, or two of which the first is less by as much as a micrometer tells. */
function sizeCheck(io: Io) {
  const one = length(io);
  return (answer: string, answers: Answers): string => {
    if (isRounded(answers) && limitsIn(answer) !== 'none')
      return `${answer}: one size over the flats; what it may be off is punch.tolerance, in the job`;
    if (WITH_BOTH_SIGNS.test(answer)) return `write "${answer}" as its limits, such as 6.02 to 6.10`;
    const limits = limitsIn(answer);
    if (limits === 'none') return one(answer, answers);
    const wrong = limits.map((each) => one(each, answers)).find((judged) => judged !== 'good');
    if (wrong !== undefined) return wrong;
    const units = unitsOf(answers, io);
    const [low = 0, high = 0] = limits.map((each) => readQuantity(each, 'length', units));
    if (low >= high) return `${answer}: the first is not less than the second`;
    const least = toMm(LEAST_BAND[units], units);
    return high - low >= least
      ? 'good'
      : `${answer}: nobody grinds within ${sayIn(units).length(mm(high - low))}; ${sayIn(units).length(least)} between them, at least`;
  };
}

/** What a punch is ground to, mm, and what it may be off where its own limits were said. */
interface Size {
  readonly size: number;
  readonly tolerance: { readonly plus: number; readonly minus: number } | 'usual';
}

/** Decimals of a size between limits, in each unit. */
const SIZE_DECIMALS = { mm: 3, inch: 4 } as const;
/** Limits nearer to each other than this are a slip; common practice, no source. */
const LEAST_BAND = { mm: 0.004, inch: 0.0002 } as const;

function sizeOf(answers: Answers, io: Io): Size {
  const socket = socketOf(answers);
  if (socket !== 'none') return { size: sizeToGrind(socket, USUAL_SHARE), tolerance: 'usual' };
  const units = unitsOf(answers, io);
  const said = answers['size'] ?? '';
  const limits = limitsIn(said);
  if (limits === 'none') return { size: readQuantity(said, 'length', units), tolerance: 'usual' };
  const [low = 0, high = 0] = limits.map((each) => readQuantity(each, 'length', units));
  // High, so that it can be resharpened, as for a socket.
  const wanted = fromMm(mm(low + USUAL_SHARE * (high - low)), units);
  const size = toMm(Number(trimmed(wanted, SIZE_DECIMALS[units])), units);
  return { size, tolerance: { plus: high - size, minus: size - low } };
}

/** A tolerance to the last digit of its limits. */
const inFull = (length: number, units: LengthUnit): string =>
  `${trimmed(fromMm(mm(length), units), 6)} ${units === 'inch' ? 'in' : 'mm'}`;

const sizeMm = (answers: Answers, io: Io): number => sizeOf(answers, io).size;

/** A length in the units of the job, rounded up to what one says in a shop. */
const inShop = (
  length: number,
  units: LengthUnit,
  step: { readonly mm: number; readonly inch: number },
): string => {
  const value = Math.ceil(fromMm(mm(length), units) / step[units] - 1e-9) * step[units];
  // Stock under an inch is called by its fraction; a mixed number would want brackets.
  if (units === 'inch' && value < 1) return inchText(Math.round(16 * value));
  return `${trimmed(value, 4)} ${units === 'inch' ? 'in' : 'mm'}`;
};

/** Whether the blank at hand covers the corners, and what is to spare. */
function blankCheck(io: Io) {
  return (answer: string, answers: Answers): string => {
    const judged = length(io)(answer, answers);
    if (judged !== 'good') return judged;
    const units = unitsOf(answers, io);
    const say = sayIn(units);
    const [blank, corners] = [readQuantity(answer, 'length', units), acrossOf(answers, io)];
    if (isRounded(answers)) {
      // Half of it and less would leave nothing of a D before the axis.
      if (blank > corners && blank < 2 * corners) return 'good';
      return `${answer}: the round is more than ${say.length(mm(corners))} over the flats, and less than twice that`;
    }
    return blank >= corners
      ? 'good'
      : `${answer} does not cover the corners, ${say.length(mm(corners))} across; ${inShop(corners, units, STOCK_STEP)} or more does`;
  };
}

/** Across the corners, or over the flats of a D. */
const acrossOf = (answers: Answers, io: Io): number => {
  if (isRounded(answers)) return sizeMm(answers, io);
  const socket = socketOf(answers);
  return acrossCorners(mm(sizeMm(answers, io)), socket === 'none' ? sidesOf(answers) : socket.sides);
};

/** Round stock comes in steps. */
const STOCK_STEP = { mm: 0.5, inch: 1 / 16 } as const;
const LENGTH_STEP = { mm: 1, inch: 1 / 16 } as const;
/** A plain wheel is wider than the blank by this, mm. */
const WIDER = 2;
/** A blank covers the corners by this, mm. */
const SPARE = 0.3;

/** Of the broaching head; common practice, no source. */
const TILT = '1 deg';
/** No job takes more. */
const STEEPEST = '20 deg';

const MEANS = ['sine bar', 'strip', 'pin', 'pins', 'angle blocks', 'shim', 'block sides'] as const;

/** A bench grinder, where nothing may lie loose before the wheel. */
const onRail = (answers: Answers, io: Io): boolean =>
  kindOf(machineOf(answers, io).layout) === 'bench grinder with a rail';

const DEVICES = ['indexing block', 'spin indexer', 'dividing head', 'gear'] as const;

/** Said in the order a colleague would ask. */
const questionsFor = (io: Io): readonly Question[] => [
  { key: 'title', ask: 'what the punch is for', usual: 'new punch' },
  {
    key: 'socket',
    ask: 'its socket, such as hex 5, hex6, M6, square 3/8 in; none for a size of your own',
    usual: 'none',
    check: (answer) => {
      if (isNone(answer)) return 'good';
      try {
        findSocket(socketTables(), answer);
        return 'good';
      } catch (error) {
        if (error instanceof SocketError) return error.message;
        throw error;
      }
    },
  },
  {
    key: 'section',
    ask: 'section',
    usual: 'hex',
    choices: () => SECTIONS,
    when: (answers) => socketOf(answers) === 'none',
  },
  {
    key: 'machine',
    ask: 'machine profile, or the path of your own',
    usual: (answers) => USUAL[answers['units'] === 'inch' ? 'inch' : 'mm'].machine,
    check: (answer) => {
      try {
        loadMachine(answer, io);
        return 'good';
      } catch (error) {
        if (error instanceof InputError) return error.problems[0]?.message ?? 'cannot be read';
        throw error;
      }
    },
    list: () => shippedMachines().map((name) => [name, loadMachine(name, io).title]),
  },
  {
    key: 'units',
    ask: 'units of the job',
    usual: (answers) => machineOf(answers, io).units,
    choices: () => ['mm', 'inch'],
  },
  {
    key: 'size',
    ask: 'across flats, inscribed diameter of an odd section, or over the flat of a D; or limits, such as 6.02 to 6.10',
    usual: (answers) => USUAL[unitsOf(answers, io)].size,
    check: sizeCheck(io),
    when: (answers) => socketOf(answers) === 'none',
  },
  {
    key: 'length',
    ask: 'full-width length of the flats',
    usual: (answers) => inShop(2 * sizeMm(answers, io), unitsOf(answers, io), LENGTH_STEP),
    check: (answer, answers) => {
      const judged = length(io)(answer, answers);
      if (judged !== 'good') return judged;
      const units = unitsOf(answers, io);
      const most = sizeMm(answers, io) / 2 / Math.tan(readQuantity('2.5 deg', 'angle', 'deg'));
      return readQuantity(answer, 'length', units) < most
        ? 'good'
        : `nothing is left where flats of ${answer} end; less than ${sayIn(units).length(mm(most))} at a relief of 2.5 deg`;
    },
  },
  {
    key: 'relief',
    ask: 'relief, more than the tilt of the broaching head',
    usual: '2.5 deg',
    check: (answer, answers) => {
      const judged = angle(answer, answers);
      if (judged !== 'good') return judged;
      const relief = readQuantity(answer, 'angle', 'deg');
      if (relief <= readQuantity(TILT, 'angle', 'deg'))
        return `${answer} is not more than the head tilt of ${TILT}, the punch would rub; 2 to 3 deg are usual`;
      const units = unitsOf(answers, io);
      const flats = readQuantity(answers['length'] ?? '', 'length', units);
      const most = Math.atan(sizeMm(answers, io) / 2 / flats);
      return relief < Math.min(most, readQuantity(STEEPEST, 'angle', 'deg'))
        ? 'good'
        : `at ${answer} nothing is left where flats of ${answers['length']} end; 2 to 3 deg are usual, or shorter flats`;
    },
  },
  {
    key: 'blank',
    ask: 'diameter of the round blank at hand; of a D that of its round',
    usual: (answers) =>
      inShop(
        isRounded(answers) ? ROUND_OVER * acrossOf(answers, io) : acrossOf(answers, io) + SPARE,
        unitsOf(answers, io),
        STOCK_STEP,
      ),
    check: blankCheck(io),
    good: (answer, answers) => {
      const units = unitsOf(answers, io);
      if (isRounded(answers)) return 'its lands stay: grind it to size, and tapered back, before the flats';
      const spare = readQuantity(answer, 'length', units) - acrossOf(answers, io);
      return `it goes: the corners are ${sayIn(units).length(mm(acrossOf(answers, io)))} across, ${sayIn(units).length(mm(spare))} to spare`;
    },
  },
  {
    key: 'wheel',
    ask: 'diameter of the wheel at hand',
    usual: (answers) => USUAL[unitsOf(answers, io)].wheel,
    check: length(io),
  },
  {
    key: 'rim',
    ask: 'width of its rim, or of a plain wheel',
    usual: (answers) =>
      layouts[machineOf(answers, io).layout].wheel === 'plain'
        ? inShop(
            readQuantity(answers['blank'] ?? '', 'length', unitsOf(answers, io)) + WIDER,
            unitsOf(answers, io),
            LENGTH_STEP,
          )
        : USUAL[unitsOf(answers, io)].rim,
    check: (answer, answers) => {
      const judged = length(io)(answer, answers);
      if (judged !== 'good' || layouts[machineOf(answers, io).layout].wheel === 'plain') return judged;
      const units = unitsOf(answers, io);
      return readQuantity(answer, 'length', units) < readQuantity(answers['wheel'] ?? '', 'length', units) / 2
        ? 'good'
        : `a rim of ${answer} is no cup's on a wheel of ${answers['wheel']}; less than half its diameter`;
    },
  },
  {
    key: 'marking',
    ask: 'what is printed on it, such as A 60 J 8 V; none to leave it out',
    usual: 'none',
    check: (answer) =>
      isNone(answer) || readMarking(answer) !== 'unread'
        ? 'good'
        : `"${answer}" does not read as abrasive, grit, grade, structure, bond; such as A 60 J 8 V, or none`,
  },
  { key: 'rated', ask: 'speed marked on the wheel, such as 5100 or 32 m/s', check: marked },
  {
    key: 'speed',
    ask: 'speed to run the wheel at',
    usual: (answers) => `${usualSpeed(answers, io)}`,
    check: (answer, answers) => {
      const judged = rotation(answer, answers);
      if (judged !== 'good') return judged;
      const most = ratedOf(answers, io);
      const { min, max } = machineOf(answers, io).spindle;
      const speed = readQuantity(answer, 'rotation', 'rpm');
      if (speed < min || speed > max)
        return `${answer} is outside what the spindle runs, ${min} to ${max} rev/min; such as ${usualSpeed(answers, io)}`;
      return speed <= most
        ? 'good'
        : `${answer} is more than the ${Math.floor(most)} rev/min marked on the wheel, it may burst; less, such as ${usualSpeed(answers, io)}`;
    },
  },
  {
    key: 'index',
    ask: 'the punch is turned by',
    usual: (answers) =>
      machineOf(answers, io).rotary === undefined ? usualDevice(answers, io) : 'rotary axis',
    choices: () => ['rotary axis', ...DEVICES],
    check: (answer, answers) =>
      answer !== 'rotary axis' || machineOf(answers, io).rotary !== undefined
        ? 'good'
        : `${answers['machine'] ?? ''} has no rotary axis; ${DEVICES.join(', ')}`,
  },
  {
    key: 'slope',
    ask: 'the slope is set with',
    usual: (answers) => (onRail(answers, io) ? 'block sides' : 'sine bar'),
    choices: (answers) =>
      MEANS.filter(
        (means) => means !== 'sine bar' || answers['machine'] === undefined || !onRail(answers, io),
      ),
    when: (answers) => layouts[machineOf(answers, io).layout].slopes.includes('fixture'),
  },
  {
    key: 'bar',
    ask: 'length of the sine bar',
    usual: (answers) => USUAL[unitsOf(answers, io)].bar,
    check: length(io),
    when: (answers) => answers['slope'] === 'sine bar',
  },
  {
    key: 'coolant',
    ask: 'coolant',
    usual: 'none',
    choices: () => ['none', 'flood', 'mist'],
    when: (answers) => machineOf(answers, io).program.coolant.length > 0,
  },
];

/** Marked speed, rev/min. */
function ratedOf(answers: Answers, io: Io): number {
  const said = answers['rated'] ?? '0';
  const surface = /^\s*(\d+(?:\.\d+)?)\s*m\/s\s*$/.exec(said);
  if (surface === null) return readQuantity(said, 'rotation', 'rpm');
  const diameter = readQuantity(answers['wheel'] ?? '', 'length', unitsOf(answers, io));
  return speedAtSurface(mm(diameter), mPerS(Number(surface[1])));
}

/** A wheel is run well under its mark; common practice, no source. */
const UNDER_MARK = 0.8;
const SPEED_STEP = 50;

/** Well under the mark, as fast as the spindle runs. */
const usualSpeed = (answers: Answers, io: Io): number =>
  Math.floor(Math.min(UNDER_MARK * ratedOf(answers, io), machineOf(answers, io).spindle.max) / SPEED_STEP) *
  SPEED_STEP;

const usualDevice = (answers: Answers, io: Io): string =>
  punchTurns(machineOf(answers, io).layout) ? 'gear' : 'indexing block';

export function newCommand(command: Command, io: Io, done: Done): void {
  command
    .description(
      'Writes a starter job to FILE, or to standard output. On a terminal it asks for what the flags leave open, and checks every answer; elsewhere it takes the usual values.',
    )
    .option('--force', 'replace a file that is already there')
    .option('--yes', 'ask nothing, take the usual values');
  for (const { key, ask, choices } of questionsFor(io)) {
    const option = new Option(`--${key} <answer>`, ask);
    command.addOption(choices === undefined ? option : option.choices([...choices({})]));
  }
  command
    .addHelpText(
      'after',
      `
Examples:
  flatwright new my-hex.yaml
  flatwright new bolt.yaml --socket hex6 --rated 5100 --yes
  flatwright new cap.yaml --section square --size "8.05 mm" --machine knee-mill-by-hand --rated 5100 --yes
`,
    )
    .action(
      async (file: string | undefined, { force, yes, ...given }: Answers & { force?: true; yes?: true }) => {
        // Before anything is asked: what is there stays there, and no answer is given for nothing.
        if (file !== undefined && file !== '-' && force !== true && existsSync(resolve(io.cwd, file)))
          throw new Leave(UNUSABLE, `${file} is there already; --force replaces it, or give another name`);
        if (given['socket'] !== undefined && (given['section'] ?? given['size']) !== undefined)
          throw new Leave(UNUSABLE, '--socket gives section and size; leave --section and --size out');
        // A size that is said is for a section, and nobody needs be asked for a socket.
        const said = (given['section'] ?? given['size']) === undefined ? given : { socket: 'none', ...given };
        const answers = await interview(questionsFor(io), said, yes === true ? 'no terminal' : io.ask);
        const text = starterJob(answers, io);
        if (file === undefined || file === '-') io.out(text);
        else {
          writeFiles([{ path: file, text }], force === true, io);
          io.err(`${file}: written; next: flatwright plan ${file}\n`);
        }
        done(GOOD);
      },
    );
}

/** First stick-out tried, mm: what most short punches need. */
const STICK_OUT = 24;

/**
 * The starter job's text; it has been read and planned, so that it works as it stands.
 * @throws Leave with exit 2 if the answers cannot be used.
 */
function starterJob(answers: Answers, io: Io): string {
  const first = jobText(answers, STICK_OUT, io);
  const nose = planned(first, io).findings.find(
    ({ code }) => code === 'nose-in-reach' || code === 'guard-meets-nose',
  );
  const text =
    nose !== undefined && 'wouldDo' in nose && typeof nose.wouldDo === 'number'
      ? jobText(answers, Math.ceil(nose.wouldDo), io)
      : first;
  const { job, findings } = planned(text, io);
  const [error] = findings.filter(({ severity }) => severity === 'error');
  if (error !== undefined)
    throw new Leave(UNUSABLE, `the answers do not make a safe job: ${planSentence(error, job)}`);
  return text;
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

/** What turns the punch, as the job writes it. */
function holdingLines(answers: Answers): readonly string[] {
  const { index } = answers;
  const socket = socketOf(answers);
  const sides = isRounded(answers) ? ROUNDED_BLOCK : socket === 'none' ? sidesOf(answers) : socket.sides;
  // A flat of an odd section faces a corner: the block has a side for both.
  const block = sides % 2 === 0 ? sides : 2 * sides;
  const device: Readonly<Record<string, string>> = {
    'indexing block': `{kind: indexing block, sides: ${block}}`,
    'spin indexer': '{kind: spin indexer, step: 1 deg}',
    'dividing head':
      '{kind: dividing head, ratio: 40, circles: [15, 16, 17, 18, 19, 20, 21, 23, 27, 29, 31, 33, 37, 39, 41, 43, 47, 49]}',
    gear: '{kind: gear, teeth: 60}   # the teeth of yours',
  };
  return index === 'rotary axis'
    ? ['  index: rotary axis']
    : ['  index: by hand', `  device: ${device[index ?? ''] ?? ''}`];
}

/** A block of four sides turns one flat or two, and lies well in a vice. */
const ROUNDED_BLOCK = 4;

/** A D or double-D by its flats: the round is the blank's. */
function roundedLines(answers: Answers, io: Io): readonly string[] {
  const units = unitsOf(answers, io);
  const round = mm(readQuantity(answers['blank'] ?? '', 'length', units));
  const flats = ROUNDED_SECTIONS[answers['section'] as keyof typeof ROUNDED_SECTIONS];
  const across = mm(sizeMm(answers, io));
  return [
    `  section: ${roundedText({ kind: 'rounded', flats, round, across }, sayIn(units))}   # ${answers['size'] ?? ''} over ${flats === 1 ? 'the flat' : 'both'}`,
    '  corners: as the blank leaves them   # grind the round to size first, and tapered back',
  ];
}

/** Section and size, and its own limits where they were said. */
function sizeLines(answers: Answers, io: Io): readonly string[] {
  if (isRounded(answers)) return roundedLines(answers, io);
  const units = unitsOf(answers, io);
  const key = sidesOf(answers) % 2 === 0 ? 'acrossFlats' : 'inscribedDiameter';
  const { size, tolerance } = sizeOf(answers, io);
  const section = `  section: ${answers['section'] ?? ''}`;
  if (tolerance === 'usual') return [section, `  ${key}: ${answers['size'] ?? ''}`];
  return [
    section,
    `  ${key}: ${inFull(size, units)}          # ${100 * USUAL_SHARE} % of the way up its limits`,
    `  tolerance: {plus: ${inFull(tolerance.plus, units)}, minus: ${inFull(tolerance.minus, units)}}`,
  ];
}

function jobText(answers: Answers, stickOutMm: number, io: Io): string {
  const said = (key: string): string => answers[key] ?? '';
  const units = unitsOf(answers, io);
  const usual = USUAL[units];
  const machine = machineOf(answers, io);
  const socket = socketOf(answers);
  const fixture = layouts[machine.layout].slopes.includes('fixture');
  const plain = layouts[machine.layout].wheel === 'plain';
  const [rough, finish, allowance] = usual.infeeds;
  const section =
    socket === 'none'
      ? sizeLines(answers, io)
      : [`  socket: ${socket.name}          # section and size from the socket tables`];
  const slope = !fixture
    ? '{by: head}'
    : said('slope') === 'sine bar'
      ? `{by: fixture, sineBar: ${said('bar')}}`
      : `{by: fixture, using: ${said('slope')}}`;
  const coolant = answers['coolant'];
  return `# yaml-language-server: $schema=${jobSchemaUrl()}
# A starter job. Lengths without a unit are in ${units}, angles in degrees; arithmetic such as 1/4 in works.
title: ${JSON.stringify(said('title'))}
units: ${units}
punch:
${section.join('\n')}
  flatLength: ${said('length')}
  relief: ${said('relief')}          # more than headTilt
  headTilt: ${TILT}
blank:
  shape: round
  size: ${said('blank')}
  stickOut: ${trimmed(fromMm(mm(stickOutMm), units), units === 'inch' ? 3 : 0)}           # from the front face to the holding nose
wheel:
  shape: ${plain ? 'plain' : 'straight cup'}
  diameter: ${said('wheel')}
  rim: ${said('rim')}
  height: ${usual.height}
  ratedSpeed: ${said('rated')}      # the number marked on the wheel, never more
${isNone(said('marking')) ? '' : `  marking: ${said('marking')}\n`}grinding:
  roughInfeed: ${rough}
  finishInfeed: ${finish}
  finishAllowance: ${allowance}
  sparkOut: 3
  spindleSpeed: ${said('speed')}
  order: rough first      # so that the wheel wears alike on every flat
  measuringStop: after roughing   # measure, and set the rim anew for what it has worn
${coolant === undefined || coolant === 'none' ? '' : `  coolant: ${coolant}\n`}holding:
${holdingLines(answers).join('\n')}
  slope: ${slope}
  nose: {halfHeight: ${usual.nose}}
machine: ${said('machine')}
`;
}
