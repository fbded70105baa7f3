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

export const mm = (value: number): Mm => value as Mm;
export const rad = (value: number): Rad => value as Rad;
export const mmPerMin = (value: number): MmPerMin => value as MmPerMin;
export const mPerS = (value: number): MPerS => value as MPerS;
export const revPerMin = (value: number): RevPerMin => value as RevPerMin;
export const seconds = (value: number): Seconds => value as Seconds;
export const mm3 = (value: number): Mm3 => value as Mm3;

/** The units a job file or a program may be written in. */
export type LengthUnit = 'mm' | 'inch';
