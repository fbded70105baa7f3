/**
 * What the rim loses: V / (G A), V the metal removed, G the grinding ratio (metal over wheel by volume), A the
 * area of the rim, pi (D^2 - (D - 2 b)^2) / 4. A worn rim leaves every flat that much higher, the last one most.
 * Compensated, each pass is lowered by what the wheel has lost before it.
 * Source: definition of the grinding ratio; 100 mm3 at G = 5 on a ring of 100 and 94 mm costs 0.0219 mm.
 */
import { type Mm, type Mm3, mm } from '../quantity/unit.js';
import type { Figures } from './material.js';

/** Area of the rim's face, mm2. */
const rimArea = ({ diameter, rim }: { readonly diameter: Mm; readonly rim: Mm }): number =>
  (Math.PI * (diameter ** 2 - (diameter - 2 * rim) ** 2)) / 4;

/** A wheel's rim, and how it wears on the metal it grinds. */
export interface WearingRim {
  readonly wheel: { readonly diameter: Mm; readonly rim: Mm };
  readonly figures: Pick<Figures, 'ratio'>;
}

/** How much height the rim loses for `removed` metal. */
export const rimLoss = ({ wheel, figures }: WearingRim, removed: Mm3): Mm =>
  mm(removed / (figures.ratio.taken * rimArea(wheel)));
