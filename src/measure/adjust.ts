/**
 * From readings to what is to be done: what each reading is when cold, how much it is over, where every flat stands, what
 * to type at a touch, by how much the offset is wrong, how much the rim has really worn, the relief that was really ground,
 * and how the punch stands for a program that finishes it.
 *   cold    M (1 - alpha dT)
 *   over    (M cold - M wanted) / share, share how far the reading moves with all flats: 2 across a pair
 *   relief  atan((M front - M behind) / (share d))
 *   stack   bar (sin t - sin relief)
 *   centre  over = mean + share of the wear + offset along each flat's direction, by least squares; a micrometer across a
 *           pair is blind to it
 * Source: section/outline for readings, the rest plane geometry; expansion by shared/grinding.yaml.
 */
import type { Job } from '../job/job.js';
import { distanceOf, farthestOf, flatStanding, type Standing, standingAt } from '../job/standing.js';
import { groundTouch, type Shown, type Typed } from '../plan/hands.js';
import type { Plan } from '../plan/plan.js';
import { isGround, type Stage, sectionAt, shareOf } from '../plan/stage.js';
import { planTouchOff } from '../plan/touch-off.js';
import { degFromRad, radFromDeg } from '../quantity/angle.js';
import { trimmed } from '../quantity/decimal.js';
import { fromMm, toMm } from '../quantity/length.js';
import { sayIn } from '../quantity/say.js';
import { type Mm, mm, type Rad, rad } from '../quantity/unit.js';
import { atDepth, type Flat, normal, type Section } from '../section/flat.js';
import { readingShare } from '../section/outline.js';
import { measuredTo } from '../section/polygon.js';
import { depthOf, flatHeight } from '../wheel/frame.js';
import { flatsOver, leastSquares, type Row, WORN_OTHERWISE } from './fit.js';
import { shows, touchesAt } from './instrument.js';
import type { Across, Readings } from './reading.js';
import { ReadingError } from './reading-error.js';

export interface PairRow {
  readonly flat: number;
  readonly facing: number | 'corner' | 'round' | 'V';
  readonly depth: Mm;
  readonly read: Mm;
  readonly cold: Mm;
  readonly wanted: Mm;
  /** Of each flat. */
  readonly over: Mm;
  /** Far from what the others say: a burr, heat, a block not seated, an index missed. Read twice alike, it is so. */
  readonly odd: 'no' | 'once' | 'twice';
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

export interface Relief {
  readonly angle: Rad;
  /** It is so within this, for what a reading is unsure. */
  readonly within: Rad;
  /** For the next punch: the stack under the sine bar higher by this. */
  readonly stack: Mm | 'none';
  /** How much higher or lower than the program thinks the flats stand where they end. */
  readonly behind: Mm;
}

export interface Adjustment {
  readonly stage: Stage;
  readonly pairs: readonly PairRow[];
  readonly flats: readonly FlatRow[];
  /** Finished, and every reading within its limits. */
  readonly inTolerance: boolean;
  /** How much higher than the program thinks the rim ran, on the mean, as the infeed axis counts it. */
  readonly raised: Typed;
  /** Relief really ground, and how the gauge blocks are to be changed; `unknown` without readings at two depths. */
  readonly relief: Relief | 'unknown';
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
/** A flat stands no farther from where it should be than this and what the wheel may have worn otherwise. */
const FAR: Mm = mm(0.12);
/** A slope further off than this is a misreading, and no slope; common practice, no source. */
const WRONG_RELIEF: Rad = radFromDeg(1);
/** Two readings of one place further apart than this contradict each other. */
const APART: Mm = mm(0.03);
/** Two readings of one place agree within this. */
const TWICE: Mm = mm(0.01);
/** One turn of a thimble, and of an inch one. */
const TURNS: readonly number[] = [0.5, 0.635];
/** Between these shares of the finish allowance a punch may be either: roughed too deep, or not finished. */
const BETWEEN = [0.15, 0.85] as const;

/** @throws ReadingError for readings that cannot be, or that may be of either stage. */
export function adjust(
  plan: Plan,
  given: Readings,
  stage: Stage | 'by the readings' = 'by the readings',
): Adjustment {
  const { job } = plan;
  const readings = { ...given, across: given.across.map((each) => asTouched(job, given, each)) };
  if (readings.across.length === 0)
    throw new ReadingError('no reading across a flat; give one, such as 1-4=5.113');
  for (const { flat } of [...readings.across, ...readings.heights])
    if (job.punch.section[flat - 1] === undefined)
      throw new ReadingError(`there is no flat ${flat}; the section has ${job.punch.section.length}`);
  const sections = { roughed: sectionAt(job, 'roughed'), finished: sectionAt(job, 'finished') };
  const guessed = stage === 'by the readings' ? stageOf(job, readings, sections) : stage;
  const section = sections[guessed === 'either' ? 'roughed' : guessed];
  refuse(plan, readings, section, guessed);
  refuseHeights(plan, readings, section, guessed);
  if (guessed === 'either')
    throw new ReadingError(
      'the readings lie between roughed and finished: roughed too deep, or not finished? Say --stage roughed or --stage finished',
    );
  const pairs = pairRows(plan, guessed, readings, section);
  const doneBefore = section.map((flat, i) => isDone(job, flat, sections[guessed][i]?.distance ?? 0));
  const odd = new Set(pairs.flatMap((pair) => (pair.odd === 'no' ? [] : [pair.flat, Number(pair.facing)])));
  const overs = flatsOver(
    section.map((_, i) => {
      if (doneBefore[i] === true) return 'done before';
      return odd.has(i + 1) ? 'apart' : mm(lossOf(plan, guessed, i + 1, 'round'));
    }),
    pairs.filter(({ odd }) => odd !== 'once').map((pair): Row => rowOf(job, readings, section, pair)),
    readings.heights.map(({ flat, read }) => ({
      flat,
      over: mm(read - ((section[flat - 1]?.distance ?? 0) - (section[0]?.distance ?? 0))),
      spread: job.spreads.reading,
    })),
  );
  const distances = section.map(({ at, distance }, i) => ({ at, distance: mm(distance + (overs[i] ?? 0)) }));
  const standing = standingOf(job, plan, distances);
  // Touched where the sheet of what is left says.
  const touchOff = planTouchOff({ ...job, standing });
  const flats = distances.map(({ at, distance }, i): FlatRow => {
    const ordered = job.punch.section[i]?.distance ?? distance;
    return {
      number: i + 1,
      distance,
      left: mm(distance - (sections.finished[i]?.distance ?? 0)),
      read: isRead(readings, pairs, i + 1),
      small: distance < ordered - job.punch.tolerance.minus / 2 - job.spreads.reading / 2,
      ...groundTouch(job, touchOff, { at, distance }),
    };
  });
  // What was done before says nothing of the rim as it stands now, nor does what is far from the others.
  const telling = overs.filter((_, i) => doneBefore[i] !== true && !odd.has(i + 1));
  const mean = telling.reduce<number>((sum, over) => sum + over, 0) / Math.max(1, telling.length);
  const { type } = groundTouch(job, touchOff, distances[0] ?? { at: rad(0), distance: mm(0) });
  return {
    stage: guessed,
    pairs,
    flats,
    inTolerance: guessed === 'finished' && isIn(plan, readings, pairs),
    raised: { ...type, reads: mm(mean * Math.cos(job.punch.relief) * type.perFeeler) },
    relief: reliefOf(job, readings, pairs),
    centre: centreOf(
      section,
      overs,
      section.map((_, i) => lossOf(plan, guessed, i + 1, 'round')),
      readings,
    ),
    ratio: ratioOf(plan, guessed, pairs),
    standing,
  };
}

/** A flat that stood there, as low, before the work. */
const isDone = (job: Job, { at }: Flat, distance: number): boolean => {
  const stands = standingAt(job, at);
  return stands !== 'none' && distanceOf(stands, job.punch.relief) <= distance + TWICE;
};

/** Every flat read at the front, and every reading there within the limits of its size. */
function isIn({ job, readings }: Plan, { instrument }: Readings, pairs: readonly PairRow[]): boolean {
  const { section, tolerance } = job.punch;
  const front = pairs.filter(({ depth }) => depth <= FRONT);
  const all = readings.every(({ flat }) => front.some((pair) => pair.flat === flat || pair.facing === flat));
  return (
    all &&
    front.every(({ flat, cold }) => {
      // A V shows twice a distance, and so its limits.
      const twice = 2 * (section[flat - 1]?.distance ?? 0);
      const limits =
        instrument.kind === 'V-anvil'
          ? { least: twice - tolerance.minus, most: twice + tolerance.plus }
          : readings.find((each) => each.flat === flat);
      return limits === undefined || (cold >= limits.least && cold <= limits.most);
    })
  );
}

const isRead = ({ heights }: Readings, pairs: readonly PairRow[], flat: number): boolean =>
  heights.some((height) => height.flat === flat) ||
  pairs.some((pair) => pair.flat === flat || pair.facing === flat);

const coldOf = (job: Job, { warm }: Readings, read: Mm): Mm => mm(read * (1 - job.figures.expansion * warm));

/** Which of the two the readings are of; `either` where they lie between. */
function stageOf(
  job: Job,
  readings: Readings,
  { roughed, finished }: Readonly<Record<Stage, Section>>,
): Stage | 'either' {
  const shares = readings.across.map((each) => {
    const [high, low] = [wantedOf(job, readings, roughed, each), wantedOf(job, readings, finished, each)];
    return high - low < TWICE ? 0 : (coldOf(job, readings, each.read) - low) / (high - low);
  });
  const middle = median(shares);
  if (middle > BETWEEN[0] && middle < BETWEEN[1]) return 'either';
  return middle >= BETWEEN[1] ? 'roughed' : 'finished';
}

const wantedOf = (
  job: Job,
  { instrument }: Readings,
  section: Section,
  { flat, depth }: Pick<Across, 'flat' | 'depth'>,
): Mm => shows(job, instrument, atDepth(section, depth, job.punch.relief), flat - 1);

/** How far a reading moves for each mm that the flats still to be ground move out. */
function movesBy(job: Job, { instrument }: Readings, section: Section, flat: number): number {
  if (instrument.kind !== 'V-anvil')
    return shareOf(job, flat - 1) || readingShare(section, job.blank, flat - 1);
  const moved = section.map((each) => ({
    ...each,
    distance: mm(each.distance + (isGround(job, each) ? STEP : 0)),
  }));
  const share = (shows(job, instrument, moved, flat - 1) - shows(job, instrument, section, flat - 1)) / STEP;
  return share > STEP ? share : 2;
}

function refuse(plan: Plan, readings: Readings, section: Section, stage: Stage | 'either'): void {
  const { job } = plan;
  const say = sayIn(job.units);
  const drift = driftOf(plan, stage === 'finished' ? 'finished' : 'roughed', readings.across);
  for (const { flat, depth, read } of readings.across) {
    const other = readings.across.find(
      (each) => each.flat === flat && each.depth === depth && Math.abs(each.read - read) > APART,
    );
    if (other !== undefined)
      throw new ReadingError(
        `flat ${flat} is read twice at one place, ${say.length(read)} and ${say.length(other.read)}; read it again`,
      );
    if (depth < 0 || depth > job.punch.flatLength)
      throw new ReadingError(
        `flat ${flat} is read ${say.length(depth)} behind the face, and the flats are ${say.length(job.punch.flatLength)} long`,
      );
    const wanted = wantedOf(job, readings, section, { flat, depth });
    const far = movesBy(job, readings, section, flat) * (FAR + drift) + (stage === 'either' ? FAR : 0);
    const near = (value: number): boolean => Math.abs(value - wanted) < far;
    if (near(read)) continue;
    const front = wantedOf(job, readings, section, { flat, depth: mm(0) });
    const turn = TURNS.find((by) => near(read - by) || near(read + by));
    const why = near(toMm(read, 'inch'))
      ? 'is it in inches?'
      : near(fromMm(read, 'inch'))
        ? 'is it in mm?'
        : near(-read)
          ? 'without the sign?'
          : depth > FRONT && Math.abs(read - front) < far
            ? 'was it read at the face?'
            : turn !== undefined
              ? `is it ${say.length(mm(turn))} off, one turn of the thimble?`
              : 'read it again';
    throw new ReadingError(
      `${say.length(read)} over flat ${flat} cannot be, ${say.length(wanted)} was to be expected; ${why}`,
    );
  }
}

/** Where the anvils touch. A pair is named by its first flat, whichever way it was written. */
function asTouched(job: Job, { instrument }: Readings, given: Across): Across {
  const reading = { ...given, depth: touchesAt(job, instrument, given.depth) };
  const facing = measuredTo(job.punch.section, reading.flat - 1);
  const byFirst = instrument.kind !== 'V-anvil' && typeof facing === 'number' && facing + 1 < reading.flat;
  return byFirst ? { ...reading, flat: facing + 1 } : reading;
}

/** An indicator's zero is anybody's guess: it must have stood on a flat that a micrometer read, and its readings agree. */
function refuseHeights(
  plan: Plan,
  { across, heights }: Readings,
  section: Section,
  stage: Stage | 'either',
): void {
  if (heights.length === 0) return;
  const { job } = plan;
  const say = sayIn(job.units);
  const isTied = heights.some(({ flat }) =>
    across.some((each) => each.flat === flat || measuredTo(job.punch.section, each.flat - 1) === flat - 1),
  );
  if (!isTied)
    throw new ReadingError(
      `the indicator stood on no flat that the micrometer read; put it on flat ${across[0]?.flat ?? 1} too`,
    );
  const over = heights.map(({ flat, read }) => read - (section[flat - 1]?.distance ?? 0));
  const middle = median(over);
  const most = 2 * FAR + driftOf(plan, stage === 'finished' ? 'finished' : 'roughed', heights);
  heights.forEach(({ flat, read }, i) => {
    if (Math.abs((over[i] ?? 0) - middle) > most)
      throw new ReadingError(
        `the indicator reads ${say.length(read)} on flat ${flat}, far from the others; is it in ${job.units}?`,
      );
    if (heights.some((other) => other.flat === flat && Math.abs(other.read - read) > TWICE))
      throw new ReadingError(`the indicator reads flat ${flat} twice, and not alike; read it again`);
  });
}

/** How far flats may stand apart for a wheel that wears some times faster than thought. */
function driftOf(plan: Plan, stage: Stage, read: readonly { readonly flat: number }[]): number {
  const losses = read.map(({ flat }) => lossOf(plan, stage, flat, 'round'));
  return WORN_OTHERWISE * (Math.max(...losses) - Math.min(...losses, 0));
}

function pairRows(plan: Plan, stage: Stage, readings: Readings, section: Section): readonly PairRow[] {
  const { job } = plan;
  const rows = readings.across.map(({ flat, depth, read }) => {
    const cold = coldOf(job, readings, read);
    const wanted = wantedOf(job, readings, section, { flat, depth });
    const share = movesBy(job, readings, section, flat);
    const found = readings.instrument.kind === 'V-anvil' ? ('V' as const) : measuredTo(section, flat - 1);
    const facing = typeof found === 'number' ? found + 1 : found;
    return { flat, facing, depth, read, cold, wanted, over: mm((cold - wanted) / share) };
  });
  const front = rows.filter(({ depth }) => depth <= FRONT);
  // A pair read twice counts once.
  const each = front.filter((row, i) => front.findIndex((other) => other.flat === row.flat) === i);
  const middle = median(each.map(({ over }) => over));
  const losses = front.map(({ flat, facing }) => lossOf(plan, stage, flat, facing));
  // The wheel may wear some times faster than thought, and that is no fault of a reading.
  const drift = WORN_OTHERWISE * (Math.max(...losses) - Math.min(...losses));
  return rows.map((row): PairRow => {
    const far = each.length > 2 && row.depth <= FRONT && Math.abs(row.over - middle) > ODD + drift;
    const again = front.filter(
      (other) => other.flat === row.flat && Math.abs(other.read - row.read) <= TWICE,
    );
    return { ...row, odd: far ? (again.length > 1 ? 'twice' : 'once') : 'no' };
  });
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

function rowOf(
  job: Job,
  { instrument }: Readings,
  section: Section,
  { flat, depth, cold, wanted }: PairRow,
): Row {
  const there = atDepth(section, depth, job.punch.relief);
  const moves = there.map((_, i) => {
    const by = (step: number): number =>
      shows(
        job,
        instrument,
        there.map((each, k) => (k === i ? { ...each, distance: mm(each.distance + step) } : each)),
        flat - 1,
      );
    return (by(STEP) - by(-STEP)) / (2 * STEP);
  });
  const spread = mm(job.spreads.reading * (depth <= FRONT ? 1 : BEHIND));
  return { moves, over: mm(cold - wanted), spread };
}

function reliefOf(job: Job, readings: Readings, pairs: readonly PairRow[]): Relief | 'unknown' {
  const { relief, flatLength } = job.punch;
  const found = pairs.flatMap(({ flat, depth, cold }) => {
    const front = pairs.find((other) => other.flat === flat && other.depth <= FRONT);
    if (depth <= FRONT || front === undefined) return [];
    const share =
      readings.instrument.kind === 'V-anvil' ? 2 : readingShare(job.punch.section, job.blank, flat - 1);
    const angle = Math.atan((front.cold - cold) / (share * depth));
    return [{ angle, within: (Math.SQRT2 * job.spreads.reading) / (share * depth) }];
  });
  if (found.length === 0) return 'unknown';
  const mean = (of: (each: (typeof found)[number]) => number): number =>
    found.reduce((sum, each) => sum + of(each), 0) / found.length;
  const angle = rad(mean((each) => each.angle));
  if (Math.abs(angle - relief) > WRONG_RELIEF)
    throw new ReadingError(
      `a relief of ${trimmed(degFromRad(angle), 2)} deg cannot be, ${trimmed(degFromRad(relief), 2)} deg was set; the anvil counts from its edge nearest the face, and must clear the shoulder`,
    );
  const { sineBar } = job.holding.slope;
  const stack = sineBar === undefined ? 'none' : mm(sineBar * (Math.sin(relief) - Math.sin(angle)));
  const behind = mm(Math.abs(flatLength * (Math.tan(relief) - Math.tan(angle))));
  return { angle, within: rad(mean((each) => each.within)), stack, behind };
}

/** Only an indicator tells the flats of a pair apart; it must have been on all of them. */
function centreOf(
  section: Section,
  overs: readonly Mm[],
  losses: readonly number[],
  { heights }: Readings,
): Adjustment['centre'] {
  if (section.length < 3 || section.some((_, i) => !heights.some(({ flat }) => flat === i + 1)))
    return 'blind';
  // over = mean + share of the wear + the offset along the flat's direction, which is (-sin at, cos at).
  const [, , y = 0, z = 0] = leastSquares([
    ...section.map(({ at }, i) => {
      const out = normal(at);
      return { of: [1, losses[i] ?? 0, out.y, out.z], is: overs[i] ?? 0, spread: 0.001 };
    }),
    { of: [0, 1, 0, 0], is: 0, spread: WORN_OTHERWISE },
    ...[2, 3].map((k) => ({ of: [0, 1, 2, 3].map((i) => (i === k ? 1 : 0)), is: 0, spread: 10 })),
  ]);
  return { by: mm(Math.hypot(y, z)), toward: rad(Math.atan2(-y, z)) };
}

/** The drift over the flats as they were ground, against the one predicted: over = c + k (predicted loss). */
function ratioOf(plan: Plan, stage: Stage, pairs: readonly PairRow[]): number | 'none' {
  const { job } = plan;
  const points = pairs
    .filter(({ depth, odd }) => depth <= FRONT && odd === 'no')
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
function standingOf(job: Job, plan: Plan, section: Section): Standing {
  const higher = mm(job.spreads.reading + job.spreads.touchFlat);
  return section.flatMap(({ distance }, i) => {
    const flat = plan.flats.find((each) => each.number === i + 1);
    if (flat === undefined) return [];
    const before = standingAt(job, flat.at);
    const w = flatHeight(distance, job.punch.relief);
    const reach = before === 'none' ? flat.reach : Math.min(flat.reach, farthestOf(before));
    return [
      flatStanding(
        { at: flat.at, distance, own: job.punch.relief },
        depthOf(mm(reach), w, job.punch.relief),
        job.punch.relief,
        higher,
      ),
    ];
  });
}
