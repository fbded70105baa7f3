/**
 * What a punch for a socket comes to: the size to grind it to, where it is worn out, how often it can be
 * resharpened, the blank, and the hole it needs. A face cut of c takes 2 c tan a off the size, so
 * regrinds = floor((new - worn out) / (2 c tan a)). The advance a turn that keeps the whole edge cutting is
 * AC tan(tilt). Figures of practice stand beside their sources.
 */
import { type Drill, nearestDrill } from '../job/drill.js';
import type { SizedSection } from '../job/sized-section.js';
import { sizeToGrind } from '../job/socket.js';
import { toMm } from '../quantity/length.js';
import { sayIn } from '../quantity/say.js';
import { type LengthUnit, type Mm, mm, type NPerMm2, type Rad, rad } from '../quantity/unit.js';
import { regularSection, type Section } from '../section/flat.js';
import { flatLost, regularStrength, roundedArea, shareOutsideHole } from '../section/strength.js';
import { bendingAt, type Pressing, pressing, WORKS, type WorkName } from './press.js';

export interface SizeWanted {
  readonly section: SizedSection;
  /** `hex 5`, `triangle 6`. */
  readonly name: string;
  readonly units: LengthUnit;
  /** How much under its size a section of one's own is still good. */
  readonly under: Mm;
  readonly relief: Rad;
  readonly headTilt: Rad;
  /** Full-width length of the flats; `usual` for twice the size. */
  readonly flatLength: Mm | 'usual';
  /** Taken off the front face at each resharpening. */
  readonly faceCut: Mm;
  /** At hand, to make the hole with. */
  readonly drills: readonly Drill[];
}

export interface Pilot {
  readonly work: WorkName;
  /** What practice asks for, and the drill nearest to it. */
  readonly diameter: Mm;
  readonly drill: Drill;
  /** That drill over across flats. */
  readonly times: number;
  /** Share of the section the punch still has to cut. */
  readonly left: number;
  /** Share of the length of each flat that the hole takes away. */
  readonly flatLost: number;
  /** How hard the punch presses at the feed to start with, and what that does where the flats end. */
  readonly pressing: Pressing;
  readonly stress: NPerMm2 | 'unknown';
}

export interface SizeSheet extends Omit<SizeWanted, 'flatLength' | 'drills' | 'under'> {
  readonly flatLength: Mm;
  readonly grind: Mm;
  /** Over the corners, or the round that stays. */
  readonly acrossCorners: Mm;
  readonly wornOut: Mm;
  readonly regrinds: number;
  /** One with flats on a round is that round. */
  readonly blank: { readonly least: Mm; readonly metric: Mm; readonly sixteenths: number };
  readonly pilots: readonly Pilot[];
  /** Of a socket: most a hole may be where a key drives a screw, and from and to where only the corners carry. */
  readonly holes: { readonly screw: Mm; readonly drive: readonly [Mm, Mm] } | 'none';
  /** Diameter of the lead chamfer at the mouth, 90 deg included. */
  readonly chamfer: Mm;
  readonly depth: {
    readonly most: Mm;
    readonly mostHard: Mm;
    readonly pilotTimes: readonly [number, number];
  };
  /** Most advance a revolution. */
  readonly advance: Mm;
  /** Least play between socket and key. */
  readonly play: Mm | 'none';
  readonly shankEnd: {
    readonly size: Mm;
    readonly area: number;
    /** Of the front's area. */
    readonly share: number;
    /** Smallest section modulus of a regular section, mm3. */
    readonly modulus: number | 'none';
  };
}

/** The blank must cover the corners by this on the diameter, for its own run-out; common practice, no source. */
export const LAND_MARGIN: Mm = mm(0.2);
/** Ground round stock comes in these steps below and above 10 mm; common practice, no source. */
const STOCK_STEPS = { upTo: 10, below: 0.5, above: 1 } as const;
/** A lead chamfer opens this much over the corners; common practice, no source. */
export const CHAMFER_OVER: Mm = mm(0.2);
/** Flats are usually ground twice the size long; common practice, no source. */
const USUAL_LENGTH = 2;
/** Form depth over across flats; from memory: about 1.5, in hard steels 1. */
export const DEPTH = { most: 1.5, hard: 1 } as const;
/** Pilot depth over form depth, to hold the chips; from memory. */
export const PILOT_DEPTH: readonly [number, number] = [1.3, 1.5];
type PilotRow = readonly [work: WorkName, times: number];

/** Pilot diameter over across flats; from memory: hex 1.00 to 1.05, square 1.02 to 1.10, larger in tough steel. */
const PILOTS: Readonly<Record<number, readonly PilotRow[]>> = {
  6: [
    ['brass, aluminium', 1],
    ['mild and alloy steel', 1.02],
    ['tough, stainless steel', 1.05],
  ],
  4: [
    ['brass, aluminium', 1.02],
    ['mild and alloy steel', 1.06],
    ['tough, stainless steel', 1.1],
  ],
};

/** Hole over the circle within the flats, by what is broached: that circle itself where practice names no other. */
export const pilotsOf = (sides: number): readonly PilotRow[] =>
  PILOTS[sides] ?? (Object.keys(WORKS) as WorkName[]).map((work) => [work, 1]);

/** Hole over the least across flats in driven sockets. Source: ASME B107.12, 4.6, of nut drivers, as a copy of it has it. */
export const SCREW_HOLE = 1.04;
/** Hole over across flats where corners carry. Source: a designers' guide of the turned-parts trade, inside squares and hexagons. */
const DRIVE_HOLE = { hex: [0.03, 0.05], square: [0.1, 0.15] } as const;
/** Pilot depth over form depth. Source: a maker's catalogue; ours from memory are less. */
export const DEEPEST_PILOT = 1.75;

/** Guards the floor of a division that comes out whole. */
const WHOLE = 1e-9;

/** What of a section sizes hang on: its area at any size, its reach, the circle within it. */
interface Shape {
  readonly sides: number;
  readonly flats: Section;
  readonly grind: Mm;
  readonly wornOut: Mm;
  readonly reach: Mm;
  /** The circle within the flats, about the axis. */
  readonly within: Mm;
  /** Area and modulus with every flat nearer by `by`. */
  readonly at: (by: number) => { readonly area: number; readonly modulus: number | 'none' };
  /** Share of the section outside a hole so many times the circle within, which stays inside the round. */
  readonly outside: (times: number) => number;
  /** How much a reading across loses for each mm that the flats come nearer. */
  readonly readsDouble: 1 | 2;
}

function shapeOf({ section, under, units }: SizeWanted): Shape {
  const say = sayIn(units);
  if (section.kind === 'rounded') {
    const R = mm(section.round / 2);
    const distance = section.flats === 2 ? mm(section.across / 2) : mm(section.across - R);
    if (!(distance > 0 && distance < R))
      throw new RangeError(
        `a round of ${say.length(section.round)} with ${say.length(section.across)} across has no flat; from ${say.length(R)} to ${say.length(section.round)} does`,
      );
    const area = (by: number): number =>
      roundedArea(
        R,
        Array.from({ length: section.flats }, () => mm(distance - by)),
      );
    return {
      sides: 0,
      flats: Array.from({ length: section.flats }, (_, i) => ({ at: rad(i * Math.PI), distance })),
      grind: section.across,
      wornOut: mm(section.across - under),
      reach: R,
      within: distance,
      at: (by) => ({ area: area(by), modulus: 'none' }),
      outside: (times) => 1 - (Math.PI * (times * distance) ** 2) / area(0),
      readsDouble: section.flats,
    };
  }
  const isSocket = section.kind === 'socket';
  const sides = isSocket ? section.socket.sides : section.sides;
  const grind = isSocket ? sizeToGrind(section.socket, section.share) : section.size;
  return {
    sides,
    flats: regularSection(sides, mm(grind / 2)),
    grind,
    wornOut: isSocket ? section.socket.least : mm(grind - under),
    reach: mm(grind / 2 / Math.cos(Math.PI / sides)),
    within: mm(grind / 2),
    at: (by) => regularStrength(mm(grind / 2 - by), sides),
    outside: (times) => shareOutsideHole(sides, times),
    readsDouble: 2,
  };
}

/** @throws RangeError if the flats are so long that nothing is left at their end, or a round has no flat. */
export function planSize(wanted: SizeWanted): SizeSheet {
  const { section, relief, headTilt, faceCut, units, name } = wanted;
  const { sides, flats, grind, wornOut, reach, within, at, outside, readsDouble } = shapeOf(wanted);
  const flatLength = wanted.flatLength === 'usual' ? mm(USUAL_LENGTH * grind) : wanted.flatLength;
  const corners = mm(2 * reach);
  // The round of a D is the blank itself.
  const least = section.kind === 'rounded' ? section.round : mm(corners + LAND_MARGIN);
  const narrower = flatLength * Math.tan(relief);
  if (within <= narrower) {
    const say = sayIn(units);
    const what = section.kind === 'rounded' ? 'the flat passes the axis before' : 'nothing is left at';
    throw new RangeError(
      `${what} its end, ${say.length(flatLength)} behind the face; flats of less than ${say.length(mm(within / Math.tan(relief)))} (--length)`,
    );
  }
  const [front, end] = [at(0), at(narrower)];
  const socket = section.kind === 'socket' ? section.socket : 'none';
  return {
    section,
    name,
    units,
    relief,
    headTilt,
    faceCut,
    flatLength,
    grind,
    acrossCorners: corners,
    wornOut,
    regrinds: Math.floor((grind - wornOut) / (readsDouble * faceCut * Math.tan(relief)) + WHOLE),
    blank: {
      least,
      metric: nextStock(least),
      sixteenths: nextSixteenths(least),
    },
    pilots: pilotsOf(sides).map(([work, asked]) => {
      const diameter = mm(asked * 2 * within);
      const drill = nearestDrill(wanted.drills, diameter);
      const times = drill.diameter / (2 * within);
      const pressed = pressing(
        work,
        { section: flats, round: reach },
        mm(drill.diameter / 2),
        headTilt,
        WORKS[work].feed(units),
      );
      return {
        work,
        diameter,
        drill,
        times,
        left: outside(times),
        // One large hole in a round with a flat: the chord that hole has.
        flatLost:
          sides > 0
            ? flatLost(sides, times)
            : Math.sqrt(Math.max(0, times ** 2 - 1) / ((reach / within) ** 2 - 1)),
        pressing: pressed,
        stress: end.modulus === 'none' ? 'unknown' : bendingAt(pressed, { ...end, modulus: end.modulus }),
      };
    }),
    holes:
      socket === 'none'
        ? 'none'
        : {
            screw: mm(SCREW_HOLE * socket.least),
            drive: DRIVE_HOLE[socket.section].map((over) => mm((1 + over) * grind)) as [Mm, Mm],
          },
    chamfer: mm(corners + CHAMFER_OVER),
    depth: { most: mm(DEPTH.most * grind), mostHard: mm(DEPTH.hard * grind), pilotTimes: PILOT_DEPTH },
    advance: mm(corners * Math.tan(headTilt)),
    play: socket === 'none' || socket.key === 'none' ? 'none' : mm(socket.least - socket.key.most),
    shankEnd: {
      size: mm(grind - readsDouble * narrower),
      area: end.area,
      share: end.area / front.area,
      modulus: end.modulus,
    },
  };
}

/** Sixteenths of an inch of the next stock. */
export const nextSixteenths = (least: Mm): number => Math.ceil((16 * least) / toMm(1, 'inch') - WHOLE);

/** The next metric stock. */
export function nextStock(least: Mm): Mm {
  const up = (step: number): number => Math.ceil(least / step - WHOLE) * step;
  const fine = up(STOCK_STEPS.below);
  return mm(fine <= STOCK_STEPS.upTo ? fine : up(STOCK_STEPS.above));
}
