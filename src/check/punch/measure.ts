/**
 * The punch a program would leave, measured from its strokes alone. A flat
 * lies where its lowest stroke ran: h = w / cos t. Its relief is the slope of the set-up, since the rim
 * is a plane. Lengths are depths behind the front face: on the centre line to the rim's farthest reach,
 * at the corners to where the round rim leaves the flat's edge.
 */
import type { Job } from '../../job/job.js';
import { FLAT_WITHIN, SAME_INDEX } from '../../quantity/tolerance.js';
import { type Mm, type Mm3, mm, mm3, type Rad, rad } from '../../quantity/unit.js';
import { acrossCorners } from '../../section/corner.js';
import { atDepth, between, normal, type Section } from '../../section/flat.js';
import { acrossFlat, edgeOf } from '../../section/outline.js';
import { pointOn } from '../../section/polygon.js';
import { depthOf, distanceFromHeight, flatAtDepth } from '../../wheel/frame.js';
import { coveredFrom } from '../../wheel/rim.js';
import { removedVolume } from '../../wheel/volume.js';
import type { IndexRecord } from '../run/stock.js';

export interface MeasuredFlat {
  /** Number in the order, or `not ordered`. */
  readonly flat: number | 'not ordered';
  readonly at: Rad;
  /** From the axis, at the front face. */
  readonly distance: Mm;
  readonly ordered: Mm | 'none';
  /** What the micrometer reads across this flat at the front face. */
  readonly across: Mm;
  /** Angle on to the next flat ground, counter-clockwise seen from the tip; one turn if it is alone. */
  readonly toNext: Rad;
  readonly relief: Rad;
  readonly lengthAtCentre: Mm;
  readonly lengthAtCorners: Mm;
  readonly passes: number;
  readonly deepestBite: Mm;
  readonly averageBite: Mm;
  readonly sparkOut: number;
}

export interface MeasuredPunch {
  readonly flats: readonly MeasuredFlat[];
  /** Across corners of a regular section with an even number of flats, when every flat is there. */
  readonly acrossCorners: Mm | 'none';
  /** How far the section's centre lies off the tool axis; `none` where the flats cannot show it. */
  readonly offAxis: Mm | 'none';
  /** Widest piece of the blank's own outline left between two flats, straight across; `none` if corners are sharp. */
  readonly land: Mm | 'none';
  readonly removed: Mm3;
}

/** The punch that the strokes in `records` leave; lengths mm, angles rad. */
export function measure(job: Job, records: readonly IndexRecord[]): MeasuredPunch {
  const ground = records.filter(({ stock }) => stock.floors.length > 0);
  const slope = job.punch.relief;
  const section: Section = ground.map(({ at, stock }) => ({
    at,
    distance: distanceFromHeight(mm(stock.floors.at(-1)?.w ?? 0), slope),
  }));
  const flats = ground
    .map((record, i): MeasuredFlat => {
      const lowest = record.stock.floors.at(-1) ?? { reach: 0, w: 0 };
      const index = job.punch.section.findIndex(({ at }) => between(at, record.at) <= SAME_INDEX);
      return {
        flat: index < 0 ? 'not ordered' : index + 1,
        at: record.at,
        distance: section[i]?.distance ?? mm(0),
        ordered: job.punch.section[index]?.distance ?? 'none',
        across: acrossFlat(section, job.blank, i),
        toNext: toNext(section, i),
        relief: slope,
        lengthAtCentre: depthOf(mm(lowest.reach), mm(lowest.w), slope),
        lengthAtCorners: cornerLength(job, section, i, lowest.reach),
        passes: record.passes,
        deepestBite: mm(record.deepestBite),
        averageBite: mm(record.biting === 0 ? 0 : record.bites / record.biting),
        sparkOut: record.sparkOut,
      };
    })
    .toSorted(
      (a, b) => Number(a.flat === 'not ordered') - Number(b.flat === 'not ordered') || order(a) - order(b),
    );
  return {
    flats,
    acrossCorners: cornersOf(job, flats),
    offAxis: offAxis(job, flats),
    land: land(job, section),
    removed: volume(job, ground, flats),
  };
}

/** The smallest turn forward from flat `index` to another one. */
function toNext(section: Section, index: number): Rad {
  const at = section[index]?.at ?? rad(0);
  const turn = 2 * Math.PI;
  const forward = section.filter((_, i) => i !== index).map((other) => (other.at - at + 2 * turn) % turn);
  return rad(Math.min(turn, ...forward));
}

/** Between the end of one flat and the start of the next, where they do not meet. */
function land({ blank }: Job, section: Section): Mm | 'none' {
  const ends = section
    .map((flat, i) => ({ flat, edge: edgeOf(section, blank, i) }))
    .toSorted((a, b) => a.flat.at - b.flat.at);
  const widths = ends.map(({ flat, edge }, i) => {
    const next = ends[(i + 1) % ends.length];
    if (edge === 'none' || next === undefined || next.edge === 'none') return 0;
    // Counter-clockwise seen from the tip runs toward -v on an upper flat.
    const [a, b] = [pointOn(flat, edge.from), pointOn(next.flat, next.edge.to)];
    return Math.hypot(a.y - b.y, a.z - b.z);
  });
  const widest = Math.max(0, ...widths);
  return widest > FLAT_WITHIN ? mm(widest) : 'none';
}

export const order = ({ flat }: MeasuredFlat): number => (flat === 'not ordered' ? 0 : flat);

/** Halvings that bring a depth of some metres below a nanometre. */
const HALVINGS = 44;

/** The depth to which the rim covers both edges of a flat. */
function cornerLength(job: Job, section: Section, index: number, reach: number): Mm {
  const slope = job.punch.relief;
  const centre = mm(reach + job.wheel.radius);
  const flat = section[index];
  if (flat === undefined) return mm(0);
  const covers = (depth: Mm): boolean => {
    const edge = edgeOf(atDepth(section, depth, slope), job.blank, index);
    if (edge === 'none') return false;
    const u = flatAtDepth(flat.distance, depth, slope);
    return [edge.from, edge.to].every((v) => u >= coveredFrom(centre, mm(0), v, job.wheel.radius));
  };
  let [shallow, deep] = [0, depthOf(mm(reach), mm(flat.distance * Math.cos(slope)), slope) as number];
  if (!covers(mm(0))) return mm(0);
  for (let i = 0; i < HALVINGS; i += 1) {
    const middle = (shallow + deep) / 2;
    if (covers(mm(middle))) shallow = middle;
    else deep = middle;
  }
  return mm(shallow);
}

function cornersOf({ punch }: Job, flats: readonly MeasuredFlat[]): Mm | 'none' {
  const { sides } = punch;
  if (sides === 'free' || sides % 2 !== 0 || punch.corners !== 'sharp' || flats.length !== sides)
    return 'none';
  const mean = flats.reduce((sum, { distance }) => sum + distance, 0) / sides;
  return acrossCorners(mm(2 * mean), sides);
}

/**
 * Regular sections: (2 / n) x the sum of each flat's error along its normal, the least-squares shift.
 * Free ones: half the difference of errors between opposite flats, the largest.
 */
function offAxis({ punch }: Job, flats: readonly MeasuredFlat[]): Mm | 'none' {
  const errors = flats.flatMap(({ at, distance, ordered }) =>
    ordered === 'none' ? [] : [{ at, error: distance - ordered }],
  );
  if (punch.sides !== 'free') {
    if (errors.length !== punch.sides) return 'none';
    const shift = errors.reduce(
      (sum, { at, error }) => ({ y: sum.y + error * normal(at).y, z: sum.z + error * normal(at).z }),
      { y: 0, z: 0 },
    );
    return mm((2 * Math.hypot(shift.y, shift.z)) / punch.sides);
  }
  const halves = errors.flatMap(({ at, error }) => {
    const opposite = errors.find((other) => between(rad(other.at + Math.PI), at) <= SAME_INDEX);
    return opposite === undefined ? [] : [Math.abs(error - opposite.error) / 2];
  });
  return halves.length === 0 ? 'none' : mm(Math.max(...halves));
}

function volume(job: Job, ground: readonly IndexRecord[], flats: readonly MeasuredFlat[]): Mm3 {
  if (ground.length === 0) return mm3(0);
  const slope = job.punch.relief;
  const cuts = ground.map(({ at, stock }) => {
    const lowest = stock.floors.at(-1) ?? { reach: 0, w: 0 };
    return {
      at,
      distance: distanceFromHeight(mm(lowest.w), slope),
      centreEnd: mm(lowest.reach + job.wheel.radius),
    };
  });
  const full = mm(Math.max(0, Math.min(...flats.map(({ lengthAtCorners }) => lengthAtCorners))));
  const end = Math.max(
    ...ground.map(({ stock }) => {
      const reach = Math.min(...stock.floors.map((floor) => floor.reach));
      return (stock.support * Math.sin(slope) - reach) / Math.cos(slope);
    }),
  );
  return removedVolume(job.blank, cuts, job.wheel.radius, slope, full, mm(end));
}
