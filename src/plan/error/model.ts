/**
 * The punch that real, slightly wrong grinding leaves. Each flat is ground by a rim at height w over an axis that
 * slopes by t, both a little off:
 *   distance = (w + touch-off + edge tan t + creep sin t + lost + spark(t) - spark(t0)) / cos t + e . n + side,
 * t the true slope and t0 the one ordered; spark(t) = R / cos t - u tan t the height of the first spark, since the
 * axis is set to read what was planned for it; n the flat's normal, e where the bore or chuck lies off the axis;
 * all of it (1 - a T) once the punch has cooled by T, a its expansion. An index error turns the flat.
 * Source: geometry of section/frame; eccentricity as e cos(theta - phi).
 */
import type { Job } from '../../job/job.js';
import { type Mm, mm, type Rad, rad } from '../../quantity/unit.js';
import { blankSupport } from '../../section/blank.js';
import { type Flat, normal, opposite, type Section } from '../../section/flat.js';
import { acrossFlat, readingShare } from '../../section/outline.js';
import { shiftRows } from '../../section/shift.js';
import { flatHeight, stockTop, tipEdge } from '../../wheel/frame.js';

/** What is off in one punch. Lists go by flat, in grinding order. */
export interface Errors {
  readonly touchOff: Mm;
  readonly edge: Mm;
  /** Reading at the measuring stop by which the rim was set. */
  readonly stopReading: Mm;
  readonly slope: Rad;
  readonly creep: Mm;
  readonly eccentricity: { readonly y: Mm; readonly z: Mm };
  readonly sides: readonly Mm[];
  readonly angles: readonly Rad[];
  /** Share of the predicted wear by which the wheel wears more. */
  readonly wear: number;
  /** Kelvin the punch is warmer than expected. */
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
  /** What the passes aim at. */
  readonly aimed: Section;
  /** Height the rim has lost at each flat since the rim was last set, as predicted. */
  readonly lost: readonly Mm[];
  /** How far the flat touched at the measuring stop stands over the mean of its pair, as predicted. */
  readonly touchedOver: Mm;
  /** Kelvin the punch is expected to be warmer when finished than when measured. */
  readonly warmth: number;
}

/** A punch with nothing off. */
export const noErrors = (flats: number): Errors => ({
  touchOff: mm(0),
  edge: mm(0),
  stopReading: mm(0),
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
  const { job, lost, aimed, touchedOver, warmth } = grinding;
  const measured = job.grinding.measuringStop !== 'none';
  const { reach, u } = sparkPlace(grinding);
  const ordered = job.punch.relief;
  const relief = rad(ordered + errors.slope);
  // Set on a ground flat, the rim does not care where the blank's top was.
  const spark = measured ? 0 : stockTop(reach, u, relief) - stockTop(reach, u, ordered);
  const foreseen = job.grinding.wear === 'compensate' ? 1 : 0;
  const section = aimed.map(({ at, distance }, i) => {
    const rim =
      flatHeight(distance, ordered) +
      errors.touchOff +
      errors.edge * Math.tan(relief) +
      errors.stopReading * (Math.cos(relief) / readingShare(aimed, job.blank, i)) +
      errors.creep * Math.sin(relief) +
      (lost[i] ?? 0) * (1 + errors.wear - foreseen) +
      // What the prediction has of it is in the number typed.
      touchedOver * errors.wear +
      spark;
    const out = normal(at);
    const off = errors.eccentricity.y * out.y + errors.eccentricity.z * out.z + (errors.sides[i] ?? 0);
    const cooled = 1 - job.figures.expansion * (warmth + errors.temperature);
    return {
      at: rad(at + (errors.angles[i] ?? 0)),
      distance: mm((rim / Math.cos(relief) + off) * cooled),
    };
  });
  return { section, relief };
}

/**
 * The size of flat `index` that is held against the tolerance, as a micrometer shows it: across flats; over a corner,
 * or the blank's own round, what the reading has moved, as twice the distance of the flat. A section that sits off the
 * axis as a whole reads as it should.
 */
export function heldSize({ job, aimed }: Grinding, real: RealPunch, index: number): Mm {
  const share = readingShare(aimed, job.blank, index);
  const nominal = 2 * (aimed[index]?.distance ?? 0);
  const facing = opposite(aimed, index);
  if (facing !== 'none')
    return mm((real.section[index]?.distance ?? 0) + (real.section[facing]?.distance ?? 0));
  const moved = acrossFlat(real.section, job.blank, index) - acrossFlat(aimed, job.blank, index);
  return mm(nominal + (2 * moved) / share);
}

/** A step of a distance (mm) or of a direction (rad) for its derivative. */
const STEP = 1e-4;

/** Derivatives of that size by every flat's distance, and by the direction it faces, in mm per rad. */
export function heldGradient(
  grinding: Grinding,
  index: number,
): { readonly distances: readonly number[]; readonly angles: readonly number[] } {
  const { aimed, job } = grinding;
  const by = (stepped: (flat: Flat, step: number) => Flat): readonly number[] =>
    aimed.map((_, moved) => {
      const size = (step: number): number => {
        const section = aimed.map((flat, i) => (i === moved ? stepped(flat, step) : flat));
        return heldSize(grinding, { section, relief: job.punch.relief }, index);
      };
      return (size(STEP) - size(-STEP)) / (2 * STEP);
    });
  return {
    distances: by((flat, step) => ({ ...flat, distance: mm(flat.distance + step) })),
    angles: by((flat, step) => ({ ...flat, at: rad(flat.at + step) })),
  };
}

/** How far the section's centre lies off the axis of the shank. */
export function centreOffset({ aimed }: Grinding, punch: RealPunch): { readonly y: Mm; readonly z: Mm } {
  const rows = shiftRows(aimed);
  const errors = punch.section.map(({ distance }, i) => distance - (aimed[i]?.distance ?? 0));
  const along = (row: readonly number[]): Mm =>
    mm(errors.reduce((sum, error, i) => sum + error * (row[i] ?? 0), 0));
  return { y: along(rows.y), z: along(rows.z) };
}
