/**
 * How much a pass may ask for before the plan warns. Each has its own key under `grinding.limit`, which a job
 * may set; these stand where it does not.
 */
import type { Job } from '../job/job.js';
import { type Mm2PerS, mm2PerS, type Watt } from '../quantity/unit.js';

/** Dry tool grinding burns above 0.5 to 1 mm2/s; from memory, low confidence. */
const BURNS_DRY: Mm2PerS = mm2PerS(1);
/** Wet conventional grinding runs at 1 to 5 mm2/s; from memory, low confidence. */
const BURNS_WET: Mm2PerS = mm2PerS(5);
/** The blank may give way by this share of the tolerance while it is finished; common practice, no source. */
const BENDING_SHARE = 0.25;

export interface Limits {
  readonly specific: Mm2PerS;
  readonly bendingShare: number;
  readonly power: Watt | 'none';
}

/** The limits of a job: its own, or the usual ones; power is `none` where nobody says what there is. */
export function limitsOf({ grinding, machine }: Job): Limits {
  const { specificRemovalRate, bending, power } = grinding.limit;
  return {
    specific: specificRemovalRate ?? (grinding.coolant === 'none' ? BURNS_DRY : BURNS_WET),
    bendingShare: bending ?? BENDING_SHARE,
    power: power ?? machine.spindle.power ?? 'none',
  };
}
