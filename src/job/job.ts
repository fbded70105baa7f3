/**
 * A job, ready to plan and to check: the file's values with the section as a list of flats, the wheel's
 * rating in rev/min, and the machine profile in place of its name.
 */
import { toMm } from '../quantity/length.js';
import type { Mm, MPerS, RevPerMin } from '../quantity/unit.js';
import type { Blank } from '../section/blank.js';
import type { Section } from '../section/flat.js';
import type { Figures } from './figures.js';
import { type Layout, layouts, type Slope } from './layout.js';
import type { Machine } from './machine.js';
import type { JobFile } from './schema.js';
import type { Socket } from './socket.js';
import type { DefaultTaken } from './validate.js';
import type { Place } from './yaml-source.js';

export interface Punch
  extends Pick<JobFile['punch'], 'flatLength' | 'relief' | 'headTilt' | 'corners' | 'tolerance'> {
  readonly section: Section;
  /** Number of equal flats, or `free` for a section given flat by flat. */
  readonly sides: number | 'free';
  /** The socket the size was chosen for; `none` where the job gives the size itself. */
  readonly socket: { readonly of: Socket; readonly share: number } | 'none';
}

export interface Wheel extends Omit<JobFile['wheel'], 'ratedSpeed'> {
  readonly radius: Mm;
  /** The speed marked on the wheel, as rev/min. */
  readonly ratedSpeed: RevPerMin;
  readonly ratedSurface: MPerS;
}

export interface Job {
  readonly title: string;
  readonly units: JobFile['units'];
  readonly punch: Punch;
  readonly blank: Blank & Pick<JobFile['blank'], 'stickOut' | 'material'>;
  readonly wheel: Wheel;
  readonly grinding: JobFile['grinding'];
  readonly holding: JobFile['holding'];
  readonly spreads: JobFile['spreads'];
  /** How blank and wheel behave under each other. */
  readonly figures: Figures;
  readonly machine: Machine;
  readonly machineName: string;
  readonly defaults: readonly DefaultTaken[];
  /** What the machine profile left to us. */
  readonly machineDefaults: readonly DefaultTaken[];
  readonly file: string;
  /** Where `key`, such as `punch.relief`, stands in the job file. */
  readonly locate: (key: string) => Place;
}

/** The punch is sloped by its relief: Relief = tilt. */
export const slopeOf = (job: Job): Slope => ({ by: job.holding.slope.by, angle: job.punch.relief });

/** How the wheel frame lies in the axes of the job's machine. */
export const layoutOf = (job: Job): Layout => layouts[job.machine.layout];

/** The last digit a program of the job's machine can write. */
export const lastDigit = ({ machine }: Job): Mm => toMm(10 ** -machine.program.decimals, machine.units);
