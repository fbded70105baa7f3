/** `flatwright machines [NAME or FILE]`: the profiles and what each can do; checks one's own, and asks for a new one. */
import type { Command } from 'commander';
import { InputError, problemLine } from '../file/problem.js';
import { readMachine } from '../file/read.js';
import { kindOf, type LayoutName, layouts, type MachineKind, punchTurns } from '../job/layout.js';
import type { Machine } from '../job/machine.js';
import { degFromRad } from '../quantity/angle.js';
import { readQuantity } from '../quantity/arithmetic.js';
import { trimmed } from '../quantity/decimal.js';
import { sayIn } from '../quantity/say.js';
import type { LengthUnit } from '../quantity/unit.js';
import { type Done, GOOD, Leave, UNUSABLE } from './exit.js';
import { type Answers, interview, type Question, quantityCheck } from './interview.js';
import type { Io } from './io.js';
import { fitted, labelled, type Row, table, WIDTH } from './screen.js';
import { loadMachine, shippedMachines } from './shipped.js';
import { writeFiles } from './write.js';

interface Options {
  readonly new?: string;
  readonly force?: true;
  readonly json?: true;
}

export function machinesCommand(command: Command, io: Io, done: Done): void {
  command
    .description(
      'Lists the machine profiles and what each can do. With a name or the path of your own it shows that one in full and checks it; --new asks for one of your own step by step.',
    )
    .option('--new <file>', 'ask for a profile and write it to this file')
    .option('--force', 'replace a file that is already there')
    .option('--json', 'print it as JSON')
    .addHelpText(
      'after',
      `
Examples:
  flatwright machines
  flatwright machines hand-mill
  flatwright machines --new my-mill.yaml
`,
    )
    .action(async (name: string | undefined, options: Options) => {
      if (options.new !== undefined) {
        await askForOne(options.new, options, io);
        done(GOOD);
        return;
      }
      if (name === undefined) {
        const all = shippedMachines().map((each) => [each, loadMachine(each, io)] as const);
        io.out(
          options.json === true
            ? `${JSON.stringify(Object.fromEntries(all), null, 2)}\n`
            : machinesScreen(all),
        );
      } else {
        const machine = loadMachine(name, io);
        io.out(
          options.json === true ? `${JSON.stringify(machine, null, 2)}\n` : machineScreen(name, machine),
        );
      }
      done(GOOD);
    });
}

const KINDS: Readonly<Record<MachineKind, string>> = {
  mill: 'mill',
  'lathe, wheel in the spindle': 'lathe, wheel turns',
  'lathe, punch in the spindle': 'lathe, punch turns',
  'bench grinder with a rail': 'bench grinder',
  'surface grinder': 'surface grinder',
};

/** Kind, what brings flats up, what moves it, in a few words. */
function shortly({ layout, rotary, dials, program, units }: Machine): readonly string[] {
  const index = rotary === undefined ? 'by hand' : `${rotary.axis} axis`;
  const moved =
    dials !== undefined ? 'hand wheels' : program.stops === 'ignored' ? 'control, no M0' : 'control';
  return [KINDS[kindOf(layout)], index, moved, units];
}

function machinesScreen(all: readonly (readonly [name: string, machine: Machine])[]): string {
  const rows = all.map(([name, machine]) => [name, ...shortly(machine)]);
  return [
    table(['profile', 'kind', 'index', 'moved by', 'units'], rows),
    '\nNext: flatwright machines NAME shows one in full; --new FILE asks for one of your own.\n',
  ].join('');
}

/** Everything a profile says, in words. */
function machineScreen(name: string, machine: Machine): string {
  const say = sayIn(machine.units);
  const { layout, travel, spindle, rotary, dials, guard, program, play } = machine;
  const { along, across, up } = layouts[layout];
  const span = (axis: 'x' | 'y' | 'z'): string => {
    const range = travel[axis];
    return range === undefined
      ? ''
      : `${axis.toUpperCase()} ${say.length(range[0])} to ${say.length(range[1])}`;
  };
  const rows: Row[] = [
    ['What', machine.title],
    ['Layout', layout],
    [
      'Axes',
      `stroke ${along.axis.toUpperCase()}, infeed ${up.axis.toUpperCase()}, across ${across === 'none' ? 'none' : across.axis.toUpperCase()}; slopes by ${layouts[layout].slopes.join(' or ')}`,
    ],
    [
      'Travel',
      `${['x', 'y', 'z']
        .map((axis) => span(axis as 'x'))
        .filter((each) => each !== '')
        .join(', ')}`,
    ],
    [
      'Spindle',
      `${say.speed(spindle.min)} to ${say.speed(spindle.max)}, ${spindle.turns}, switched ${spindle.switched}; up in ${say.time(spindle.spinUp)}, at rest after ${say.time(spindle.coastDown)}`,
    ],
    ['Index', rotary === undefined ? 'by hand' : rotaryWords(rotary)],
    ['Play', say.length(play)],
    ...(guard === undefined
      ? []
      : ([
          ['Guard', `${say.length(guard.beside)} past the rim, ${say.length(guard.back)} back from its face`],
        ] as const)),
    ...(dials === undefined ? controlRows(machine) : dialRows(machine)),
  ];
  const next = dials === undefined ? `post JOB --machine ${name}` : `dial JOB --machine ${name}`;
  return [
    `${name}: in order\n\n`,
    fitted(labelled(rows), WIDTH),
    `\nNext: machine: ${name} in a job, or flatwright ${next}\n`,
    program.stops === 'ignored'
      ? 'Jobs indexed by hand need --split here: the control runs on through stops.\n'
      : '',
  ].join('');
}

const rotaryWords = ({
  axis,
  sense,
  backlash,
  clamp,
  mayTurnWithSpindle,
  counts,
}: NonNullable<Machine['rotary']>): string =>
  [
    `${axis} axis, ${sense}, ${trimmed(degFromRad(backlash), 3)} deg backlash, counts ${counts}`,
    clamp === undefined ? 'no clamp' : `clamped by ${clamp}`,
    mayTurnWithSpindle ? 'turns with the wheel running' : 'turns only with the wheel at rest',
  ].join('; ');

function controlRows({ program, rapid, maxFeed, units }: Machine): readonly Row[] {
  const say = sayIn(units);
  return [
    ['Feeds', `up to ${say.feed(maxFeed)}, rapid ${say.feed(rapid)}`],
    [
      'Program',
      `${units}, ${program.decimals} decimals, ${program.unitsCode}, ${program.workOffset}, comments in ${program.comments}, ends with ${program.end}`,
    ],
    ['Stops', program.stops === 'honoured' ? 'M0 is honoured' : 'M0 is run through'],
    ['Coolant', program.coolant.length === 0 ? 'none switched' : program.coolant.join(', ')],
    ['Leaves out', program.leaveOut.length === 0 ? 'nothing' : program.leaveOut.join(', ')],
  ];
}

function dialRows({ dials, maxFeed, units }: Machine): readonly Row[] {
  if (dials === undefined) return [];
  const say = sayIn(units);
  const { infeed, stroke, readout, stops } = dials;
  return [
    [
      'Infeed dial',
      `${say.length(infeed.graduation)} a division, ${say.length(infeed.turn)} a turn, numbers grow ${infeed.grows}${readout === undefined ? '' : `; a read-out of ${say.length(readout)}`}`,
    ],
    [
      'Stroke',
      stroke === undefined
        ? 'pushed, or by a lever'
        : `${say.length(stroke.graduation)} a division, ${say.length(stroke.turn)} a turn`,
    ],
    ['Stops', stops ? 'end the stroke at a place' : 'none: read every stroke'],
    ['By hand', `up to ${say.feed(maxFeed)}`],
  ];
}

const unitsOf = (answers: Answers): LengthUnit => (answers['units'] === 'inch' ? 'inch' : 'mm');
const length = quantityCheck('length', unitsOf);
const speed = quantityCheck('speed', (answers) => `${unitsOf(answers)}/min`);
const rotation = quantityCheck('rotation', () => 'rpm');
const time = quantityCheck('time', () => 's');
const place = quantityCheck('length', unitsOf, 'any');

/** The two ends of a slide as typed: `-300, 0` or `-300 to 0`. */
const endsOf = (typed: string): readonly string[] => typed.split(/\s*(?:,|\bto\b)\s*/);

/** `from to`, two places of one slide. */
function range(answer: string, answers: Answers): string {
  const [from, to, ...rest] = endsOf(answer);
  if (from === undefined || to === undefined || rest.length > 0) return 'write two numbers, such as -300, 0';
  for (const end of [from, to]) {
    const judged = place(end, answers);
    if (judged !== 'good') return judged;
  }
  const value = (text: string): number => readQuantity(text, 'length', unitsOf(answers));
  return value(from) < value(to) ? 'good' : 'the smaller number comes first';
}

const byControl = (answers: Answers): boolean => answers['moved'] === 'a control';
const byWheels = (answers: Answers): boolean => answers['moved'] === 'hand wheels';
const hasY = (answers: Answers): boolean => layouts[answers['layout'] as LayoutName].across !== 'none';
const hasRotary = (answers: Answers): boolean =>
  answers['rotary'] !== undefined && answers['rotary'] !== 'none';
const inUnits =
  (metric: string, inch: string) =>
  (answers: Answers): string =>
    unitsOf(answers) === 'inch' ? inch : metric;

/** The title first, then what decides the rest: units, what moves it, where the tip points. */
const QUESTIONS: readonly Question[] = [
  { key: 'title', ask: 'what the machine is, in a few words' },
  { key: 'units', ask: 'units it shows', usual: 'mm', choices: () => ['mm', 'inch'] },
  { key: 'moved', ask: 'moved by', usual: 'a control', choices: () => ['a control', 'hand wheels'] },
  {
    key: 'layout',
    ask: 'where the tip of the punch points, and what moves',
    choices: (answers) =>
      Object.keys(layouts).filter(
        (name) => byWheels(answers) || kindOf(name as LayoutName) !== 'bench grinder with a rail',
      ),
  },
  { key: 'x', ask: 'X travel, least and most, as the machine counts it', check: range },
  { key: 'y', ask: 'Y travel, least and most', check: range, when: hasY },
  { key: 'z', ask: 'Z travel, least and most', check: range },
  { key: 'least', ask: "the wheel's slowest speed, rev/min", check: rotation },
  {
    key: 'fastest',
    ask: "the wheel's fastest speed, rev/min",
    check: (answer, answers) => {
      const judged = rotation(answer, answers);
      if (judged !== 'good') return judged;
      return readQuantity(answer, 'rotation', 'rpm') >=
        readQuantity(answers['least'] ?? '0', 'rotation', 'rpm')
        ? 'good'
        : 'must not be less than the slowest';
    },
  },
  { key: 'coastDown', ask: 'how long the wheel runs on when switched off, timed with it on', check: time },
  {
    key: 'rapid',
    ask: 'speed of a rapid',
    usual: inUnits('3000 mm/min', '120 inch/min'),
    check: speed,
    when: byControl,
  },
  {
    key: 'maxFeed',
    ask: 'highest feed',
    usual: inUnits('1500 mm/min', '60 inch/min'),
    check: speed,
    when: byControl,
  },
  {
    key: 'switched',
    ask: "the wheel's spindle is switched",
    usual: 'by program',
    choices: () => ['by program', 'by hand'],
    // A program's spindle words would turn the punch there.
    when: (answers) => byControl(answers) && !punchTurns(answers['layout'] as LayoutName),
  },
  {
    key: 'rotary',
    ask: 'rotary axis that turns the punch',
    usual: 'none',
    choices: () => ['none', 'A', 'B', 'C'],
    when: byControl,
  },
  {
    key: 'withWheel',
    ask: 'may it turn while the wheel runs',
    usual: 'yes',
    choices: () => ['yes', 'no'],
    when: (answers) => byControl(answers) && hasRotary(answers),
  },
  {
    key: 'stops',
    ask: 'what the control does at M0',
    usual: 'honoured',
    choices: () => ['honoured', 'ignored'],
    when: byControl,
  },
  {
    key: 'decimals',
    ask: 'decimals of a length word',
    usual: inUnits('3', '4'),
    choices: () => ['2', '3', '4', '5', '6'],
    when: byControl,
  },
  { key: 'graduation', ask: 'what a division of the infeed dial moves', check: length, when: byWheels },
  {
    key: 'turn',
    ask: 'what a whole turn of it moves',
    check: (answer, answers) => {
      const judged = length(answer, answers);
      if (judged !== 'good') return judged;
      const read = (text: string): number => readQuantity(text, 'length', unitsOf(answers));
      return read(answer) >= read(answers['graduation'] ?? '0')
        ? 'good'
        : `${answer} is less than a division, ${answers['graduation'] ?? ''}; what a whole turn moves is more`;
    },
    when: byWheels,
  },
  {
    key: 'grows',
    ask: 'its numbers grow',
    usual: 'toward the work',
    choices: () => ['toward the work', 'away from the work'],
    when: byWheels,
  },
];

/** @throws Leave where nobody answers, or what was answered makes no profile. */
async function askForOne(file: string, { force }: Options, io: Io): Promise<void> {
  if (io.ask === 'no terminal')
    throw new Leave(
      UNUSABLE,
      `--new asks, and nobody is there to answer; copy a profile and change it: flatwright machines lists them, flatwright help machines says what each key means`,
    );
  const text = profileOf(await interview(QUESTIONS, {}, io.ask));
  try {
    readMachine({ file, text });
  } catch (error) {
    if (error instanceof InputError)
      throw new Leave(UNUSABLE, `the answers make no profile: ${error.problems.map(problemLine).join('; ')}`);
    throw error;
  }
  writeFiles([{ path: file, text }], force === true, io);
  io.err(`${file}: written; next: flatwright machines ${file}\n`);
}

/** The profile's text, with what was not asked left to its usual values. */
function profileOf(answers: Answers): string {
  const said = (key: string): string => answers[key] ?? '';
  const travel = (key: string): string => `[${endsOf(said(key)).join(', ')}]`;
  const spindle = `spindle: { min: ${said('least')}, max: ${said('fastest')}, coastDown: ${timed(said('coastDown'))}`;
  return [
    '# Asked for step by step. What is not written here has its usual value; flatwright help machines lists every key.',
    `title: ${JSON.stringify(said('title'))}`,
    `units: ${said('units')}`,
    `layout: ${JSON.stringify(said('layout'))}`,
    'travel:',
    `  x: ${travel('x')}`,
    ...(answers['y'] === undefined ? [] : [`  y: ${travel('y')}`]),
    `  z: ${travel('z')}`,
    ...(byControl(answers)
      ? [
          `rapid: ${said('rapid')}`,
          `maxFeed: ${said('maxFeed')}`,
          `${spindle}, switched: ${answers['switched'] ?? 'by hand'} }`,
          ...(hasRotary(answers)
            ? [`rotary: { axis: ${said('rotary')}, mayTurnWithSpindle: ${said('withWheel') === 'yes'} }`]
            : []),
          `program: { decimals: ${said('decimals')}, stops: ${said('stops')} }`,
        ]
      : [
          `${spindle} }`,
          'dials:',
          `  infeed: { graduation: ${said('graduation')}, turn: ${said('turn')}, grows: ${said('grows')} }`,
        ]),
    '',
  ].join('\n');
}

const timed = (text: string): string => (/^\s*[\d.]+\s*$/.test(text) ? `${text.trim()} s` : text);
