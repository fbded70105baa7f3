/**
 * What the rim loses: V / (G A) if it wears level, V the metal removed, G the grinding ratio (metal over wheel by
 * volume), A the area of the rim's face, pi (D^2 - (D - 2 b)^2) / 4, b its width or that of the land left by dressing.
 * With a level stroke the outer edge does the work: it wears to a taper one infeed a high first, which holds a b / 2 of
 * section before the rim as a whole goes down. So the loss of height lies between V / (G A) - a / 2 and V / (G A); the
 * middle is taken. A worn rim leaves every flat that much higher, the last one most.
 * Source: definition of the grinding ratio; 100 mm3 at G = 5 on a ring of 100 and 94 mm costs 0.0219 mm. The taper is
 * plane geometry, that it comes first an estimate.
 */
import { type Mm, type Mm3, mm } from '../quantity/unit.js';
import type { Figures } from './material.js';

/** Area of the periphery of a plain wheel, pi D b, mm2: what it loses is radius. */
const peripheryArea = (diameter: Mm, width: Mm): number => Math.PI * diameter * width;

/** Area of the rim's face, mm2. */
const faceArea = (diameter: Mm, width: Mm): number =>
  (Math.PI * (diameter ** 2 - (diameter - 2 * width) ** 2)) / 4;

/** A wheel's rim, and how it wears on the metal it grinds. */
export interface WearingRim {
  readonly wheel: {
    readonly shape?: string;
    readonly diameter: Mm;
    readonly rim: Mm;
    readonly land?: Mm | undefined;
  };
  readonly figures: Pick<Figures, 'ratio'>;
}

/** How much height a rim that wears level loses for `removed` metal. */
export const rimLoss = ({ wheel, figures }: WearingRim, removed: Mm3): Mm =>
  mm(removed / (figures.ratio.taken * grindingArea(wheel)));

const grindingArea = ({ shape, diameter, rim, land }: WearingRim['wheel']): number =>
  shape === 'plain' ? peripheryArea(diameter, rim) : faceArea(diameter, land ?? rim);

/** Between what the loss of height lies, and what is taken. */
export interface Loss {
  readonly least: Mm;
  readonly most: Mm;
  readonly taken: Mm;
}

export const NO_LOSS: Loss = { least: mm(0), most: mm(0), taken: mm(0) };

/** The loss of height of a rim that would have lost `level` if it wore level, ground with infeeds of `infeed`. */
export function lossOf(level: Mm, infeed: Mm): Loss {
  const least = mm(Math.max(0, level - infeed / 2));
  return { least, most: level, taken: mm((least + level) / 2) };
}
