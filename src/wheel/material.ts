/** How a blank's material and a wheel's abrasive behave under each other; shared/grinding.yaml names the sources. */
import type { JPerMm3, Mm } from '../quantity/unit.js';

export interface Figures {
  readonly material: string;
  readonly abrasive: string;
  /** The words of the job fit no row, or no row of both: the usual pair stands in. */
  readonly assumed: boolean;
  /** What to grind this blank with, where this wheel is no wheel for it; `none` if it is. */
  readonly instead: string | 'none';
  /** Usual infeeds. */
  readonly infeed: { readonly rough: Mm; readonly finish: Mm };
  /** W/(m K). */
  readonly conductivity: number;
  /** Celsius above which it loses hardness. */
  readonly temper: number;
  readonly energy: { readonly least: JPerMm3; readonly most: JPerMm3; readonly source: string };
  /** Volume of metal ground for a volume of wheel lost; `taken` is the geometric mean of least and most, or the job's. */
  readonly ratio: {
    readonly least: number;
    readonly most: number;
    readonly taken: number;
    readonly source: string;
  };
  /** Modulus of elasticity, N/mm2. */
  readonly elasticity: number;
  /** Thermal expansion per kelvin. */
  readonly expansion: number;
  /** The wheel usual for this pair, `none` where no figure stands. */
  readonly usual: UsualWheel | 'none';
}

/** Grades from softest to hardest, and grits from coarsest to finest. */
export interface UsualWheel {
  readonly grit: readonly [coarsest: number, finest: number];
  readonly dry: readonly [softest: string, hardest: string];
  readonly wet: readonly [softest: string, hardest: string];
}
