/** `flatwright size SOCKET`: what a punch for that socket is ground to, and the hole it needs. */
import { type Command, Option } from 'commander';
import { readDrills } from '../file/drill-table.js';
import { NAMED_SECTIONS, OWN_SECTIONS, ownSection } from '../file/section-name.js';
import { allSockets, findSocket, SocketError } from '../file/socket-table.js';
import type { Drill } from '../job/drill.js';
import type { SizedSection } from '../job/sized-section.js';
import { type SizeLimits, type Socket, USUAL_SHARE } from '../job/socket.js';
import { MAY_BREAK } from '../plan/press.js';
import { DEEPEST_PILOT, planSize, type SizeSheet, type SizeWanted } from '../plan/size.js';
import { usualCut } from '../plan/tool.js';
import { degFromRad } from '../quantity/angle.js';
import { QuantityError, readQuantity } from '../quantity/arithmetic.js';
import { fixed, trimmed } from '../quantity/decimal.js';
import { inchText, type Say, sayIn } from '../quantity/say.js';
import { type LengthUnit, type Mm, mm, mm3, type NPerMm2, rad } from '../quantity/unit.js';
import { roundedText } from '../wording/section.js';
import { type Done, GOOD, Leave, UNUSABLE } from './exit.js';
import type { Io } from './io.js';
import { lengthOption } from './options.js';
import { labelled, table } from './screen.js';
import { drillTable, socketTables } from './shipped.js';

interface Options {
  readonly list?: true;
  readonly json?: true;
  readonly share: string;
  readonly relief: string;
  readonly tilt: string;
  readonly length?: string;
  readonly faceCut?: string;
  readonly under: string;
  readonly drills?: string;
}

export function sizeCommand(command: Command, io: Io, done: Done): void {
  command
    .description(
      `Shows what a punch for SOCKET is ground to, when it is worn out, and the blank and the hole it needs. SOCKET may be a section of your own: ${OWN_SECTIONS}. A bare number is millimetres; inches carry in, or are a fraction.`,
    )
    .option('--list', 'list every socket of the tables')
    .addOption(
      new Option('--share <part>', 'how far up its limits a new punch is ground, 0 to 1').default(
        `${USUAL_SHARE}`,
      ),
    )
    .addOption(new Option('--relief <angle>', 'slope of the flats').default('2.5 deg'))
    .addOption(new Option('--tilt <angle>', 'tilt of the broaching head').default('1 deg'))
    .option('--length <length>', 'full-width length of the flats; twice the size if left out')
    .option('--drills <list>', 'drills at hand, such as 5,5.1,13/64 in; every drill one can buy if left out')
    .option('--face-cut <length>', 'taken off the face at each resharpening; usually 0.15 mm, or 0.006 in')
    .addOption(
      new Option(
        '--under <length>',
        'of a section of your own: how much under its size it is still good',
      ).default('0.02 mm'),
    )
    .option('--json', 'print it as JSON')
    .addHelpText(
      'after',
      '\nExamples:\n  flatwright size hex 5\n  flatwright size "hex 1/4 in" --relief "2 deg" --face-cut "0.005 in"\n  flatwright size D 6 x 4.5\n  flatwright size --list\n',
    )
    .action((words: readonly string[], options: Options) => {
      if (options.list === true) {
        const sockets = allSockets(socketTables());
        io.out(options.json === true ? json(sockets.map(socketJson)) : listScreen(sockets));
      } else {
        const sheet = sheetFor(words.join(' '), options);
        io.out(options.json === true ? json(sizeJson(sheet)) : sizeScreen(sheet));
      }
      done(GOOD);
    });
}

const json = (value: unknown): string => `${JSON.stringify(value, null, 2)}\n`;

/** What was asked for: a section of one's own, or else a socket of the tables. */
function sectionFor(name: string, options: Options): Pick<SizeWanted, 'section' | 'name' | 'units'> {
  const own = ownSection(name);
  if (own !== 'none') return own;
  const share = Number(options.share);
  if (!(share >= 0 && share <= 1)) {
    throw new Leave(UNUSABLE, `--share: "${options.share}" must be from 0 to 1, such as ${USUAL_SHARE}`);
  }
  const socket = findSocket(socketTables(), name);
  return { section: { kind: 'socket', socket, share }, name: socket.name, units: socket.units };
}

function sheetFor(name: string, options: Options): SizeSheet {
  if (name.trim() === '')
    throw new Leave(
      UNUSABLE,
      `which socket? for example: flatwright size hex 5; or a section of your own: ${OWN_SECTIONS}`,
    );
  try {
    const wanted = sectionFor(name, options);
    const { units } = wanted;
    const read = (
      key: 'relief' | 'tilt' | 'faceCut' | 'length' | 'under',
      text: string,
      most: number,
    ): number => {
      const isAngle = key === 'relief' || key === 'tilt';
      const value = isAngle ? readQuantity(text, 'angle', 'deg') : readQuantity(text, 'length', units);
      if (value > 0 && value < most) return value;
      const option = key === 'faceCut' ? 'face-cut' : key;
      const range = isAngle ? `less than ${degFromRad(rad(most))} deg` : `less than ${most} mm`;
      throw new Leave(UNUSABLE, `--${option}: "${text}" must be more than 0 and ${range}`);
    };
    const [relief, tilt] = [
      rad(bare(options.relief, 'deg', (text) => read('relief', text, Math.PI / 9))),
      rad(bare(options.tilt, 'deg', (text) => read('tilt', text, Math.PI / 18))),
    ];
    if (relief <= tilt) {
      throw new Leave(
        UNUSABLE,
        `--relief: ${options.relief} is not more than the head tilt of ${options.tilt}, the punch would rub; half a degree more clears`,
      );
    }
    return planSize({
      ...wanted,
      drills: drillsOf(options.drills, units),
      under: mm(bare(options.under, units, (text) => read('under', text, 1))),
      relief,
      headTilt: tilt,
      faceCut:
        options.faceCut === undefined
          ? usualCut(units)
          : mm(bare(options.faceCut, units, (text) => read('faceCut', text, 10))),
      flatLength:
        options.length === undefined
          ? 'usual'
          : mm(bare(options.length, units, (text) => read('length', text, 1000))),
    });
  } catch (error) {
    if (error instanceof SocketError)
      throw new Leave(
        UNUSABLE,
        /names no socket/.test(error.message)
          ? `${error.message}; or a section of your own: ${OWN_SECTIONS}`
          : error.message,
      );
    if (error instanceof QuantityError || error instanceof RangeError)
      throw new Leave(UNUSABLE, error.message);
    throw error;
  }
}

/** Those at hand, each by what was typed, or every one. */
function drillsOf(typed: string | undefined, units: LengthUnit): readonly Drill[] {
  if (typed === undefined) return readDrills(drillTable());
  return typed.split(',').map((each) => ({
    name: each.trim(),
    diameter: lengthOption('--drills', each.trim(), units),
  }));
}

/** A number without a unit is read in `unit`. */
const bare = (text: string, unit: string, read: (text: string) => number): number =>
  read(/^[-+]?[\d.]+$/.test(text.trim()) ? `${text} ${unit}` : text);

const between = (say: Say, { least, most }: SizeLimits): string =>
  `${say.column(least)} to ${say.column(most)} ${say.unit}`;

const playText = (play: Mm, say: Say): string =>
  play < -NOISE ? 'larger than the smallest socket, the tables disagree' : `least play ${say.length(play)}`;

/** Two table entries that are equal in inches may differ by this in millimetres. */
const NOISE = 1e-9;

/** What a size means there: across flats, the circle within, over the flat and the round behind it. */
function acrossWords(section: SizedSection): string {
  if (section.kind === 'rounded') return section.flats === 2 ? 'across flats' : 'over the flat';
  const sides = section.kind === 'socket' ? section.socket.sides : section.sides;
  return sides % 2 === 0 ? 'across flats' : 'inscribed';
}

/** How a job says it. */
function jobWords({ section, name, units, grind }: SizeSheet): string {
  if (section.kind === 'socket') return `socket: ${name}`;
  const say = sayIn(units);
  if (section.kind === 'rounded')
    return `section: ${roundedText(section, say)}, corners: as the blank leaves them, blank.size: ${say.length(section.round)}`;
  const [named] = Object.entries(NAMED_SECTIONS).find(([, sides]) => sides === section.sides) ?? [];
  const of = named ?? `{sides: ${section.sides}}`;
  return `section: ${of}, ${section.sides % 2 === 0 ? 'acrossFlats' : 'inscribedDiameter'}: ${say.length(grind)}`;
}

/** A punch that may break by it. */
const stressMark = (stress: NPerMm2 | 'unknown'): string =>
  stress !== 'unknown' && stress > MAY_BREAK ? ' !' : '';

function socketRows({ section, play }: SizeSheet, say: Say): readonly (readonly [string, string])[] {
  if (section.kind !== 'socket') return [];
  const { socket } = section;
  return [
    ['Socket', `${between(say, socket)} across flats: ${socket.table}`],
    ...socket.others.map((other) => ['', `${between(say, other)}: ${other.table}`] as const),
    ...(socket.key === 'none' || play === 'none'
      ? []
      : ([['Key', `${between(say, socket.key)}, ${playText(play, say)}: ${socket.key.table}`]] as const)),
  ];
}

function grindRows(
  { section, grind, acrossCorners }: SizeSheet,
  say: Say,
): readonly (readonly [string, string])[] {
  if (section.kind === 'rounded')
    return [
      [
        'Grind to',
        `${say.length(grind)} ${acrossWords(section)}; the round of ${say.length(acrossCorners)} stays, its lands without relief`,
      ],
    ];
  const size = `${say.length(grind)} ${acrossWords(section)}, ${acrossWords(section) === 'across flats' ? `${say.length(acrossCorners)} across corners` : `${say.length(mm((grind + acrossCorners) / 2))} flat to corner`}`;
  if (section.kind === 'regular') return [['Grind to', size]];
  return [
    ['Grind to', `${size}; ${trimmed(100 * section.share, 1)} % of the way up`],
    ...section.socket.others
      .filter(({ most }) => grind > most)
      .map(({ most, table: other }) => ['', `over the ${say.length(most)} of ${other}`] as const),
  ];
}

function sizeScreen(sheet: SizeSheet): string {
  const { section, depth, shankEnd, blank, holes } = sheet;
  const say = sayIn(sheet.units);
  const percent = (share: number): string => `${fixed(100 * share, 1)} %`;
  const pilots = sheet.pilots.map(({ work, diameter, drill, times, left, flatLost, pressing, stress }) => [
    work,
    say.column(diameter),
    drill.name,
    fixed(times, 3),
    fixed(100 * flatLost, 0),
    fixed(100 * left, 1),
    `${say.thrust(pressing.most)}${stressMark(stress)}`,
  ]);
  const rows = socketRows(sheet, say);
  const drive = section.kind === 'socket' ? section.socket.drive : 'none';
  const plain = section.kind === 'socket' ? say.length(section.socket.nominal) : '';
  return [
    `${sheet.name}\n\n`,
    rows.length === 0 ? '' : `${labelled(rows)}\n`,
    drive === 'none'
      ? ''
      : `  This is the ${drive} drive; a plain square of ${plain}: flatwright size plain square ${trimmed(section.kind === 'socket' ? section.socket.nominal : 0, 3)}\n\n`,
    'The punch\n',
    labelled([
      ...grindRows(sheet, say),
      ['Worn out', `at ${say.length(sheet.wornOut)}`],
      [
        'Regrinds',
        `${sheet.regrinds}, each ${say.length(sheet.faceCut)} off the face, relief ${say.angle(sheet.relief)}`,
      ],
      [
        'Blank',
        section.kind === 'rounded'
          ? `round ${say.length(blank.least)}, ground to size before its flats and tapered back by the tilt and half a degree, or its lands jam in the hole`
          : `${say.length(blank.least)} or more: next stock ${trimmed(blank.metric, 1)} mm, ${inchText(blank.sixteenths)}`,
      ],
      [
        'Shank end',
        `${say.length(shankEnd.size)} ${acrossWords(section)} ${say.length(sheet.flatLength)} behind the face, ${percent(shankEnd.share)} of the front's area;`,
      ],
      [
        '',
        `${say.area(shankEnd.area)}${shankEnd.modulus === 'none' ? '' : `, section modulus ${say.volume(mm3(shankEnd.modulus))}`}`,
      ],
    ]),
    '\nThe hole, from practice\n',
    table(['pilot in', say.unit, 'drill', 'x', 'lost %', 'to cut %', 'presses'], pilots),
    '\n',
    labelled([
      ['Drill', 'x the circle within the flats; lost of each flat; to cut of the section'],
      ...(holes === 'none'
        ? []
        : ([
            ['For a screw', `a hole of ${say.length(holes.screw)} at most, 1.04 x the least across flats`],
            [
              'For a drive',
              `${holes.drive.map((hole) => say.length(hole)).join(' to ')}, where the corners alone carry`,
            ],
          ] as const)),
      [
        'Presses',
        `about so much at the most of a turn, at the feed to start with; ! bends the end of the flats with over ${say.stress(MAY_BREAK)}, and it may break: a larger hole, less feed, shorter flats`,
      ],
      ['Chamfer', `90 deg included, ${say.length(sheet.chamfer)} at the mouth`],
      [
        'Depth',
        `form up to ${say.length(depth.most)}, ${say.length(depth.mostHard)} in hard steel; pilot ${depth.pilotTimes.join(' to ')} times as deep, for the chips; a catalogue says ${DEEPEST_PILOT}`,
      ],
      [
        'Advance',
        `less than ${say.length(sheet.advance)} a revolution, head tilted ${say.angle(sheet.headTilt)}`,
      ],
    ]),
    `\nIn a job: ${jobWords(sheet)}\nIf it comes out wrong: flatwright help socket\n`,
  ].join('');
}

function listScreen(sockets: readonly Socket[]): string {
  const rows = sockets.map((socket) => {
    const say = sayIn(socket.units);
    return [socket.name, say.column(socket.least), say.column(socket.most), say.unit, socket.table];
  });
  return table(['socket', 'least', 'most', 'in', 'table'], rows, 0);
}

const limitsJson = ({ least, most, table: title, source }: SizeLimits) => ({
  leastMm: least,
  mostMm: most,
  table: title,
  source,
});

const socketJson = (socket: Socket) => ({
  name: socket.name,
  sides: socket.sides,
  ...limitsJson(socket),
  others: socket.others.map(limitsJson),
  key: socket.key === 'none' ? 'none' : limitsJson(socket.key),
});

const sectionJson = (section: SizedSection) => {
  switch (section.kind) {
    case 'socket':
      return { socket: socketJson(section.socket), share: section.share };
    case 'regular':
      return { sides: section.sides, sizeMm: section.size };
    case 'rounded':
      return { flats: section.flats, roundMm: section.round, acrossMm: section.across };
  }
};

const sizeJson = (sheet: SizeSheet) => ({
  name: sheet.name,
  ...sectionJson(sheet.section),
  grindToMm: sheet.grind,
  acrossCornersMm: sheet.acrossCorners,
  wornOutMm: sheet.wornOut,
  regrinds: sheet.regrinds,
  faceCutMm: sheet.faceCut,
  reliefDeg: degFromRad(sheet.relief),
  headTiltDeg: degFromRad(sheet.headTilt),
  flatLengthMm: sheet.flatLength,
  blank: {
    leastMm: sheet.blank.least,
    nextMetricMm: sheet.blank.metric,
    nextInch: inchText(sheet.blank.sixteenths),
  },
  pilots: sheet.pilots.map(({ work, diameter, drill, times, left, flatLost, pressing, stress }) => ({
    work,
    diameterMm: diameter,
    drill: drill.name,
    drillMm: drill.diameter,
    drillOverFlats: times,
    flatLostShare: flatLost,
    leftShare: left,
    pressMeanN: pressing.mean,
    pressMostN: pressing.most,
    stressNPerMm2: stress,
  })),
  ...(sheet.holes === 'none' ? {} : { holeForScrewMm: sheet.holes.screw, holeForDriveMm: sheet.holes.drive }),
  chamferMm: sheet.chamfer,
  depth: {
    mostMm: sheet.depth.most,
    mostInHardSteelMm: sheet.depth.mostHard,
    pilotTimes: sheet.depth.pilotTimes,
  },
  advancePerRevolutionMm: sheet.advance,
  leastPlayMm: sheet.play,
  shankEnd: {
    acrossFlatsMm: sheet.shankEnd.size,
    areaMm2: sheet.shankEnd.area,
    areaShare: sheet.shankEnd.share,
    sectionModulusMm3: sheet.shankEnd.modulus,
  },
});
