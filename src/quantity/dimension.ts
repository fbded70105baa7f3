/**
 * Dimensions a quantity may have, the unit each is kept in, and the unit names a person may write.
 * A unit's size is its measure in the inside unit of its kind: mm, rad, s, W; a revolution counts as one.
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
  /** The inside unit as mathjs writes it. */
  readonly inside: string;
  /** The inside unit as a person writes it. */
  readonly bare: string;
  readonly example: string;
}

export const DIMENSIONS: Readonly<Record<Dimension, DimensionRow>> = {
  length: { inside: 'mm', bare: 'mm', example: '5.06 mm, 1/4 in' },
  angle: { inside: 'rad', bare: 'rad', example: '2.5 deg, 2 deg 30 arcmin' },
  speed: { inside: 'mm/minute', bare: 'mm/min', example: '600 mm/min, 24 in/min' },
  surface: { inside: 'm/s', bare: 'm/s', example: '30 m/s' },
  rotation: { inside: 'minute^-1', bare: 'rpm', example: '4200 rev/min' },
  time: { inside: 's', bare: 's', example: '5 s' },
  volume: { inside: 'mm3', bare: 'mm3', example: '300 mm3, 0.02 in3' },
  'removal rate': { inside: 'mm3/s', bare: 'mm3/s', example: '2 mm3/s, 0.008 in3/min' },
  'specific removal rate': { inside: 'mm2/s', bare: 'mm2/s', example: '0.5 mm2/s' },
  power: { inside: 'W', bare: 'W', example: '750 W, 1.5 kW, 2 hp' },
  plain: { inside: '', bare: '', example: '40' },
};

type Kind = 'length' | 'area' | 'volume' | 'angle' | 'time' | 'turn' | 'rotation' | 'power';

export interface UnitRow {
  /** As mathjs knows it. */
  readonly mathjs: string;
  readonly kind: Kind;
  readonly size: number;
}

const INCH = 25.4;
const DEG = Math.PI / 180;
const inch: UnitRow = { mathjs: 'inch', kind: 'length', size: INCH };
const degree: UnitRow = { mathjs: 'deg', kind: 'angle', size: DEG };
const second: UnitRow = { mathjs: 's', kind: 'time', size: 1 };

/** Every unit name a person may write. */
export const UNITS: Readonly<Record<string, UnitRow>> = {
  mm: { mathjs: 'mm', kind: 'length', size: 1 },
  um: { mathjs: 'um', kind: 'length', size: 0.001 },
  cm: { mathjs: 'cm', kind: 'length', size: 10 },
  m: { mathjs: 'm', kind: 'length', size: 1000 },
  in: inch,
  inch,
  inches: inch,
  thou: { mathjs: 'mil', kind: 'length', size: INCH / 1000 },
  deg: degree,
  degree,
  degrees: degree,
  arcmin: { mathjs: 'arcmin', kind: 'angle', size: DEG / 60 },
  arcsec: { mathjs: 'arcsec', kind: 'angle', size: DEG / 3600 },
  rad: { mathjs: 'rad', kind: 'angle', size: 1 },
  s: second,
  sec: second,
  ms: { mathjs: 'ms', kind: 'time', size: 0.001 },
  min: { mathjs: 'minute', kind: 'time', size: 60 },
  rev: { mathjs: 'rev', kind: 'turn', size: 1 },
  rpm: { mathjs: 'rpm', kind: 'rotation', size: 1 },
  mm2: { mathjs: 'mm2', kind: 'area', size: 1 },
  mm3: { mathjs: 'mm3', kind: 'volume', size: 1 },
  in2: { mathjs: 'sqin', kind: 'area', size: INCH ** 2 },
  in3: { mathjs: 'cuin', kind: 'volume', size: INCH ** 3 },
  W: { mathjs: 'W', kind: 'power', size: 1 },
  kW: { mathjs: 'kW', kind: 'power', size: 1000 },
  hp: { mathjs: 'hp', kind: 'power', size: 745.6998715822702 },
};

/** Marks a person sets after a number, as unit names; after an angle the same marks are minutes and seconds of it. */
export const MARKS = {
  angle: { '°': 'deg', '′': 'arcmin', '″': 'arcsec' },
  other: { '°': 'deg', '″': 'in' },
} as const;

/** Of which kinds a dimension is made, and its inside unit over that of mm, s and so on. */
export const MADE_OF: Readonly<
  Record<Dimension, { readonly of: Kind; readonly per: Kind | 'none'; readonly scale: number } | 'number'>
> = {
  length: { of: 'length', per: 'none', scale: 1 },
  angle: { of: 'angle', per: 'none', scale: 1 },
  speed: { of: 'length', per: 'time', scale: 60 },
  surface: { of: 'length', per: 'time', scale: 0.001 },
  rotation: { of: 'turn', per: 'time', scale: 60 },
  time: { of: 'time', per: 'none', scale: 1 },
  volume: { of: 'volume', per: 'none', scale: 1 },
  'removal rate': { of: 'volume', per: 'time', scale: 1 },
  'specific removal rate': { of: 'area', per: 'time', scale: 1 },
  power: { of: 'power', per: 'none', scale: 1 },
  plain: 'number',
};
