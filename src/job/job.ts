/**
 * A job, ready to plan and to check, as plain values: what is wanted, from what, with which wheel, how it is held,
 * on which machine. Lengths mm, angles radians. How a job file is read is in file/.
 */
import { toMm } from '../quantity/length.js';
import type {
  LengthUnit,
  Mm,
  Mm2PerS,
  Mm3,
  Mm3PerS,
  MmPerMin,
  MPerS,
  Rad,
  RevPerMin,
  Seconds,
  Watt,
} from '../quantity/unit.js';
import type { Blank } from '../section/blank.js';
import type { Section } from '../section/flat.js';
import type { WheelPoint } from '../wheel/frame.js';
import type { Marking } from '../wheel/marking.js';
import type { Figures } from '../wheel/material.js';
import type { GaugeSet } from './gauge.js';
import { type Layout, layouts, type MachinePoint, type Slope, toMachine } from './layout.js';
import type { Machine } from './machine.js';
import type { Socket } from './socket.js';
import type { Standing } from './standing.js';

/** What a size may be over and under its order. */
export interface Tolerance {
  readonly plus: Mm;
  readonly minus: Mm;
}

/** What every punch has beside its section. */
export interface PunchForm {
  readonly flatLength: Mm;
  readonly relief: Rad;
  readonly headTilt: Rad;
  readonly corners: 'sharp' | 'as the blank leaves them';
  readonly tolerance: Tolerance;
  /** From its rear end, which seats in the head, to its front face. */
  readonly overallLength?: Mm | undefined;
  /** Diameter the head takes. */
  readonly shank?: Mm | undefined;
}

export interface Punch extends PunchForm {
  readonly section: Section;
  /** Number of equal flats, or `free` for a section given flat by flat. */
  readonly sides: number | 'free';
  /** The socket the size was chosen for; `none` where the job gives the size itself. */
  readonly socket: { readonly of: Socket; readonly share: number } | 'none';
}

/** Its size is the measured one where the job gives that. */
export interface JobBlank extends Blank {
  readonly stickOut: Mm;
  readonly material: string;
}

/** A wheel as the job file has it, but for its rating. */
export interface WheelForm {
  readonly shape: 'straight cup' | 'flaring cup' | 'plain';
  readonly diameter: Mm;
  /** Width of a cup's rim, or of a plain wheel. */
  readonly rim: Mm;
  /** How much of it stands free over the rim's plane. */
  readonly height: Mm;
  readonly abrasive?: string | undefined;
  /** Width of the rim's face that is left by dressing; the whole rim if left out. */
  readonly land?: Mm | undefined;
  readonly grindingRatio?: number | undefined;
}

export interface Wheel extends WheelForm {
  readonly abrasive: string;
  /** What is printed on it, read by its places. */
  readonly marking: Marking | 'none';
  /** From its centre to its rim, in the plane that grinds; 0 of a plain wheel, which touches with a line. */
  readonly radius: Mm;
  /** Radius of the periphery that grinds; 0 of a cup. */
  readonly periphery: Mm;
  /** The speed marked on the wheel, as rev/min. */
  readonly ratedSpeed: RevPerMin;
  readonly ratedSurface: MPerS;
}

export interface GrindingLimits {
  readonly removalRate?: Mm3PerS | undefined;
  readonly specificRemovalRate?: Mm2PerS | undefined;
  readonly power?: Watt | undefined;
  readonly bending?: number | undefined;
}

/** When the wheel is dressed on the way: each time flats are finished, after so many flats, or after so much metal. */
export type DressingStop =
  | 'none'
  | 'before finishing'
  | { readonly flats: number }
  | { readonly volume: Mm3 };

export interface Grinding {
  readonly roughInfeed: Mm;
  readonly finishInfeed: Mm;
  readonly finishAllowance: Mm;
  readonly sparkOut: number;
  readonly strokeSpeed: MmPerMin;
  /** Of a stroke out, which takes no metal; spark-out runs at the stroke speed both ways. */
  readonly returnSpeed: MmPerMin;
  readonly spindleSpeed: RevPerMin;
  readonly order: 'flat by flat' | 'rough first' | 'one pass all round';
  /** Numbers of the flats in the order each round grinds them. */
  readonly sequence: readonly number[];
  /** Reversed, the round that finishes begins with the flat that is up. */
  readonly finishSequence: 'as roughed' | 'reversed';
  readonly measuringStop: 'none' | 'after roughing' | 'after the first pair' | 'after each pair';
  readonly dressingStop: DressingStop;
  readonly coolant: 'none' | 'flood' | 'mist';
  readonly clearance: Mm;
  readonly approach: Mm;
  readonly startAbove: Mm;
  readonly retract: Mm;
  readonly mostStrokes: number;
  readonly wear: 'ignore' | 'compensate';
  /** Where in the tolerance passes end; a length is a size. */
  readonly aim: 'middle' | 'size' | Mm;
  /** Pauses at the clear position, for the heat. */
  readonly rest?: { readonly every: number; readonly for: Seconds } | undefined;
  /** How far the shoulder leans: upper passes reach further, so that the wheel's outside does not rub it. */
  readonly shoulder: Rad;
  readonly limit: GrindingLimits;
}

/** Whether stops measure two flats that face each other, rather than all. */
export const measuresPairs = ({ measuringStop }: Pick<Grinding, 'measuringStop'>): boolean =>
  measuringStop === 'after the first pair' || measuringStop === 'after each pair';

export type IndexDevice =
  | {
      readonly kind: 'indexing block';
      readonly sides: number;
      /** Across two opposite sides, at its front end where they slope. */
      readonly across?: Mm | undefined;
      readonly length?: Mm | undefined;
      /** Top of a pin in the bore with each side down in turn. */
      readonly measured?: readonly Mm[] | undefined;
      /** Programs go higher and lower for what was measured. */
      readonly takeBack: boolean;
    }
  | { readonly kind: 'spin indexer'; readonly step: Rad }
  /** A bull gear, change wheel or drilled plate on the spindle, held by a detent. */
  | { readonly kind: 'gear'; readonly teeth: number }
  | { readonly kind: 'dividing head'; readonly ratio: number; readonly circles: readonly number[] };

/** From and to along one machine axis, counted from work zero. */
export type Side = readonly [from: Mm, to: Mm];

/** What a box is called that stands round a dressing diamond. */
export const DIAMOND = 'diamond';

export interface FixtureBox {
  readonly name: string;
  readonly x: Side;
  readonly y: Side;
  readonly z: Side;
}

/** What a slope can be set with where there is no sine bar, or beside it. */
export const SLOPE_MEANS = [
  'sine bar',
  'strip',
  'pin',
  'pins',
  'angle blocks',
  'shim',
  'block sides',
] as const;
export type SlopeMeans = (typeof SLOPE_MEANS)[number];

/** Strips, pins and angle blocks at hand. */
export interface Drawer {
  readonly strips: readonly Mm[];
  readonly pins: readonly Mm[];
  readonly angleBlocks: readonly Rad[];
}

export interface Holding {
  readonly index: 'rotary axis' | 'by hand';
  readonly device?: IndexDevice | undefined;
  readonly slope: {
    readonly by: Slope['by'];
    readonly sineBar?: Mm | undefined;
    /** The set at hand, or the usual one. */
    readonly gauges: GaugeSet;
    readonly wearBlocks?: Mm | undefined;
    /** Left out: what the job's own keys suggest. */
    readonly using?: SlopeMeans | undefined;
    /** Length of the plate or block that is sloped: nothing lies farther apart under it. */
    readonly plate: Mm;
    readonly drawer: Drawer;
  };
  readonly nose: { readonly halfHeight: Mm };
  /** How far the spindle leans so that only the rim's edge on the shank side cuts. */
  readonly lean: Rad;
  readonly boxes: readonly FixtureBox[];
  readonly table?: Mm | undefined;
  /** Point of a dressing diamond, as the axes read it from work zero. */
  readonly diamond?: { readonly x: Mm; readonly y?: Mm | undefined; readonly z: Mm } | undefined;
  readonly handsOff: Seconds;
  /** Height over work zero at which the wheel waits while hands are in; left out: the top of the travel. */
  readonly handHeight?: Mm | undefined;
}

/** What may be off, plus or minus, 19 times of 20. */
export interface JobSpreads {
  /** Height of the first spark on the blank. */
  readonly touchOff: Mm;
  /** Height of a touch on a ground flat, by feeler, the wheel at rest. */
  readonly touchFlat: Mm;
  /** Place of the rim's edge along the stroke. */
  readonly touchEdge: Mm;
  readonly slopeHeight: Mm;
  readonly slopeAngle: Rad;
  readonly slopeCreep: Mm;
  readonly eccentricity: Mm;
  readonly blockSize: Mm;
  readonly indexAngle: Rad;
  /** Share of the predicted wear. */
  readonly wear: number;
  /** Kelvin the punch is warmer when finished than when measured; `estimated` from coolant. */
  readonly temperature: number | 'estimated';
  readonly reading: Mm;
}

export interface Job {
  readonly title: string;
  readonly units: LengthUnit;
  readonly punch: Punch;
  readonly blank: JobBlank;
  /** Flats that are there before the work; empty for a whole blank. */
  readonly standing: Standing;
  readonly wheel: Wheel;
  readonly grinding: Grinding;
  readonly holding: Holding;
  readonly spreads: JobSpreads;
  /** How blank and wheel behave under each other. */
  readonly figures: Figures;
  readonly machine: Machine;
  readonly machineName: string;
}

/** The punch is sloped by its relief: Relief = tilt. */
export const slopeOf = (job: Job): Slope => ({ by: job.holding.slope.by, angle: job.punch.relief });

/** How the wheel frame lies in the axes of the job's machine. */
export const layoutOf = (job: Job): Layout => layouts[job.machine.layout];

/** Where the machine's axes stand, as programmed, when the wheel is at `point`. */
export const onMachine = (job: Job, point: WheelPoint): MachinePoint =>
  toMachine(layoutOf(job), slopeOf(job), point);

/** How high a box stands over work zero, the way the infeed axis moves away. */
export const topOfBox = ({ up }: Layout, box: FixtureBox): number =>
  Math.max(...box[up.axis].map((side) => side * up.sign));

/** The last digit a program of the job's machine can write. */
export const lastDigit = ({ machine }: Job): Mm => toMm(10 ** -machine.program.decimals, machine.units);
