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
  /** `by hand`: M3 and M5 do nothing, or are missing; the program stops for the switch instead. */
  readonly switched: 'by program' | 'by hand';
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
  /** Waited after the clamp. */
  readonly clampTime: Seconds;
  /** How the axis reads its words: on past 360, or within a turn by the shortest way, or with the sign as direction. */
  readonly counts: 'on and on' | '0 to 360 shortest' | '0 to 360, sign is direction';
  readonly mayTurnWithSpindle: boolean;
}

/** How the control reads a program. */
export interface Dialect {
  readonly number?: string | undefined;
  readonly blockNumbers?:
    | {
        readonly start: number;
        readonly step: number;
        /** The numbers begin anew after this one. */
        readonly most: number;
        readonly on: 'every block' | 'program stops';
      }
    | undefined;
  readonly percent: boolean;
  readonly unitsCode: keyof typeof UNIT_CODES;
  readonly dwellWord: 'P' | 'X' | 'U' | 'F';
  readonly dwellUnit: 'seconds' | 'milliseconds';
  readonly decimals: number;
  readonly workOffset: 'G54' | 'G55' | 'G56' | 'G57' | 'G58' | 'G59';
  readonly coolant: readonly ('flood' | 'mist')[];
  readonly stops: 'honoured' | 'ignored';
  readonly end: 'M2' | 'M30';
  readonly comments: 'parentheses' | 'semicolon';
  readonly longestBlock: number;
  /** Start-up codes this control does not know. */
  readonly leaveOut: readonly ('G17' | 'G18' | 'G40' | 'G49' | 'G80' | 'G97')[];
  /** `none`: axis letters are absolute by themselves, and G90 is a cycle. */
  readonly absoluteCode: 'G90' | 'none';
  readonly feedCode: 'G94' | 'G98' | 'none';
  /** Says that X is a diameter, or a radius. */
  readonly diameterCode: 'G7' | 'G8' | 'none';
  /** Makes a move end at its mark before the next begins; `none`: the control always does, or is set to. */
  readonly exactStop: 'G61' | 'none';
  /** How the machine is sent to the top of its travel; G53 needs `workZero`. */
  readonly machineRetract: 'G53' | 'none';
  /** How an axis word without a point is read; counted in last digits it is written so too. */
  readonly bareNumbers: 'refused' | 'whole units' | 'last digits';
  /** Number of the wheel in the tool table, where work zero is set with its length offset active. */
  readonly tool?: number | undefined;
}

/** A hand wheel and its graduated dial, in what a division and a turn move the slide. */
export interface Dial {
  readonly graduation: Mm;
  readonly turn: Mm;
}

/** The wheels of a machine without a control: what a hand reads, and what it stops against. */
export interface Dials {
  /** `grows`: which way the slide goes when the numbers grow. */
  readonly infeed: Dial & { readonly grows: 'toward the work' | 'away from the work' };
  /** Left out: a lever, or a block pushed along. */
  readonly stroke?: Dial | undefined;
  /** What a read-out on the infeed resolves, where there is one. */
  readonly readout?: Mm | undefined;
  /** Whether stops can end the stroke. */
  readonly stops: boolean;
}

/** A wheel guard that stays on: how far it stands out past the rim, and how far its edge stands back from the rim's face. */
export interface Guard {
  readonly beside: Mm;
  readonly back: Mm;
}

export interface Machine {
  readonly title: string;
  readonly units: LengthUnit;
  readonly layout: LayoutName;
  readonly travel: { readonly x: Travel; readonly y?: Travel | undefined; readonly z: Travel };
  readonly workZero?: { readonly x: Mm; readonly y?: Mm | undefined; readonly z: Mm } | undefined;
  /** Lost motion of the infeed axis. */
  readonly play: Mm;
  readonly rapid: MmPerMin;
  readonly maxFeed: MmPerMin;
  readonly spindle: Spindle;
  readonly rotary?: Rotary | undefined;
  readonly guard?: Guard | undefined;
  /** There: a machine without a control; its dialect then says nothing. */
  readonly dials?: Dials | undefined;
  readonly program: Dialect;
}
