/**
 * Dimensions a quantity may have, the unit each is kept in, and the unit names a person may write.
 * A unit's size is its measure in mm, rad, s and W, and their powers; a revolution counts as one.
 * Source: ISO 80000-3 (inch 25.4 mm, minute and second of arc); 1 hp = 745.6998715822702 W, 550 ft lbf/s.
 */
import type { Mm, Mm2PerS, Mm3, Mm3PerS, MmPerMin, MPerS, Rad, RevPerMin, Seconds, Watt } from './unit.js';

/** What each dimension is read as. */
export interface Inside {
  readonly length: Mm;
  readonly angle: Rad;
  readonly speed: MmPerMin;
  readonly surface: MPerS;
  readonly rotation: RevPerMin;
  readonly time: Seconds;
  readonly volume: Mm3;
  readonly 'removal rate': Mm3PerS;
  readonly 'specific removal rate': Mm2PerS;
  readonly power: Watt;
  readonly plain: number;
}

export type Dimension = keyof Inside;

export interface DimensionRow {
  /** The inside unit as a person writes it. */
  readonly bare: string;
  readonly example: string;
}

export const DIMENSIONS: Readonly<Record<Dimension, DimensionRow>> = {
  length: { bare: 'mm', example: '5.06 mm, 1/4 in' },
  angle: { bare: 'rad', example: '2.5 deg, 2 deg 30 arcmin' },
  speed: { bare: 'mm/min', example: '600 mm/min, 24 in/min' },
  surface: { bare: 'm/s', example: '30 m/s' },
  rotation: { bare: 'rpm', example: '4200 rev/min' },
  time: { bare: 's', example: '5 s' },
  volume: { bare: 'mm3', example: '300 mm3, 0.02 in3' },
  'removal rate': { bare: 'mm3/s', example: '2 mm3/s, 0.008 in3/min' },
  'specific removal rate': { bare: 'mm2/s', example: '0.5 mm2/s' },
  power: { bare: 'W', example: '750 W, 1.5 kW, 2 hp' },
  plain: { bare: '', example: '40' },
};

/** Of which powers of mm, rad, s and W a quantity is made; a plain number of none. */
export type Powers = readonly [length: number, angle: number, time: number, power: number];

const NUMBER: Powers = [0, 0, 0, 0];
const LENGTH: Powers = [1, 0, 0, 0];
const AREA: Powers = [2, 0, 0, 0];
const VOLUME: Powers = [3, 0, 0, 0];
const ANGLE: Powers = [0, 1, 0, 0];
const TIME: Powers = [0, 0, 1, 0];
const PER_TIME: Powers = [0, 0, -1, 0];
const POWER: Powers = [0, 0, 0, 1];

/** A measured number: so many of these powers. */
export interface Measure {
  readonly size: number;
  readonly powers: Powers;
}

/** What one of a unit measures. */
export interface UnitRow extends Measure {
  /** It counts turns, of which only speeds of rotation speak. */
  readonly turns?: true;
}

const INCH = 25.4;
const DEG = Math.PI / 180;
const unit = (size: number, powers: Powers): UnitRow => ({ size, powers });
const inch = unit(INCH, LENGTH);
const degree = unit(DEG, ANGLE);
const second = unit(1, TIME);

/** Every unit name a person may write. */
export const UNITS: Readonly<Record<string, UnitRow>> = {
  mm: unit(1, LENGTH),
  um: unit(0.001, LENGTH),
  cm: unit(10, LENGTH),
  m: unit(1000, LENGTH),
  in: inch,
  inch,
  inches: inch,
  thou: unit(INCH / 1000, LENGTH),
  deg: degree,
  degree,
  degrees: degree,
  arcmin: unit(DEG / 60, ANGLE),
  arcsec: unit(DEG / 3600, ANGLE),
  rad: unit(1, ANGLE),
  s: second,
  sec: second,
  ms: unit(0.001, TIME),
  min: unit(60, TIME),
  rev: { size: 1, powers: NUMBER, turns: true },
  rpm: { size: 1 / 60, powers: PER_TIME, turns: true },
  mm2: unit(1, AREA),
  mm3: unit(1, VOLUME),
  in2: unit(INCH ** 2, AREA),
  in3: unit(INCH ** 3, VOLUME),
  W: unit(1, POWER),
  kW: unit(1000, POWER),
  hp: unit(745.6998715822702, POWER),
};

/** Marks a person sets after a number, as unit names; after an angle the same marks are minutes and seconds of it. */
export const MARKS = {
  angle: { '°': 'deg', '′': 'arcmin', '″': 'arcsec' },
  other: { '°': 'deg', '″': 'in' },
} as const;

/** Of which powers a dimension is made, and how many of its inside unit one of them is. */
export const MADE_OF: Readonly<Record<Dimension, Measure>> = {
  length: unit(1, LENGTH),
  angle: unit(1, ANGLE),
  speed: unit(60, [1, 0, -1, 0]),
  surface: unit(0.001, [1, 0, -1, 0]),
  rotation: unit(60, PER_TIME),
  time: unit(1, TIME),
  volume: unit(1, VOLUME),
  'removal rate': unit(1, [3, 0, -1, 0]),
  'specific removal rate': unit(1, [2, 0, -1, 0]),
  power: unit(1, POWER),
  plain: unit(1, NUMBER),
};
