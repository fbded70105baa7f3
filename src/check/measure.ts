/**
 * The punch a program would leave, measured from its strokes alone, and held against the order. A flat
 * lies where its lowest stroke ran: h = w / cos t. Its relief is the slope of the set-up, since the rim
 * is a plane. Lengths are depths behind the front face: on the centre line to the rim's farthest reach,
 * at the corners to where the round rim leaves the flat's edge.
 */
import type { Job } from '../job/job.js';
import { FLAT_WITHIN, NO_BITE, SAME_INDEX } from '../quantity/tolerance.js';
import { type Mm, type Mm3, mm, mm3, type Rad, rad } from '../quantity/unit.js';
import { acrossCorners } from '../section/corner.js';
import { atDepth, between, normal, type Section } from '../section/flat.js';
import { depthOf, distanceFromHeight, flatAtDepth } from '../section/frame.js';
import { acrossFlat, cornerOutside, edgeOf } from '../section/outline.js';
import { isClosed } from '../section/polygon.js';
import { coveredFrom } from '../section/rim.js';
import type { FindingBody } from './finding.js';
import type { IndexRecord } from './sweep.js';
import { removedVolume } from './volume.js';

export interface MeasuredFlat {
  /** Number in the order, or `not ordered`. */
  readonly flat: number | 'not ordered';
  readonly at: Rad;
  /** From the axis, at the front face. */
  readonly distance: Mm;
  readonly ordered: Mm | 'none';
  /** What the micrometer reads across this flat at the front face. */
  readonly across: Mm;
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
  readonly removed: Mm3;
}

/** A blank measured with a micrometer, and two flats each a rounding off, can leave this at a corner. */
const LAND_SLACK: Mm = mm(0.003);
/** Room for the last digit of a stroke's end, on a length. */
const LENGTH_SLACK: Mm = mm(0.01);

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
    removed: volume(job, ground, flats),
  };
}

const order = ({ flat }: MeasuredFlat): number => (flat === 'not ordered' ? 0 : flat);

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

/** What of the measured punch is not as ordered. */
export function holdAgainstOrder(job: Job, { flats, offAxis: off }: MeasuredPunch): readonly FindingBody[] {
  const { section, tolerance, flatLength, corners } = job.punch;
  const findings: FindingBody[] = [];
  section.forEach((ordered, i) => {
    const flat = flats.find((measured) => measured.flat === i + 1);
    if (flat === undefined) findings.push({ code: 'flat-missing', flat: i + 1, at: ordered.at });
    else findings.push(...sizeFindings(job, flat, flats));
    if (flat === undefined) return;
    if (flat.lengthAtCorners < flatLength - LENGTH_SLACK) {
      findings.push({ code: 'flat-short', flat: i + 1, length: flat.lengthAtCorners, ordered: flatLength });
    }
    if (flat.sparkOut < job.grinding.sparkOut) {
      findings.push({
        code: 'spark-out-short',
        flat: i + 1,
        strokes: flat.sparkOut,
        ordered: job.grinding.sparkOut,
      });
    }
  });
  for (const { flat, at, deepestBite } of flats) {
    if (flat === 'not ordered' && deepestBite > NO_BITE) findings.push({ code: 'flat-not-ordered', at });
  }
  const most = mm((tolerance.plus + tolerance.minus) / 2 + FLAT_WITHIN);
  if (off !== 'none' && off > most) findings.push({ code: 'section-off-axis', by: off, most });
  const ground: Section = flats.map(({ at, distance }) => ({ at, distance }));
  if (corners === 'sharp' && flats.length >= section.length && isClosed(ground)) {
    const by = cornerOutside(ground, job.blank);
    if (by > LAND_SLACK) findings.push({ code: 'corner-land', by });
  }
  return findings;
}

/** Across flats where the order has an opposite flat, else twice the distance, within the tolerance. */
function sizeFindings(job: Job, flat: MeasuredFlat, flats: readonly MeasuredFlat[]): readonly FindingBody[] {
  const { section, tolerance } = job.punch;
  const number = order(flat);
  const facing = (at: Rad): boolean => between(rad(at + Math.PI), flat.at) <= SAME_INDEX;
  const opposite = section.findIndex(({ at }) => facing(at));
  const other = flats.find((measured) => measured.flat === opposite + 1);
  // A pair is judged once, at its first flat; a missing opposite is its own finding.
  if (opposite >= 0 && (opposite + 1 < number || other === undefined)) return [];
  const ordered = section[number - 1]?.distance ?? mm(0);
  const size = mm(flat.distance + (other?.distance ?? flat.distance));
  const wanted = ordered + (section[opposite]?.distance ?? ordered);
  const most = mm(wanted + tolerance.plus);
  const least = mm(wanted - tolerance.minus);
  if (size > most + 2 * FLAT_WITHIN) return [{ code: 'size-over', flat: number, size, most }];
  if (size < least - 2 * FLAT_WITHIN) return [{ code: 'size-under', flat: number, size, least }];
  return [];
}
