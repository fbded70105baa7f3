/**
 * How much a pass may ask for before the plan warns. Each has its own key under `grinding.limit`, which a job
 * may set; these stand where it does not.
 */
import type { Job } from '../job/job.js';
import { type Mm2PerS, type MmPerMin, mm2PerS, mmPerMin, type Watt } from '../quantity/unit.js';

/**
 * Dry tool grinding burns above 0.5 to 1 mm2/s, wet at 1 to 5, by hand strokes of some 6 m/min; from memory, low
 * confidence. Warmth under the edge goes with Q' / sqrt(stroke speed), a moving band of heat (Jaeger, from memory), so a
 * slower stroke burns at less: the limit is Q0 sqrt(v / 6000 mm/min).
 */
const BURNS_DRY: Mm2PerS = mm2PerS(1);
const BURNS_WET: Mm2PerS = mm2PerS(5);
/** The blank may give way by this share of the tolerance while it is finished; common practice, no source. */
const BENDING_SHARE = 0.25;

/** The stroke at which the figures above hold. */
const AT_STROKE: MmPerMin = mmPerMin(6000);

/** Specific removal rate that burns at this stroke speed, with this coolant. */
export const burnsAbove = ({ coolant, strokeSpeed }: Job['grinding']): Mm2PerS =>
  mm2PerS((coolant === 'none' ? BURNS_DRY : BURNS_WET) * Math.sqrt(strokeSpeed / AT_STROKE));

/** The stroke speed from which a specific removal rate does not burn: a faster, shallower stroke is the cooler one. */
export const coolStroke = (specific: Mm2PerS, { coolant }: Job['grinding']): MmPerMin =>
  mmPerMin(AT_STROKE * (specific / (coolant === 'none' ? BURNS_DRY : BURNS_WET)) ** 2);

export interface Limits {
  readonly specific: Mm2PerS;
  readonly bendingShare: number;
  readonly power: Watt | 'none';
}

/** The limits of a job: its own, or the usual ones; power is `none` where nobody says what there is. */
export function limitsOf({ grinding, machine }: Job): Limits {
  const { specificRemovalRate, bending, power } = grinding.limit;
  return {
    specific: specificRemovalRate ?? burnsAbove(grinding),
    bendingShare: bending ?? BENDING_SHARE,
    power: power ?? machine.spindle.power ?? 'none',
  };
}
