/**
 * A socket and the size to grind a punch for it: a share of the way up the socket's limits,
 * least + share (most - least). High, so that it can be resharpened, and under the top, since a punch cuts a hair
 * over its size. Where the limits come from is in file/socket-table.
 */
import { fromMm, toMm } from '../quantity/length.js';
import { type LengthUnit, type Mm, mm } from '../quantity/unit.js';

export const SECTION_SIDES = { hex: 6, square: 4 } as const;
export type SocketSection = keyof typeof SECTION_SIDES;

/** Limits of one size in one table. */
export interface SizeLimits {
  readonly least: Mm;
  readonly most: Mm;
  readonly table: string;
  readonly source: string;
}

export interface Socket extends SizeLimits {
  /** `hex 5`, `hex 1/4 in`. */
  readonly name: string;
  readonly section: SocketSection;
  readonly sides: number;
  /** What a driving square is called in inches, `3/8 in`; `none` of others. */
  readonly drive: string | 'none';
  readonly nominal: Mm;
  /** Units of the table it comes from. */
  readonly units: LengthUnit;
  /** What other tables say of the same size. */
  readonly others: readonly SizeLimits[];
  /** The key that goes in; `none` where no table has it. */
  readonly key: SizeLimits | 'none';
}

/**
 * New punches are ground this share of the way up the socket's limits; common practice, no source. From hex 2.5 up
 * it also stays within the older tighter limits.
 */
export const USUAL_SHARE = 0.6;

/** Decimals a size is given to, in the units of its table. */
const SIZE_DECIMALS: Record<LengthUnit, number> = { mm: 3, inch: 4 };

/** A size that misses a whole digit by less than this is that digit. */
const WHOLE_DIGIT = 1e-6;

/** The size to grind a new punch to, rounded down to what a micrometer reads. */
export function sizeToGrind({ least, most, units }: Socket, share: number): Mm {
  const scale = 10 ** SIZE_DECIMALS[units];
  const size = fromMm(mm(least + share * (most - least)), units);
  return toMm(Math.floor(size * scale + WHOLE_DIGIT) / scale, units);
}
