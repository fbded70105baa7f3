/** What is read off a punch in the machine: a micrometer over a flat, an indicator on flats brought up one by one. */
import type { Mm } from '../quantity/unit.js';
import type { Instrument } from './instrument.js';

/** A micrometer over `flat` and what lies opposite. */
export interface Across {
  readonly flat: number;
  /** Behind the front face. */
  readonly depth: Mm;
  readonly read: Mm;
}

/** An indicator over a flat as it is brought up, from a zero all flats share; up is more. */
export interface Height {
  readonly flat: number;
  readonly read: Mm;
}

export interface Readings {
  readonly across: readonly Across[];
  readonly heights: readonly Height[];
  readonly instrument: Instrument;
  /** Kelvin the punch is warmer than the micrometer. */
  readonly warm: number;
}
