/**
 * The punch that real, slightly wrong grinding leaves. Each flat is ground by a rim at height w over an axis that
 * slopes by t, both a little off:
 *   distance = (w + touch-off + creep sin t + lost + spark(t) - spark(t0)) / cos t + e . n + side,
 * t the true slope and t0 the one ordered; spark(t) = R / cos t - u tan t the height of the first spark, since the
 * axis is set to read what was planned for it; n the flat's normal, e where the bore or chuck lies off the axis;
 * all of it (1 - a T) once the punch has cooled by T, a its expansion. An index error turns the flat.
 * Source: geometry of section/frame; eccentricity as e cos(theta - phi).
 */
import type { Job } from '../../job/job.js';
import { type Mm, mm, type Rad, rad } from '../../quantity/unit.js';
import { blankSupport } from '../../section/blank.js';
import { normal, opposite, type Section } from '../../section/flat.js';
import { shiftRows } from '../../section/shift.js';
import { flatHeight, stockTop, tipEdge } from '../../wheel/frame.js';

/** What is off in one punch. Lists go by flat, in grinding order. */
export interface Errors {
  readonly touchOff: Mm;
  readonly slope: Rad;
  readonly creep: Mm;
  readonly eccentricity: { readonly y: Mm; readonly z: Mm };
  readonly sides: readonly Mm[];
  readonly angles: readonly Rad[];
  /** Share of the predicted wear by which the wheel wears more. */
  readonly wear: number;
  /** Kelvin the punch is warmer than when measured. */
  readonly temperature: number;
  readonly readings: readonly Mm[];
}

export interface RealPunch {
  readonly section: Section;
  readonly relief: Rad;
}

/** Beside the job: how far behind the tip the touch-off is made, and what wear leaves on each flat unforeseen. */
export interface Grinding {
  readonly job: Job;
  readonly overlap: Mm;
  /** Height the rim has lost at each flat since the rim was last set, as predicted. */
  readonly lost: readonly Mm[];
}

/** A punch with nothing off. */
export const noErrors = (flats: number): Errors => ({
  touchOff: mm(0),
  slope: rad(0),
  creep: mm(0),
  eccentricity: { y: mm(0), z: mm(0) },
  sides: Array.from({ length: flats }, () => mm(0)),
  angles: Array.from({ length: flats }, () => rad(0)),
  wear: 0,
  temperature: 0,
  readings: Array.from({ length: flats }, () => mm(0)),
});

/** Where the first spark is looked for: reach of the blank there, and u under the rim's edge. */
export function sparkPlace({ job, overlap }: Grinding): { readonly reach: Mm; readonly u: Mm } {
  const reach = blankSupport(job.blank, job.punch.section[0]?.at ?? rad(0));
  return { reach, u: mm(tipEdge(reach, job.punch.relief) - overlap) };
}

/** The punch left with these errors. Wear as predicted counts only where the job does not compensate it. */
export function realPunch(grinding: Grinding, errors: Errors): RealPunch {
  const { job, lost } = grinding;
  const { reach, u } = sparkPlace(grinding);
  const ordered = job.punch.relief;
  const relief = rad(ordered + errors.slope);
  const spark = stockTop(reach, u, relief) - stockTop(reach, u, ordered);
  const foreseen = job.grinding.wear === 'compensate' ? 1 : 0;
  const section = job.punch.section.map(({ at, distance }, i) => {
    const rim =
      flatHeight(distance, ordered) +
      errors.touchOff +
      errors.creep * Math.sin(relief) +
      (lost[i] ?? 0) * (1 + errors.wear - foreseen) +
      spark;
    const out = normal(at);
    const off = errors.eccentricity.y * out.y + errors.eccentricity.z * out.z + (errors.sides[i] ?? 0);
    const cooled = 1 - job.figures.expansion * errors.temperature;
    return {
      at: rad(at + (errors.angles[i] ?? 0)),
      distance: mm((rim / Math.cos(relief) + off) * cooled),
    };
  });
  return { section, relief };
}

/**
 * The size of flat `index` that is held against the tolerance: across flats, or twice the distance of a flat that
 * has no opposite.
 */
export function heldSize({ punch }: Job, real: RealPunch, index: number): Mm {
  const own = real.section[index]?.distance ?? 0;
  const facing = opposite(punch.section, index);
  return mm(own + (facing === 'none' ? own : (real.section[facing]?.distance ?? 0)));
}

/** Derivative of that size by every flat's distance; turning a flat about the axis leaves it as it is. */
export function heldGradient({ punch }: Job, index: number): readonly number[] {
  const facing = opposite(punch.section, index);
  return punch.section.map(
    (_, i) => (i === index ? 1 : 0) + (i === (facing === 'none' ? index : facing) ? 1 : 0),
  );
}

/** How far the section's centre lies off the axis of the shank. */
export function centreOffset(job: Job, punch: RealPunch): { readonly y: Mm; readonly z: Mm } {
  const rows = shiftRows(job.punch.section);
  const errors = punch.section.map(({ distance }, i) => distance - (job.punch.section[i]?.distance ?? 0));
  const along = (row: readonly number[]): Mm =>
    mm(errors.reduce((sum, error, i) => sum + error * (row[i] ?? 0), 0));
  return { y: along(rows.y), z: along(rows.z) };
}
