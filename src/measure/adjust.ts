/**
 * From readings to what is to be done: what each reading is when cold, how much it is over, where every flat stands, what
 * to type at a touch, by how much the offset is wrong, how much the rim has really worn, the relief that was really ground,
 * and how the punch stands for a program that finishes it.
 *   cold    M (1 - alpha dT)
 *   over    (M cold - M wanted) / share, share how far the reading moves with all flats: 2 across a pair
 *   relief  atan((M front - M behind) / (share d))
 *   stack   bar (sin t - sin relief)
 *   centre  (2 / n) sum over the flats of (d - mean) in their directions; a micrometer across a pair is blind to it
 * Source: section/outline for readings, the rest plane geometry; expansion by shared/grinding.yaml.
 */
import { aimedSection } from '../job/aim.js';
import { type Job, lastDigit } from '../job/job.js';
import { flatStanding, planeOf, type Standing, standingAt } from '../job/standing.js';
import { groundTouch, type Shown, type Typed } from '../plan/hands.js';
import type { Plan } from '../plan/plan.js';
import { type Mm, mm, type Rad, rad } from '../quantity/unit.js';
import { atDepth, normal, type Section } from '../section/flat.js';
import { acrossFlat, readingShare } from '../section/outline.js';
import { measuredTo } from '../section/polygon.js';
import { depthOf, flatHeight } from '../wheel/frame.js';
import { flatsOver, type Row, WORN_OTHERWISE } from './fit.js';
import { type Across, ReadingError, type Readings } from './reading.js';

/** How far the punch is: roughed with the finish allowance on it, or finished. */
export type Stage = 'roughed' | 'finished';

export interface PairRow {
  readonly flat: number;
  readonly facing: number | 'corner' | 'round';
  readonly depth: Mm;
  readonly read: Mm;
  readonly cold: Mm;
  readonly wanted: Mm;
  /** Of each flat. */
  readonly over: Mm;
  /** Far from what the others say: a burr, heat, a block not seated, an index missed. */
  readonly odd: boolean;
}

export interface FlatRow {
  readonly number: number;
  readonly distance: Mm;
  /** To come off until it is finished; below 0 where it is gone already. */
  readonly left: Mm;
  /** Under the least its tolerance allows. */
  readonly small: boolean;
  /** A reading spoke of it; else it is taken to stand like the others. */
  readonly read: boolean;
  /** Where to touch it, and what the display is to read there. */
  readonly stand: Shown;
  readonly type: Typed;
}

export interface Adjustment {
  readonly stage: Stage;
  readonly pairs: readonly PairRow[];
  readonly flats: readonly FlatRow[];
  /** How much higher than the program thinks the rim ran, on the mean, as the infeed axis counts it. */
  readonly raised: Typed;
  /** Relief really ground, and how the gauge blocks are to be changed; `unknown` without readings at two depths. */
  readonly relief: { readonly angle: Rad; readonly stack: Mm | 'none' } | 'unknown';
  /** Section off the tool axis; `blind` where readings cannot tell. */
  readonly centre: { readonly by: Mm; readonly toward: Rad } | 'blind';
  /** Grinding ratio that the drift over the flats means; `none` where the drift is smaller than readings tell. */
  readonly ratio: number | 'none';
  readonly standing: Standing;
}

/** Readings nearer than this to the front are at the front. */
const FRONT: Mm = mm(0.01);
/** A reading this far from the middle of all is odd; common practice, no source. */
const ODD: Mm = mm(0.015);
/** Nothing in a machine is read this far off: a slip of the pen, or of the unit. */
const FAR: Mm = mm(0.6);
/** Two readings of one place agree within this. */
const TWICE: Mm = mm(0.03);

/** @throws ReadingError for readings that cannot be. */
export function adjust(
  plan: Plan,
  readings: Readings,
  stage: Stage | 'by the readings' = 'by the readings',
): Adjustment {
  const { job } = plan;
  if (readings.across.length === 0)
    throw new ReadingError('no reading across a flat; give one, such as 1-4=5.113');
  const sections = { roughed: roughedSection(job), finished: aimedSection(job) };
  const chosen = stage === 'by the readings' ? stageOf(job, readings, sections) : stage;
  const section = sections[chosen];
  refuse(job, readings, section);
  const slope = job.punch.relief;
  const pairs = pairRows(plan, chosen, readings, section);
  const overs = flatsOver(
    section.map((_, i) => mm(lossOf(plan, chosen, i + 1, 'round'))),
    pairs.map((pair): Row => rowOf(job, section, pair)),
    readings.heights.map(({ flat, read }) => ({
      flat,
      over: mm(read - ((section[flat - 1]?.distance ?? 0) - (section[0]?.distance ?? 0))),
      spread: job.spreads.reading,
    })),
  );
  const flats = section.map(({ distance }, i): FlatRow => {
    const stands = mm(distance + (overs[i] ?? 0));
    const ordered = job.punch.section[i]?.distance ?? distance;
    return {
      number: i + 1,
      distance: stands,
      left: mm(stands - (sections.finished[i]?.distance ?? 0)),
      read: isRead(readings, pairs, i + 1),
      small: stands < ordered - job.punch.tolerance.minus / 2 - job.spreads.reading / 2,
      ...groundTouch(job, plan.touchOff, stands),
    };
  });
  const mean = overs.reduce<number>((sum, over) => sum + over, 0) / overs.length;
  const touch = groundTouch(job, plan.touchOff, section[0]?.distance ?? mm(0));
  return {
    stage: chosen,
    pairs,
    flats,
    raised: { ...touch.type, reads: mm(mean * Math.cos(slope) * touch.type.perFeeler) },
    relief: reliefOf(job, pairs),
    centre: centreOf(section, overs, readings),
    ratio: ratioOf(plan, chosen, pairs),
    standing: standingOf(job, plan, flats),
  };
}

const isRead = ({ heights }: Readings, pairs: readonly PairRow[], flat: number): boolean =>
  heights.some((height) => height.flat === flat) ||
  pairs.some((pair) => pair.flat === flat || pair.facing === flat);

/** So many times the finish allowance are still finished, by finish infeeds alone; more is roughed first. */
const FINISHED_ALONE = 3;

/** The job for what is left: from the flats as read, and with finish infeeds alone where no more than that is left. */
export function restJob(job: Job, { flats, standing }: Pick<Adjustment, 'flats' | 'standing'>): Job {
  const { finishAllowance } = job.grinding;
  const left = Math.max(...flats.map((flat) => flat.left)) * Math.cos(job.punch.relief);
  // A digit over, since heights are written in whole ones.
  const allowance =
    left <= FINISHED_ALONE * finishAllowance
      ? Math.max(finishAllowance, left + lastDigit(job))
      : finishAllowance;
  return { ...job, standing, grinding: { ...job.grinding, finishAllowance: mm(allowance) } };
}

const roughedSection = (job: Job): Section =>
  aimedSection(job).map(({ at, distance }) => ({
    at,
    distance: mm(distance + job.grinding.finishAllowance / Math.cos(job.punch.relief)),
  }));

const coldOf = (job: Job, { warm }: Readings, read: Mm): Mm => mm(read * (1 - job.figures.expansion * warm));

/** Which of the two the readings lie nearer to. */
function stageOf(job: Job, readings: Readings, sections: Readonly<Record<Stage, Section>>): Stage {
  const off = (section: Section): number =>
    readings.across.reduce(
      (sum, each) => sum + Math.abs(coldOf(job, readings, each.read) - wantedOf(job, section, each)),
      0,
    );
  return off(sections.roughed) < off(sections.finished) ? 'roughed' : 'finished';
}

const wantedOf = (job: Job, section: Section, { flat, depth }: Pick<Across, 'flat' | 'depth'>): Mm =>
  acrossFlat(atDepth(section, depth, job.punch.relief), job.blank, flat - 1);

function refuse(job: Job, readings: Readings, section: Section): void {
  const places = new Map<string, Mm>();
  for (const { flat } of readings.heights)
    if (section[flat - 1] === undefined)
      throw new ReadingError(`there is no flat ${flat}; the section has ${section.length}`);
  for (const { flat, depth, read } of readings.across) {
    if (section[flat - 1] === undefined)
      throw new ReadingError(`there is no flat ${flat}; the section has ${section.length}`);
    if (depth > job.punch.flatLength)
      throw new ReadingError(
        `flat ${flat} is read ${depth} mm behind the face, and the flats are ${job.punch.flatLength} mm long`,
      );
    const wanted = wantedOf(job, section, { flat, depth });
    const near = (value: number): boolean => Math.abs(value - wanted) < FAR;
    if (!near(read)) {
      const unit = near(read * 25.4)
        ? '; is it in inches?'
        : near(read / 25.4)
          ? '; is it in mm?'
          : near(-read)
            ? '; without the sign?'
            : '';
      throw new ReadingError(
        `${read} over flat ${flat} cannot be, ${wanted.toFixed(3)} mm was to be expected${unit === '' ? '; read it again' : unit}`,
      );
    }
    const facing = measuredTo(section, flat - 1);
    const key = `${[flat, typeof facing === 'number' ? facing + 1 : flat].toSorted((a, b) => a - b).join()} ${depth}`;
    const before = places.get(key);
    if (before !== undefined && Math.abs(before - read) > TWICE)
      throw new ReadingError(`flat ${flat} is read twice at one place, ${before} and ${read}; read it again`);
    places.set(key, read);
  }
}

function pairRows(plan: Plan, stage: Stage, readings: Readings, section: Section): readonly PairRow[] {
  const { job } = plan;
  const rows = readings.across.map(({ flat, depth, read }) => {
    const cold = coldOf(job, readings, read);
    const wanted = wantedOf(job, section, { flat, depth });
    const share = readingShare(section, job.blank, flat - 1);
    const found = measuredTo(section, flat - 1);
    const facing = typeof found === 'number' ? found + 1 : found;
    return { flat, facing, depth, read, cold, wanted, over: mm((cold - wanted) / share) };
  });
  const front = rows.filter(({ depth }) => depth <= FRONT);
  const middle = median(front.map(({ over }) => over));
  const losses = front.map(({ flat, facing }) => lossOf(plan, stage, flat, facing));
  // The wheel may wear some times faster than thought, and that is no fault of a reading.
  const drift = WORN_OTHERWISE * (Math.max(...losses) - Math.min(...losses));
  return rows.map((row) => ({
    ...row,
    odd: front.length > 2 && row.depth <= FRONT && Math.abs(row.over - middle) > ODD + drift,
  }));
}

/** Predicted loss of the rim when a flat, or a pair on the mean, was ground. */
function lossOf({ wear }: Plan, stage: Stage, flat: number, facing: PairRow['facing']): number {
  const list = stage === 'roughed' && wear.atStop.length > 0 ? wear.atStop : wear.perFlat;
  const of = (number: number): number => list.find((each) => each.flat === number)?.loss.taken ?? 0;
  return typeof facing === 'number' ? (of(flat) + of(facing)) / 2 : of(flat);
}

function median(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1 ? (sorted[half] ?? 0) : ((sorted[half - 1] ?? 0) + (sorted[half] ?? 0)) / 2;
}

/** A step of the distances for their derivative, mm. */
const STEP = 1e-4;
/** A reading behind the face hangs on the slope too, and counts for little beside one at the front. */
const BEHIND = 20;

function rowOf(job: Job, section: Section, { flat, depth, cold, wanted }: PairRow): Row {
  const there = atDepth(section, depth, job.punch.relief);
  const moves = there.map((_, i) => {
    const by = (step: number): number =>
      acrossFlat(
        there.map((each, k) => (k === i ? { ...each, distance: mm(each.distance + step) } : each)),
        job.blank,
        flat - 1,
      );
    return (by(STEP) - by(-STEP)) / (2 * STEP);
  });
  const spread = mm(job.spreads.reading * (depth <= FRONT ? 1 : BEHIND));
  return { moves, over: mm(cold - wanted), spread };
}

function reliefOf(job: Job, pairs: readonly PairRow[]): Adjustment['relief'] {
  const angles = pairs.flatMap(({ flat, depth, cold }) => {
    const front = pairs.find((other) => other.flat === flat && other.depth <= FRONT);
    if (depth <= FRONT || front === undefined) return [];
    const share = readingShare(job.punch.section, job.blank, flat - 1);
    return [Math.atan((front.cold - cold) / (share * depth))];
  });
  if (angles.length === 0) return 'unknown';
  const angle = rad(angles.reduce((sum, each) => sum + each, 0) / angles.length);
  const { sineBar } = job.holding.slope;
  const stack = sineBar === undefined ? 'none' : mm(sineBar * (Math.sin(job.punch.relief) - Math.sin(angle)));
  return { angle, stack };
}

/** Only an indicator tells the flats of a pair apart; it must have been on all of them. */
function centreOf(section: Section, overs: readonly Mm[], { heights }: Readings): Adjustment['centre'] {
  if (section.some((_, i) => !heights.some(({ flat }) => flat === i + 1)) || section.length < 3)
    return 'blind';
  const mean = overs.reduce<number>((sum, over) => sum + over, 0) / overs.length;
  let [y, z] = [0, 0];
  section.forEach(({ at }, i) => {
    const out = normal(at);
    y += (2 / section.length) * ((overs[i] ?? 0) - mean) * out.y;
    z += (2 / section.length) * ((overs[i] ?? 0) - mean) * out.z;
  });
  // A direction at has the normal (-sin at, cos at).
  return { by: mm(Math.hypot(y, z)), toward: rad(Math.atan2(-y, z)) };
}

/** The drift over the flats as they were ground, against the one predicted: over = c + k (predicted loss). */
function ratioOf(plan: Plan, stage: Stage, pairs: readonly PairRow[]): number | 'none' {
  const { job } = plan;
  const points = pairs
    .filter(({ depth, odd }) => depth <= FRONT && !odd)
    .map(({ flat, facing, over }) => [lossOf(plan, stage, flat, facing), over as number] as const);
  const [mx, my] = [0, 1].map((k) => points.reduce((sum, point) => sum + (point[k] ?? 0), 0) / points.length);
  const spread = points.reduce((sum, [x]) => sum + (x - (mx ?? 0)) ** 2, 0);
  // What a micrometer cannot tell is not told.
  if (points.length < 3 || Math.sqrt(spread) < 2 * job.spreads.reading) return 'none';
  const slope = points.reduce((sum, [x, y]) => sum + (x - (mx ?? 0)) * (y - (my ?? 0)), 0) / spread;
  const times = job.grinding.wear === 'compensate' ? 1 + slope : slope;
  return times > 0 ? job.figures.ratio.taken / times : 'none';
}

/** Flats as read: as long as the strokes have made them, higher by no more than a reading is unsure. */
function standingOf(job: Job, plan: Plan, flats: readonly FlatRow[]): Standing {
  const higher = mm(job.spreads.reading + job.spreads.touchFlat);
  return flats.flatMap(({ number, distance }) => {
    const flat = plan.flats.find((each) => each.number === number);
    if (flat === undefined) return [];
    const before = standingAt(job, flat.at);
    const w = flatHeight(distance, job.punch.relief);
    const reach = before === 'none' ? flat.reach : Math.min(flat.reach, planeOf(before).reach);
    return [
      flatStanding(
        { at: flat.at, distance },
        depthOf(mm(reach), w, job.punch.relief),
        job.punch.relief,
        higher,
      ),
    ];
  });
}
