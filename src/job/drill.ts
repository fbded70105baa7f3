/** Drills one can buy, and the one nearest to a hole. */
import type { Mm } from '../quantity/unit.js';

export interface Drill {
  /** `5.2 mm`, `no. 6`, `letter F`, `13/64 in`. */
  readonly name: string;
  readonly diameter: Mm;
}

/** The drill nearest to `diameter`; the first of two as near. @throws RangeError without drills */
export function nearestDrill(drills: readonly Drill[], diameter: Mm): Drill {
  const [nearest] = drills.toSorted(
    (a, b) => Math.abs(a.diameter - diameter) - Math.abs(b.diameter - diameter),
  );
  if (nearest === undefined) throw new RangeError('no drill to choose from');
  return nearest;
}
