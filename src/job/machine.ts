/** What a machine and its control can do, as plain values; how a profile is read is in file/machine-schema. */
import type { LengthUnit, Mm, MmPerMin, Rad, RevPerMin, Seconds, Watt } from '../quantity/unit.js';
import type { UNIT_CODES } from './dialect.js';
import type { LayoutName } from './layout.js';

/** Least and most, in machine coordinates. */
export type Travel = readonly [least: Mm, most: Mm];

export interface Spindle {
  readonly min: RevPerMin;
  readonly max: RevPerMin;
  readonly power?: Watt | undefined;
  readonly turns: 'clockwise' | 'counter-clockwise';
  readonly spinUp: Seconds;
  readonly coastDown: Seconds;
}

export interface Rotary {
  readonly axis: 'A' | 'B' | 'C';
  readonly sense: 'standard' | 'reversed';
  readonly backlash: Rad;
  readonly turnsPerMinute: RevPerMin;
  readonly clamp?: string | undefined;
  readonly unclamp?: string | undefined;
  readonly mayTurnWithSpindle: boolean;
}

/** How the control reads a program. */
export interface Dialect {
  readonly number?: string | undefined;
  readonly blockNumbers?: { readonly start: number; readonly step: number } | undefined;
  readonly percent: boolean;
  readonly unitsCode: keyof typeof UNIT_CODES;
  readonly dwellWord: 'P' | 'X' | 'F';
  readonly dwellUnit: 'seconds' | 'milliseconds';
  readonly decimals: number;
  readonly workOffset: 'G54' | 'G55' | 'G56' | 'G57' | 'G58' | 'G59';
  readonly coolant: readonly ('flood' | 'mist')[];
  readonly stops: 'honoured' | 'ignored';
  readonly end: 'M2' | 'M30';
  readonly comments: 'parentheses' | 'semicolon';
  readonly longestBlock: number;
  readonly leaveOut: readonly ('G17' | 'G18' | 'G40' | 'G49' | 'G80' | 'G94' | 'G97')[];
}

export interface Machine {
  readonly title: string;
  readonly units: LengthUnit;
  readonly layout: LayoutName;
  readonly travel: { readonly x: Travel; readonly y?: Travel | undefined; readonly z: Travel };
  readonly workZero?: { readonly x: Mm; readonly y?: Mm | undefined; readonly z: Mm } | undefined;
  readonly rapid: MmPerMin;
  readonly maxFeed: MmPerMin;
  readonly spindle: Spindle;
  readonly rotary?: Rotary | undefined;
  readonly program: Dialect;
}
