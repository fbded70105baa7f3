/**
 * The punch a program would leave, measured from its strokes alone. A flat
 * lies where its lowest stroke ran: h = w / cos t. Its relief is the slope of the set-up, since the rim
 * is a plane. Lengths are depths behind the front face: on the centre line to the rim's farthest reach,
 * at the corners to where the round rim leaves the flat's edge.
 */
import type { Job } from '../../job/job.js';
import { type Floor, standingAt } from '../../job/standing.js';
import { FLAT_WITHIN, INDEX_WITHIN } from '../../quantity/tolerance.js';
import { type Mm, type Mm3, mm, mm3, type Rad, rad } from '../../quantity/unit.js';
import { acrossCorners } from '../../section/corner.js';
import { atDepth, between, type Section } from '../../section/flat.js';
import { acrossFlat, edgeOf } from '../../section/outline.js';
import { pointOn } from '../../section/polygon.js';
import { shiftRows } from '../../section/shift.js';
import { depthOf, distanceFromHeight, flatAtDepth } from '../../wheel/frame.js';
import { runOutBehind } from '../../wheel/periphery.js';
import { coveredFrom } from '../../wheel/rim.js';
import { type Cut, type CutPunch, removedVolume } from '../../wheel/volume.js';
import type { IndexRecord } from '../run/stock.js';
import { standingRecords } from '../run/sweep.js';

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
  /** Of every stroke, rough ones too: how far behind the face metal is gone. */
  readonly lengthGround: Mm;
  readonly passes: number;
  readonly deepestBite: Mm;
  readonly averageBite: Mm;
  readonly sparkOut: number;
}

export interface MeasuredPunch {
  /** How far the whole section stands turned against the order; 0 where its flats are where they are ordered. */
  readonly turned: Rad;
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
  const turned = turnOf(job, ground);
  const flats = ground
    .map((record, i): MeasuredFlat => {
      const lowest = record.stock.floors.at(-1) ?? { reach: 0, w: 0 };
      const index = job.punch.section.findIndex(
        ({ at }) => between(rad(at + turned), record.at) <= INDEX_WITHIN,
      );
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
        lengthGround: mm(depthOf(farthest(job, record), mm(lowest.w), slope)),
        passes: record.passes,
        deepestBite: mm(record.deepestBite),
        averageBite: mm(record.biting === 0 ? 0 : record.bites / record.biting),
        sparkOut: record.sparkOut,
      };
    })
    .toSorted(
      (a, b) =>
        Number(a.flat === 'not ordered') - Number(b.flat === 'not ordered') || orderKey(a) - orderKey(b),
    );
  const cut = cutPunch(job, ground, flats);
  let removed: Mm3 | undefined;
  return {
    turned,
    flats,
    acrossCorners: cornersOf(job, flats),
    offAxis: offAxis(job, flats),
    land: land(job, section),
    // Worked out when somebody looks: posting a program does not, and it takes as long as all the rest of this.
    get removed() {
      removed ??= mm3((cut === 'nothing' ? 0 : removedVolume(cut)) - removedBefore(job));
      return removed;
    },
  };
}

/**
 * How far the section ground stands turned against the order. A round blank does not care where its flats begin: if no
 * flat is where it is ordered and one turn brings all of them there, the punch is the one ordered.
 */
function turnOf({ punch, blank }: Job, ground: readonly IndexRecord[]): Rad {
  const first = ground[0];
  const { section } = punch;
  const fits = (turn: number): boolean =>
    ground.every((record) => section.some(({ at }) => between(rad(at + turn), record.at) <= INDEX_WITHIN));
  if (first === undefined || blank.shape !== 'round' || ground.length !== section.length || fits(0))
    return rad(0);
  const turns = section.map(({ at }) => first.at - at).toSorted((a, b) => Math.abs(a) - Math.abs(b));
  return rad(turns.find(fits) ?? 0);
}

/** Where the stroke that reached farthest at an index ended, or its lowest plane; what stood before is not of this program's doing. */
function farthest(job: Job, { at, stock }: IndexRecord): Mm {
  const flat = standingAt(job, at);
  const before = new Set(flat === 'none' ? [] : flat.floors);
  const own = stock.floors.filter((floor, i) => i === stock.floors.length - 1 || !before.has(floor));
  return mm(own.reduce((least, { reach }) => Math.min(least, reach), Number.POSITIVE_INFINITY));
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

export const orderKey = ({ flat }: MeasuredFlat): number => (flat === 'not ordered' ? 0 : flat);

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
    return [edge.from, edge.to].every((v) => u >= coveredFrom(centre, mm(0), v, job.wheel));
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

/** The least-squares shift of the flats' errors, where they can show it. */
function offAxis({ punch }: Job, flats: readonly MeasuredFlat[]): Mm | 'none' {
  const known = flats.filter(({ ordered }) => ordered !== 'none');
  if (known.length < punch.section.length) return 'none';
  const rows = shiftRows(known);
  if ([...rows.y, ...rows.z].every((value) => value === 0)) return 'none';
  const along = (row: readonly number[]): number =>
    known.reduce(
      (sum, { distance, ordered }, i) =>
        sum + (distance - (ordered === 'none' ? 0 : ordered)) * (row[i] ?? 0),
      0,
    );
  return mm(Math.hypot(along(rows.y), along(rows.z)));
}

/** Of the floors that reach farther than the lowest, as many as tell where the shoulder runs. */
function spread(floors: readonly Floor[]): readonly Floor[] {
  const lowest = floors.at(-1);
  let last = Number.NEGATIVE_INFINITY;
  return floors.filter(({ reach }) => {
    const counts =
      lowest !== undefined && reach < lowest.reach - SHOULDER_STEP && reach > last + SHOULDER_STEP;
    if (counts) last = reach;
    return counts;
  });
}

/** Strokes that end within this of each other take the same metal, mm. */
const SHOULDER_STEP = 0.02;

/** What had gone before the first stroke is not of this program's doing. */
const removedBefore = (job: Job): Mm3 =>
  job.standing.length === 0 ? mm3(0) : measure({ ...job, standing: [] }, standingRecords(job)).removed;

/** The cuts whose volume is what has gone of the blank. */
function cutPunch(
  job: Job,
  ground: readonly IndexRecord[],
  flats: readonly MeasuredFlat[],
): CutPunch | 'nothing' {
  if (ground.length === 0) return 'nothing';
  const slope = job.punch.relief;
  const cutOf = (at: Rad, { reach, w }: Floor): Cut => ({
    at,
    distance: distanceFromHeight(mm(w), slope),
    centreEnd: mm(reach + job.wheel.radius),
  });
  const end = Math.max(
    ...ground.map(({ stock }) => {
      const reach = Math.min(...stock.floors.map((floor) => floor.reach));
      const lowest = stock.floors.at(-1)?.w ?? mm(0);
      const runsOut = runOutBehind(job.wheel.periphery, stock.support, mm(reach), lowest, slope);
      return (stock.support * Math.sin(slope) - reach + runsOut) / Math.cos(slope);
    }),
  );
  return {
    blank: job.blank,
    flats: ground.flatMap(({ at, stock }) => stock.floors.slice(-1).map((floor) => cutOf(at, floor))),
    farther: ground.flatMap(({ at, stock }) => spread(stock.floors).map((floor) => cutOf(at, floor))),
    wheelRadius: job.wheel.radius,
    periphery: job.wheel.periphery,
    slope,
    full: mm(Math.max(0, Math.min(...flats.map(({ lengthAtCorners }) => lengthAtCorners)))),
    end: mm(end),
  };
}
