/**
 * What a punch for a socket comes to: the size to grind it to, where it is worn out, how often it can be
 * resharpened, the blank, and the hole it needs. A face cut of c takes 2 c tan a off the size, so
 * regrinds = floor((new - worn out) / (2 c tan a)). The advance a turn that keeps the whole edge cutting is
 * AC tan(tilt). Figures of practice stand beside their sources.
 */
import { type Drill, nearestDrill } from '../job/drill.js';
import { type Socket, sizeToGrind } from '../job/socket.js';
import { toMm } from '../quantity/length.js';
import { type Mm, mm, type Newton, newton, type Rad } from '../quantity/unit.js';
import { acrossCorners } from '../section/corner.js';
import { flatLost, regularStrength, type SectionStrength, shareOutsideHole } from '../section/strength.js';

export interface SizeWanted {
  readonly socket: Socket;
  /** How far up the socket's limits the punch is ground, 0 to 1. */
  readonly share: number;
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
  readonly work: string;
  /** What practice asks for, and the drill nearest to it. */
  readonly diameter: Mm;
  readonly drill: Drill;
  /** That drill over across flats. */
  readonly times: number;
  /** Share of the section the punch still has to cut. */
  readonly left: number;
  /** Share of the length of each flat that the hole takes away. */
  readonly flatLost: number;
}

export interface SizeSheet extends Omit<SizeWanted, 'flatLength' | 'drills'> {
  readonly flatLength: Mm;
  readonly grind: Mm;
  readonly acrossCorners: Mm;
  readonly wornOut: Mm;
  readonly regrinds: number;
  readonly blank: { readonly least: Mm; readonly metric: Mm; readonly sixteenths: number };
  readonly pilots: readonly Pilot[];
  /** Most a hole may be where a key drives a screw. */
  readonly holeForScrew: Mm;
  /** From and to where only the corners carry. */
  readonly holeForDrive: readonly [Mm, Mm];
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
  readonly shankEnd: SectionStrength & {
    readonly acrossFlats: Mm;
    readonly share: number;
    readonly load: Newton;
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
/** Compression a hardened tool steel carries for certain, N/mm2; from memory, well under its yield. */
const CARRIES = 1000;
/** Pilot diameter over across flats; from memory: hex 1.00 to 1.05, square 1.02 to 1.10, larger in tough steel. */
export const PILOTS: Record<Socket['section'], readonly (readonly [work: string, times: number])[]> = {
  hex: [
    ['brass, aluminium, free-cutting', 1],
    ['mild and alloy steel', 1.02],
    ['tough or stainless steel', 1.05],
  ],
  square: [
    ['brass, aluminium, free-cutting', 1.02],
    ['mild and alloy steel', 1.06],
    ['tough or stainless steel', 1.1],
  ],
};

/** Hole over the least across flats in driven sockets. Source: ASME B107.12, 4.6, of nut drivers, as a copy of it has it. */
const SCREW_HOLE = 1.04;
/** Hole over across flats where corners carry. Source: a designers' guide of the turned-parts trade, inside squares and hexagons. */
const DRIVE_HOLE = { hex: [0.03, 0.05], square: [0.1, 0.15] } as const;
/** Pilot depth over form depth. Source: a maker's catalogue; ours from memory are less. */
export const DEEPEST_PILOT = 1.75;

/** Guards the floor of a division that comes out whole. */
const WHOLE = 1e-9;

/** @throws RangeError if the flats are so long that nothing is left at their end. */
export function planSize(wanted: SizeWanted): SizeSheet {
  const { socket, share, relief, headTilt, faceCut } = wanted;
  const { sides } = socket;
  const grind = sizeToGrind(socket, share);
  const flatLength = wanted.flatLength === 'usual' ? mm(USUAL_LENGTH * grind) : wanted.flatLength;
  const corners = acrossCorners(grind, sides);
  const least = mm(corners + LAND_MARGIN);
  const atEnd = mm(grind - 2 * flatLength * Math.tan(relief));
  if (atEnd <= 0) {
    const most = grind / (2 * Math.tan(relief));
    throw new RangeError(`nothing is left ${flatLength} mm behind the face; less than ${most.toFixed(1)} mm`);
  }
  const end = regularStrength(mm(atEnd / 2), sides);
  return {
    socket,
    share,
    relief,
    headTilt,
    faceCut,
    flatLength,
    grind,
    acrossCorners: corners,
    wornOut: socket.least,
    regrinds: Math.floor((grind - socket.least) / (2 * faceCut * Math.tan(relief)) + WHOLE),
    blank: {
      least,
      metric: nextStock(least),
      sixteenths: nextSixteenths(least),
    },
    pilots: PILOTS[socket.section].map(([work, asked]) => {
      const diameter = mm(asked * grind);
      const drill = nearestDrill(wanted.drills, diameter);
      const times = drill.diameter / grind;
      return {
        work,
        diameter,
        drill,
        times,
        left: shareOutsideHole(sides, times),
        flatLost: flatLost(sides, times),
      };
    }),
    holeForScrew: mm(SCREW_HOLE * socket.least),
    holeForDrive: DRIVE_HOLE[socket.section].map((over) => mm((1 + over) * grind)) as [Mm, Mm],
    chamfer: mm(corners + CHAMFER_OVER),
    depth: { most: mm(DEPTH.most * grind), mostHard: mm(DEPTH.hard * grind), pilotTimes: PILOT_DEPTH },
    advance: mm(corners * Math.tan(headTilt)),
    play: socket.key === 'none' ? 'none' : mm(socket.least - socket.key.most),
    shankEnd: {
      ...end,
      acrossFlats: atEnd,
      share: end.area / regularStrength(mm(grind / 2), sides).area,
      load: newton(end.area * CARRIES),
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
