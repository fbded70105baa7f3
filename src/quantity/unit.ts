/**
 * The units that may cross a function's border, as types. A plain number is branded once, where it is
 * read or computed, and stays a number at run time. Inside: millimetres, radians, minutes, rev/min.
 */
declare const unit: unique symbol;

type In<Name extends string> = number & { readonly [unit]: Name };

/** Length in millimetres. */
export type Mm = In<'mm'>;
/** Angle in radians. */
export type Rad = In<'rad'>;
/** Speed along a path, millimetres per minute. */
export type MmPerMin = In<'mm/min'>;
/** Surface speed, metres per second. */
export type MPerS = In<'m/s'>;
/** Rotational speed, revolutions per minute. */
export type RevPerMin = In<'rev/min'>;
/** Time in seconds. */
export type Seconds = In<'s'>;
/** Volume in cubic millimetres. */
export type Mm3 = In<'mm3'>;
/** Removal rate, cubic millimetres a second. */
export type Mm3PerS = In<'mm3/s'>;
/** Specific removal rate, cubic millimetres a second on a millimetre of width. */
export type Mm2PerS = In<'mm2/s'>;
/** Specific energy, joules for a cubic millimetre; the same as W s/mm3. */
export type JPerMm3 = In<'J/mm3'>;
/** Power in watts. */
export type Watt = In<'W'>;
/** Force in newtons. */
export type Newton = In<'N'>;
/** Stress, newtons on a square millimetre. */
export type NPerMm2 = In<'N/mm2'>;

export const mm = (value: number): Mm => value as Mm;
export const rad = (value: number): Rad => value as Rad;
export const mmPerMin = (value: number): MmPerMin => value as MmPerMin;
export const mPerS = (value: number): MPerS => value as MPerS;
export const revPerMin = (value: number): RevPerMin => value as RevPerMin;
export const seconds = (value: number): Seconds => value as Seconds;
export const mm3 = (value: number): Mm3 => value as Mm3;
export const mm3PerS = (value: number): Mm3PerS => value as Mm3PerS;
export const mm2PerS = (value: number): Mm2PerS => value as Mm2PerS;
export const jPerMm3 = (value: number): JPerMm3 => value as JPerMm3;
export const watt = (value: number): Watt => value as Watt;
export const newton = (value: number): Newton => value as Newton;
export const nPerMm2 = (value: number): NPerMm2 => value as NPerMm2;

/** The units a job file or a program may be written in. */
export type LengthUnit = 'mm' | 'inch';
