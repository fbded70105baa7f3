/** A set of gauge blocks, counted in whole steps so that sums are exact. */
import type { LengthUnit } from '../quantity/unit.js';

export interface GaugeSet {
  readonly name: string;
  readonly units: LengthUnit;
  readonly source: string;
  /** Blocks in whole steps of `GAUGE_STEP[units]`. */
  readonly blocks: readonly number[];
}

/** Finest difference a set can show, in its units: half a micrometre, or a ten-thousandth of an inch. */
export const GAUGE_STEP: Readonly<Record<LengthUnit, number>> = { mm: 0.0005, inch: 0.0001 };
