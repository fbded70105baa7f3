/**
 * Reads a job file and the machine profile it names. Pure: the caller supplies the texts. Size is held against the
 * number of sides here; what else one key cannot say alone is in together.
 */

import type { GaugeSet } from '../job/gauge.js';
import {
  DIAMOND,
  type Job,
  measuresPairs,
  type Punch,
  type Side,
  type Tolerance,
  type Wheel,
} from '../job/job.js';
import type { Machine } from '../job/machine.js';
import { sizeToGrind, USUAL_SHARE } from '../job/socket.js';
import { degFromRad, radFromDeg, withinTurnDeg } from '../quantity/angle.js';
import { trimmed } from '../quantity/decimal.js';
import { toMm } from '../quantity/length.js';
import { speedAtSurface, surfaceSpeed } from '../quantity/speed.js';
import { type LengthUnit, type Mm, type MmPerMin, mm, mmPerMin, mPerS, rad } from '../quantity/unit.js';
import { between, opposite, regularSection, type Section } from '../section/flat.js';
import { readMarking } from '../wheel/marking.js';
import { readGaugeSets } from './gauge-table.js';
import { abrasiveNamed, figuresFor, type GrindingTable, readGrindingTable } from './grinding-table.js';
import { type JobFile, jobSchema } from './job-schema.js';
import { handMachineSchema, machineSchema } from './machine-schema.js';
import { InputError, type Problem } from './problem.js';
import { UNITS_WRITTEN } from './quantity-schema.js';
import { NAMED_SECTIONS } from './section-name.js';
import { type Furnished, furnish } from './shop.js';
import { findSocket, SocketError } from './socket-table.js';
import { readStandingFlats } from './standing-flats.js';
import type { TextFile } from './text-file.js';
import { checkTogether } from './together.js';
import { type DefaultTaken, defaultsTaken, inputSchema, suggestion, validate } from './validate.js';
import { type Place, pathOf, readYaml, type YamlSource } from './yaml-source.js';

/** Texts beside the job that reading it may need; the caller does the fetching. */
export interface JobTexts {
  /** The machine profile of that name or path; may throw InputError itself. */
  readonly machine: (name: string) => TextFile;
  /** Another job, by its path from this one; may throw InputError itself. */
  readonly job: (name: string) => TextFile;
  /** The shop file a job names, or for `undefined` the one beside or above it; may throw InputError itself. */
  readonly shop: (name: string | undefined) => TextFile | 'none';
  /** shared/grinding.yaml. */
  readonly grinding: () => TextFile;
  /** shared/sockets.yaml. */
  readonly sockets: () => TextFile;
  /** shared/gauge-blocks.yaml. */
  readonly gaugeBlocks: () => TextFile;
}

/** As people write it. */
const INCHES: ReadonlySet<string> = new Set([
  'inch',
  ...Object.keys(UNITS_WRITTEN).filter((name) => UNITS_WRITTEN[name] === 'inch'),
]);

/** Bare numbers before the units are known: any will do, the schema then refuses the key itself. */
function unitsOf(source: YamlSource): LengthUnit {
  return INCHES.has(String((source.value as { units?: unknown }).units).toLowerCase()) ? 'inch' : 'mm';
}

/**
 * Reads a machine profile.
 * @throws InputError naming file, line, column and key.
 */
export const readMachine = (profile: TextFile): Machine => readProfile(profile).machine;

/** A machine without a control is known by its dials. */
const hasDials = ({ value }: YamlSource): boolean =>
  typeof value === 'object' && value !== null && Object.hasOwn(value, 'dials');

interface ProfileRead {
  readonly machine: Machine;
  readonly defaults: () => readonly DefaultTaken[];
}

function readProfile({ file, text }: TextFile): ProfileRead {
  const source = readYaml(text, file);
  const schema = (hasDials(source) ? handMachineSchema : machineSchema)(unitsOf(source));
  return {
    machine: validate(source, schema),
    defaults: () => defaultsTaken(inputSchema(schema), source.value),
  };
}

/** Where a job was read from. */
export interface JobSource {
  readonly file: string;
  /** Where `key`, such as `punch.relief`, stands in the job file. */
  readonly locate: (key: string) => Place;
  /** What the job left to us, and what its machine profile did. */
  readonly defaults: () => readonly DefaultTaken[];
  readonly machineDefaults: () => readonly DefaultTaken[];
  /** What it took from a shop file. */
  readonly shop: Furnished['shop'];
}

/** A job, and where each of its keys stands. */
export interface JobRead {
  readonly job: Job;
  readonly source: JobSource;
}

/**
 * Reads a job.
 * @param machineName a machine to take in place of the one the job names.
 * @throws InputError with every problem found, each naming file, line, column and key.
 */
export const readJob = (file: TextFile, texts: JobTexts, machineName?: string): Job =>
  readJobFile(file, texts, machineName).job;

/** The same, with the places of its keys. @throws InputError */
export function readJobFile({ file, text }: TextFile, texts: JobTexts, machineName?: string): JobRead {
  const { source, shop } = furnish(readYaml(text, file), texts.shop);
  const schema = jobSchema(unitsOf(source));
  const written = validate(source, schema);
  const complain = complainer(source);
  const named = machineName ?? written.machine;
  const profile = profileFor(named, texts.machine, complain);
  const table = readGrindingTable(texts.grinding());
  const figures = figuresFor(
    table,
    written.blank.material,
    abrasiveOf(written.wheel),
    written.wheel.grindingRatio,
  );
  const punch = readPunch(written.punch, texts, complain);
  const job: Job = {
    title: written.title,
    units: written.units,
    punch,
    blank: readBlank(written.blank, complain),
    standing: readStandingFlats(written, punch, (name) => readOld(name, texts), complain.about),
    wheel: readWheel(written.wheel, table, complain),
    grinding: {
      ...written.grinding,
      roughInfeed: written.grinding.roughInfeed ?? figures.infeed.rough,
      finishInfeed: written.grinding.finishInfeed ?? figures.infeed.finish,
      ...speedsOf(written.grinding, profile.machine),
      // A periphery leaves its own curve behind the flat: no outside rubs a shoulder there.
      ...(written.wheel.shape === 'plain' ? { shoulder: rad(0) } : {}),
      sequence: readSequence(written.grinding.sequence ?? usualSequence(written), punch.section, complain),
    },
    holding: {
      ...written.holding,
      slope: readSlope(written, texts, complain),
      boxes: [...written.holding.boxes, ...diamondBoxes(written)],
    },
    spreads: written.spreads,
    figures,
    machine: profile.machine,
    machineName: named,
  };
  checkTogether(job, complain.about);
  complain.throwIfAny();
  return {
    job,
    source: {
      file,
      locate: (key) => source.locate(pathOf(key)),
      defaults: () => [
        ...usualInfeeds(written, job),
        ...usualSpeeds(written, job),
        ...usualAbrasive(written),
        ...(written.grinding.sequence === undefined
          ? [{ key: 'grinding.sequence', value: usualSequence(written) }]
          : []),
        ...defaultsTaken(inputSchema(schema), source.value),
      ],
      machineDefaults: profile.defaults,
      shop,
    },
  };
}

/** An old punch as its own job has it, though not what that was ground over. */
const readOld = (name: string, texts: JobTexts): Punch =>
  readJobFile(texts.job(name), {
    ...texts,
    job: (of) => {
      const message = 'is an old punch of an old punch; write its flats one by one, as they stand';
      throw new InputError([{ file: of, line: 0, column: 0, key: '', message }]);
    },
  }).job.punch;

/** A blank measured off by more than this share of its size is another blank; common practice, no source. */
const MEASURED_WITHIN = 0.05;

/** The blank as it is: where it was measured, that is its size. */
function readBlank({ measured, flats: _, ...blank }: JobFile['blank'], complain: Complainer): Job['blank'] {
  if (measured !== undefined && Math.abs(measured - blank.size) > blank.size * MEASURED_WITHIN)
    complain.about(
      'blank.measured',
      `is far from the size of ${trimmed(blank.size, 3)} mm; correct one of them (is it in other units?)`,
    );
  return { ...blank, size: measured ?? blank.size, turned: blank.shape === 'round' ? rad(0) : blank.turned };
}

/** A diamond's shank reaches so far round its point, mm; common practice, no source. */
const DIAMOND_ROUND: Mm = mm(5);
/** Its holder stands on the table, so far down; nothing is lower. */
const DOWN_TO: Mm = mm(-1000);

/** A diamond that stays where it is stands in the way like any other part of the fixture. */
function diamondBoxes({ holding }: JobFile): Job['holding']['boxes'] {
  const { diamond } = holding;
  if (diamond === undefined) return [];
  const round = (at: Mm): Side => [mm(at - DIAMOND_ROUND), mm(at + DIAMOND_ROUND)];
  return [{ name: DIAMOND, x: round(diamond.x), y: round(diamond.y ?? mm(0)), z: [DOWN_TO, diamond.z] }];
}

/** Infeeds that blank and wheel suggest, where the job names none. */
const usualInfeeds = ({ grinding }: JobFile, job: Job): readonly DefaultTaken[] =>
  (['roughInfeed', 'finishInfeed'] as const).flatMap((key) =>
    grinding[key] === undefined
      ? [{ key: `grinding.${key}`, value: `${trimmed(job.grinding[key], 4)} mm` }]
      : [],
  );

/** A stroke of every day, a minute's heat spread over many passes; common practice, no source. */
const USUAL_STROKE: MmPerMin = mmPerMin(1200);
/** A stroke out takes nothing: faster by this; common practice, no source. */
const RETURN_FASTER = 2;

/** Speeds the job names, or the usual ones as far as the machine feeds. */
function speedsOf(
  { strokeSpeed, returnSpeed }: JobFile['grinding'],
  { maxFeed }: Machine,
): Pick<Job['grinding'], 'strokeSpeed' | 'returnSpeed'> {
  const stroke = strokeSpeed ?? mmPerMin(Math.min(USUAL_STROKE, maxFeed));
  return {
    strokeSpeed: stroke,
    returnSpeed: returnSpeed ?? mmPerMin(Math.min(RETURN_FASTER * stroke, maxFeed)),
  };
}

const usualSpeeds = ({ grinding }: JobFile, job: Job): readonly DefaultTaken[] =>
  (['strokeSpeed', 'returnSpeed'] as const).flatMap((key) =>
    grinding[key] === undefined
      ? [{ key: `grinding.${key}`, value: `${trimmed(job.grinding[key], 1)} mm/min` }]
      : [],
  );

interface Complainer {
  readonly about: (key: string, message: string) => void;
  readonly throwIfAny: () => void;
}

function complainer(source: YamlSource): Complainer {
  const problems: Problem[] = [];
  return {
    about: (key, message) =>
      problems.push({ file: source.file, ...source.locate(pathOf(key)), key, message }),
    throwIfAny: () => {
      if (problems.length > 0) throw new InputError(problems);
    },
  };
}

function profileFor(name: string, profile: (name: string) => TextFile, complain: Complainer): ProfileRead {
  try {
    return readProfile(profile(name));
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    // The profile's own problems are the clearer ones; a profile that is not there is the job's problem.
    const [first] = error.problems;
    if (first !== undefined && first.line > 0) throw error;
    complain.about('machine', `${first?.file ?? name}: ${first?.message ?? 'cannot be read'}`);
    complain.throwIfAny();
    throw error;
  }
}

function readPunch(punch: JobFile['punch'], texts: JobTexts, complain: Complainer): Punch {
  const { flatLength, relief, headTilt, corners, tolerance, socket, overallLength, shank } = punch;
  const read =
    socket === undefined ? readSection(punch, complain) : readSocket(socket, punch, texts, complain);
  return {
    socket: 'none',
    ...read,
    flatLength,
    relief,
    headTilt,
    corners,
    tolerance: tolerance ?? usualTolerance(read),
    overallLength,
    shank,
  };
}

/** Ordered at the upper limit, since a punch only gets smaller; common practice, no source. */
const USUAL_TOLERANCE: Tolerance = { plus: mm(0), minus: mm(0.02) };

/** For a socket its own limits count. */
function usualTolerance({ socket, section }: SectionRead): Tolerance {
  if (socket === undefined || socket === 'none') return USUAL_TOLERANCE;
  const size = 2 * (section[0]?.distance ?? 0);
  return { plus: mm(Math.max(0, socket.of.most - size)), minus: mm(Math.max(0, size - socket.of.least)) };
}

type SectionRead = Pick<Punch, 'section' | 'sides'> & Partial<Pick<Punch, 'socket'>>;

/** Section and size from the socket tables. */
function readSocket(
  name: string,
  { section, acrossFlats, inscribedDiameter, socketShare: share = USUAL_SHARE }: JobFile['punch'],
  texts: JobTexts,
  complain: Complainer,
): SectionRead {
  for (const [key, given] of Object.entries({ section, acrossFlats, inscribedDiameter })) {
    if (given !== undefined)
      complain.about(`punch.${key}`, 'the socket gives section and size; leave this out');
  }
  try {
    const of = findSocket(texts.sockets(), name);
    const distance = mm(sizeToGrind(of, share) / 2);
    return { section: regularSection(of.sides, distance), sides: of.sides, socket: { of, share } };
  } catch (error) {
    if (!(error instanceof SocketError)) throw error;
    complain.about('punch.socket', error.message);
    return { section: regularSection(6, mm(1)), sides: 6 };
  }
}

function readSection(punch: JobFile['punch'], complain: Complainer): SectionRead {
  const { section, acrossFlats, inscribedDiameter, socketShare } = punch;
  if (socketShare !== undefined) complain.about('punch.socketShare', 'goes with socket; leave this out');
  if (section === undefined) {
    complain.about('punch', 'section is missing: hex, square, ... with its size, or socket: hex 5');
    return { section: regularSection(6, mm(1)), sides: 6 };
  }
  if (typeof section === 'object' && 'flats' in section) {
    if (acrossFlats !== undefined)
      complain.about('punch.acrossFlats', 'the flats give the size; leave this out');
    if (inscribedDiameter !== undefined) {
      complain.about('punch.inscribedDiameter', 'the flats give the size; leave this out');
    }
    return { section: readFlats(section.flats, complain), sides: 'free' };
  }
  const sides = typeof section === 'string' ? NAMED_SECTIONS[section] : section.sides;
  return {
    section: regularSection(sides, mm(readSize(sides, acrossFlats, inscribedDiameter, complain) / 2)),
    sides,
  };
}

/** Two flats nearer than this face the same way, radians. */
const SAME_WAY = 1e-6;

function readFlats(
  flats: readonly { readonly at: number; readonly distance: Mm }[],
  complain: Complainer,
): Section {
  const section = flats.map(({ at, distance }) => ({
    at: radFromDeg(withinTurnDeg(degFromRad(rad(at)))),
    distance,
  }));
  section.forEach((flat, i) => {
    const twin = section.slice(0, i).findIndex((other) => between(other.at, flat.at) < SAME_WAY);
    if (twin >= 0) {
      complain.about(
        'punch.section.flats',
        `flats ${twin + 1} and ${i + 1} face the same way; keep one of them`,
      );
    }
  });
  return section;
}

/** An even section is measured across flats; on an odd one no two flats face each other. */
function readSize(
  sides: number,
  acrossFlats: Mm | undefined,
  inscribedDiameter: Mm | undefined,
  complain: Complainer,
): Mm {
  const [right, wrong] =
    sides % 2 === 0
      ? (['acrossFlats', 'inscribedDiameter'] as const)
      : (['inscribedDiameter', 'acrossFlats'] as const);
  const given = { acrossFlats, inscribedDiameter };
  if (given[wrong] !== undefined) {
    complain.about(`punch.${wrong}`, `a section of ${sides} flats is sized by ${right}; write that instead`);
  } else if (given[right] === undefined) {
    complain.about('punch', `${right} is missing: the size at the front face`);
  }
  return given[right] ?? mm(1);
}

/** In turn, or by pairs where pairs are measured. */
const usualSequence = ({ grinding }: JobFile): 'in turn' | 'opposite pairs' =>
  measuresPairs(grinding) ? 'opposite pairs' : 'in turn';

/** The order of the flats: each number once. */
function readSequence(
  written: Exclude<JobFile['grinding']['sequence'], undefined>,
  section: Section,
  complain: Complainer,
): readonly number[] {
  const key = 'grinding.sequence';
  const inTurn = section.map((_, i) => i + 1);
  if (written === 'in turn') return inTurn;
  if (written === 'opposite pairs') {
    const facing = inTurn.map((flat) => opposite(section, flat - 1));
    if (facing.includes('none')) {
      complain.about(key, 'needs a flat opposite every flat; write in turn, or a list such as [1, 3, 2]');
      return inTurn;
    }
    return inTurn.flatMap((flat, i) => {
      const other = Number(facing[i]) + 1;
      return flat < other ? [flat, other] : [];
    });
  }
  if (written.toSorted((a, b) => a - b).join() !== inTurn.join()) {
    complain.about(key, `must name each of the flats ${inTurn.join(', ')} once`);
    return inTurn;
  }
  return written;
}

/** The set of gauge blocks that most shops of these units have; common practice, no source. */
const USUAL_GAUGES = { mm: 'metric 88', inch: 'inch 81' } as const;

/** Strips and pins that lie about in most shops; common practice, no source. */
const USUAL_DRAWER = {
  mm: { strips: [0.5, 1, 1.5, 2, 3].map(mm), pins: [2, 3, 4, 5, 6, 8].map(mm) },
  inch: {
    strips: [1, 2, 4, 8].map((parts) => toMm(parts / 64, 'inch')),
    pins: [1, 2, 3, 4, 5].map((parts) => toMm(parts / 16, 'inch')),
  },
} as const;

function readSlope(
  { holding, units }: JobFile,
  texts: JobTexts,
  complain: Complainer,
): Job['holding']['slope'] {
  const { gaugeBlocks, drawer: written, ...rest } = holding.slope;
  const usually = USUAL_DRAWER[units];
  const drawer = {
    ...written,
    strips: written.strips ?? usually.strips,
    pins: written.pins ?? usually.pins,
  };
  const slope = { ...rest, drawer };
  const sets = readGaugeSets(texts.gaugeBlocks());
  const named = (name: string): GaugeSet | undefined => sets.find((set) => set.name === name);
  const usual = named(USUAL_GAUGES[units]);
  if (usual === undefined) throw new Error('the gauge-block table lacks the usual set');
  if (gaugeBlocks === undefined) return { ...slope, gauges: usual };
  const found = named(gaugeBlocks);
  if (found === undefined) {
    const known = sets.map(({ name }) => name);
    complain.about(
      'holding.slope.gaugeBlocks',
      `"${gaugeBlocks}" is no set known here; ${suggestion(gaugeBlocks, known)}`,
    );
  }
  return { ...slope, gauges: found ?? usual };
}

/** Flanges are a third of the wheel: what stands free of them. Source: OSHA 29 CFR 1910.215(c)(3). */
const FREE_OF_FLANGES = 1 / 3;

const markingOf = ({ marking }: JobFile['wheel']): Wheel['marking'] => {
  const read = marking === undefined ? 'unread' : readMarking(marking);
  return read === 'unread' ? 'none' : read;
};

/** What a wheel is made of where neither its marking nor the job says; common practice for steels, no source. */
const USUAL_ABRASIVE = 'aluminium oxide';

/** The job's own words, or what the marking says. */
function abrasiveOf(wheel: JobFile['wheel']): string {
  const marking = markingOf(wheel);
  const marked = marking === 'none' || marking.abrasive === 'unknown' ? USUAL_ABRASIVE : marking.abrasive;
  return wheel.abrasive ?? marked;
}

const usualAbrasive = ({ wheel }: JobFile): readonly DefaultTaken[] =>
  wheel.abrasive === undefined ? [{ key: 'wheel.abrasive', value: abrasiveOf(wheel) }] : [];

function readWheel(wheel: JobFile['wheel'], table: GrindingTable, complain: Complainer): Wheel {
  const { ratedSpeed, diameter } = wheel;
  const plain = wheel.shape === 'plain';
  if (wheel.height === undefined && !plain)
    complain.about('wheel', 'height is missing: from the rim to its back');
  const speed =
    typeof ratedSpeed === 'number' ? ratedSpeed : speedAtSurface(diameter, mPerS(ratedSpeed.surface));
  const marking = markingOf(wheel);
  if (marking !== 'none' && marking.abrasive !== 'unknown' && wheel.abrasive !== undefined) {
    // The job's words may say more than the letter (a kind of alumina); only another abrasive is a slip.
    const named = abrasiveNamed(table, wheel.abrasive);
    if (named !== 'none' && named !== marking.abrasive)
      complain.about(
        'wheel.abrasive',
        `is ${named}, the marking "${marking.text}" says ${marking.abrasive}; leave this key out, or correct the marking`,
      );
  }
  return {
    ...wheel,
    abrasive: abrasiveOf(wheel),
    marking,
    height: wheel.height ?? mm(diameter * FREE_OF_FLANGES),
    radius: mm(plain ? 0 : diameter / 2),
    periphery: mm(plain ? diameter / 2 : 0),
    ratedSpeed: speed,
    ratedSurface: surfaceSpeed(diameter, speed),
  };
}
