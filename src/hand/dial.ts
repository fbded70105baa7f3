/**
 * The way down to size as hand wheels go it, from a plan. The infeed dial is set to read the height above size:
 *   at the first spark, o behind the tip   D = (w_touch - w_flat) / c
 *   before the first full stroke           B = (stock + what it may stand higher) / c, rounded up to a division,
 * since the blank rises toward the shank and a stroke begun at D would bite B - D at once. c is what a mark of the dial
 * brings the rim nearer, of plan/dials. A stroke ends as far in from where the rim's edge met the front face as
 *   along(face) - along(end),  along = u - w tan t where a swivelled slide strokes and the other one brings in, else u.
 * A collar that lets the punch out by e moves a size by 2 e tan t. Source: geometry of wheel/frame; how a dial's numbers run
 * from the profile.
 */
import { takenBack } from '../job/block.js';
import type { Setting } from '../job/indexing.js';
import { type Job, slopeOf } from '../job/job.js';
import type { Dials } from '../job/machine.js';
import { dialSteps, nearerPerMark } from '../plan/dials.js';
import type { FlatPlan } from '../plan/flat.js';
import { type FlatTouch, facePlace } from '../plan/hands.js';
import { PASS_KINDS, type PassKind } from '../plan/passes.js';
import type { Plan } from '../plan/plan.js';
import { passesIn, type Step, type StopStep } from '../plan/step.js';
import { handsIn } from '../plan/wait.js';
import { type Mm, mm, type Rad, type Seconds, seconds } from '../quantity/unit.js';
import { opposite } from '../section/flat.js';

/** What the infeed dial shows at a height above size, lengths as the dial is marked. */
export interface DialReading {
  /** Height above the size of the flat the dial is set by; below 0 under it. */
  readonly above: Mm;
  /** Whole turns away from size: back from it, or past it where `above` is below 0. */
  readonly turns: number;
  /** What stands at the mark. */
  readonly shows: Mm;
}

/** Passes that go down by one step each. */
export interface DialRow {
  readonly kind: PassKind;
  readonly from: DialReading;
  readonly to: DialReading;
  /** Between one pass and the next; 0 for a single one and for spark-out. */
  readonly step: Mm;
  readonly passes: number;
}

/** Flats that go down alike. */
export interface Ladder {
  readonly flats: readonly number[];
  readonly rows: readonly DialRow[];
}

/** One thing to do, in order. */
export type DialVisit =
  | {
      readonly kind: 'grind';
      readonly flat: FlatPlan;
      readonly setting: Setting;
      readonly does: readonly PassKind[];
      /** Where the dial stands before its first stroke: a whole division over that, or over the raw stock. */
      readonly from: DialReading;
      readonly to: DialReading;
    }
  | { readonly kind: 'stop'; readonly stop: StopStep; readonly up: number };

/** How far a ring is turned for what a flat reads across. */
export interface RingTurn {
  readonly flats: readonly number[];
  readonly ground: Exclude<FlatTouch['ground'], 'as it stands'>;
  /** What it should read across. */
  readonly reading: Mm;
  /** What the dial shows there. */
  readonly at: DialReading;
  /** Marks the ring shows more above size for each mm it reads more. */
  readonly perReading: number;
}

export interface DialPlan {
  readonly plan: Plan;
  /** At the first spark, or at the touch on a flat that stands. */
  readonly touch: DialReading;
  /** Where the dial stands before the first full stroke, rounded up to a division. */
  readonly backOff: DialReading;
  /** What a stroke begun at the touch reading would bite. */
  readonly biteFromTouch: Mm;
  /** From the edge against the front face to where it is touched off, and to the end of the stroke, along the stroke slide. */
  readonly faceToTouch: Mm;
  readonly faceToEnd: Mm;
  /** Out from the face before the wheel is brought in. */
  readonly clearOut: Mm;
  readonly strokeLength: Mm;
  readonly strokeTime: Seconds;
  readonly ladders: readonly Ladder[];
  readonly visits: readonly DialVisit[];
  readonly ringTurns: readonly RingTurn[];
  /** Roughed last before the first stop to measure, and so with the wheel as it is then; empty without one. */
  readonly roughedLast: readonly number[];
  /** The rim beside the front face: what the infeed reads there, and how far it is below the edge. */
  readonly face: { readonly reading: DialReading; readonly below: Mm };
  /** Strokes, infeeds, indexes and waits for the wheel to stand, as a steady hand takes them. */
  readonly expect: Seconds;
  /** The punch may creep this far along its axis for a quarter of the tolerance. */
  readonly collarWithin: Mm;
}

/** Seconds from one stroke to the next for setting the dial; and for bringing a flat up. Common practice, no source. */
const SET_DIAL = 4;
const BRING_UP = 45;
/** Share of the tolerance a collar may use up; common practice, no source. */
const COLLAR_SHARE = 0.25;

/** Why no dials can be set. */
export class DialError extends Error {
  override readonly name = 'DialError';
}

/** @throws DialError on a machine with a control. */
export function dialsOf(job: Job): Dials {
  const { dials } = job.machine;
  if (dials === undefined)
    throw new DialError(
      `${job.machineName} has a control: post its program; for hand wheels name a machine that has dials`,
    );
  return dials;
}

/** Rounding of a length on a dial, mm. */
const NOUGHT = 1e-7;

/** What the infeed dial shows `marks` above size. */
export function readingOf({ infeed: { turn, grows }, readout }: Dials, marks: number): DialReading {
  // A read-out shows the distance itself.
  if (readout !== undefined) return { above: mm(marks), turns: 0, shows: mm(marks) };
  const away = Math.abs(marks);
  const turns = Math.floor((away + NOUGHT) / turn);
  const rest = away - turns * turn;
  const over = rest <= NOUGHT ? 0 : rest;
  // Past 0 the numbers run on the other way.
  const rising = (grows === 'away from the work') === marks >= 0;
  return { above: mm(marks), turns, shows: mm(rising || over === 0 ? over : turn - over) };
}

/** @throws DialError on a machine with a control. */
export function dialPlan(plan: Plan): DialPlan {
  const { job, flats, steps, touchOff } = plan;
  const dials = dialsOf(job);
  const first = flats[0];
  if (first === undefined) throw new RangeError('a plan without flats has no dials to set');
  const t = job.punch.relief;
  const marks = marksOver(job, first);
  const read = (w: number): DialReading => readingOf(dials, marks(w));
  const along = ({ u, w }: { readonly u: Mm; readonly w: Mm }): number =>
    slopeOf(job).by === 'head' ? u - w * Math.tan(t) : u;
  const deepest = flats.toSorted((a, b) => a.reach - b.reach)[0] ?? first;
  const edge = facePlace(job, first.at);
  const face = along(edge);
  const faceToEnd = face - along({ u: deepest.centreEnd, w: deepest.w });
  const clearOut = job.grinding.clearance;
  const strokeLength = faceToEnd + clearOut;
  const strokeTime = (60 * strokeLength) / job.grinding.strokeSpeed;
  const top = Math.max(...flats.map(({ stockTop, higher }) => stockTop + higher));
  const { graduation } = dials.infeed;
  const { plus, minus } = job.punch.tolerance;
  const backOff = readingOf(dials, Math.ceil((marks(top) - NOUGHT) / graduation) * graduation);
  const visits = visitsOf(job, steps, read, backOff);
  return {
    plan,
    touch: read(touchOff.w + touchOff.rise),
    backOff,
    biteFromTouch: mm(Math.max(0, first.stockTop - touchOff.w)),
    faceToTouch: mm(face - along(touchOff)),
    faceToEnd: mm(faceToEnd),
    clearOut,
    strokeLength: mm(strokeLength),
    strokeTime: seconds(strokeTime),
    ladders: laddersOf(plan, dials),
    visits,
    ringTurns: ringTurnsOf(plan, read),
    roughedLast: roughedLast(plan, visits),
    face: { reading: read(edge.w), below: edge.below },
    expect: seconds(
      passesIn(steps).length * (2 * strokeTime + SET_DIAL) +
        visits.length * (BRING_UP + handsIn(job) + job.machine.spindle.spinUp),
    ),
    collarWithin: mm((COLLAR_SHARE * (plus + minus)) / (2 * Math.tan(t))),
  };
}

/** What a block's own error is taken back by, in whole steps of the dial. */
function taken(job: Job, at: Rad): number {
  const steps = dialSteps(job);
  const finest = steps === 'none' ? 0 : steps.finest;
  return finest === 0 ? 0 : Math.round(takenBack(job, at) / finest) * finest;
}

/** Heights of the rim as marks of the dial above the size of the flat it is set by. */
const marksOver =
  (job: Job, { w: size }: FlatPlan) =>
  (w: number): number =>
    (w - size) / nearerPerMark(job);

/** Flats as far down and with as much on them go down alike. */
function laddersOf({ job, flats, steps }: Plan, dials: Dials): readonly Ladder[] {
  const [first] = flats;
  if (first === undefined) return [];
  const marks = marksOver(job, first);
  const passes = passesIn(steps);
  const key = (flat: FlatPlan): string =>
    [flat.w + taken(job, flat.at), flat.stock, flat.higher].map((each) => each.toFixed(6)).join();
  return [...new Set(flats.map(key))].map((wanted) => {
    const alike = flats.filter((flat) => key(flat) === wanted);
    return {
      flats: alike.map(({ number }) => number),
      rows: PASS_KINDS.flatMap((kind) => {
        const own = alike.map((flat) =>
          passes.flatMap((step) =>
            step.flat.number === flat.number && step.pass.kind === kind
              ? [marks(step.pass.w + taken(job, flat.at))]
              : [],
          ),
        );
        // Their heights lie on one ladder; some begin a few rungs higher, in the air, and all may.
        const longest = own.toSorted((a, b) => b.length - a.length)[0] ?? [];
        return folded(kind, longest, dials);
      }),
    };
  });
}

/** Passes that go down by equal steps as one row. */
function folded(kind: PassKind, marks: readonly number[], dials: Dials): readonly DialRow[] {
  const rows: DialRow[] = [];
  let from = 0;
  while (from < marks.length) {
    const step = (i: number): number => (marks[i] ?? 0) - (marks[i + 1] ?? Number.NEGATIVE_INFINITY);
    let to = from;
    while (to + 1 < marks.length && Math.abs(step(to) - step(from)) <= NOUGHT) to += 1;
    rows.push({
      kind,
      from: readingOf(dials, marks[from] ?? 0),
      to: readingOf(dials, marks[to] ?? 0),
      step: mm(to === from ? 0 : step(from)),
      passes: to - from + 1,
    });
    from = to + 1;
  }
  return rows;
}

/** The steps as things to do: a flat brought up and ground, or a stop. */
function visitsOf(
  job: Job,
  steps: readonly Step[],
  read: (w: number) => DialReading,
  backOff: DialReading,
): readonly DialVisit[] {
  const dials = dialsOf(job);
  const { graduation } = dials.infeed;
  const alike = (a: FlatPlan, b: FlatPlan): boolean => a.w === b.w && a.stock === b.stock;
  /** A division over the first finishing pass of all flats that go down alike: one table is for them all. */
  const finishFrom = (flat: FlatPlan): DialReading => {
    const heights = passesIn(steps).flatMap((step) =>
      step.pass.kind !== 'rough' && alike(step.flat, flat)
        ? [read(step.pass.w + taken(job, flat.at)).above]
        : [],
    );
    return readingOf(dials, (Math.floor((Math.max(...heights) + NOUGHT) / graduation) + 1) * graduation);
  };
  return steps.flatMap((step, i): readonly DialVisit[] => {
    if (step.kind === 'pass') return [];
    if (step.kind === 'stop') {
      const up = steps.slice(0, i).findLast((before) => before.kind === 'index');
      return [{ kind: 'stop', stop: step, up: up?.flat.number ?? 0 }];
    }
    const rest = steps.slice(i + 1);
    const end = rest.findIndex(({ kind }) => kind !== 'pass');
    const passes = passesIn(end < 0 ? rest : rest.slice(0, end));
    const lowest = Math.min(...passes.map(({ pass }) => pass.w));
    return [
      {
        kind: 'grind',
        flat: step.flat,
        setting: step.setting,
        does: PASS_KINDS.filter((kind) => passes.some(({ pass }) => pass.kind === kind)),
        from: passes.some(({ pass }) => pass.kind === 'rough') ? backOff : finishFrom(step.flat),
        to: read(lowest + taken(job, step.flat.at)),
      },
    ];
  });
}

/** The flat ground last before a stop to measure, with the one that faces it if that came just before. */
function roughedLast({ job }: Plan, visits: readonly DialVisit[]): readonly number[] {
  const stop = visits.findIndex((visit) => visit.kind === 'stop' && visit.stop.measures.length > 0);
  const ground = visits
    .slice(0, Math.max(0, stop))
    .flatMap((visit) => (visit.kind === 'grind' ? [visit.flat.number] : []));
  const [before, last] = ground.slice(-2);
  if (last === undefined) return before === undefined ? [] : [before];
  const facing = opposite(job.punch.section, last - 1);
  return facing !== 'none' && before === facing + 1 ? [before, last] : [last];
}

/** What the ring is turned by, for every kind of flat that is ground. */
function ringTurnsOf({ job, flats, hands }: Plan, read: (w: number) => DialReading): readonly RingTurn[] {
  return hands.flatMap((step) => {
    if (step.kind !== 'touch a ground flat' || step.ground === 'as it stands') return [];
    const flat = flats.find(({ number }) => number === step.flats[0]);
    if (flat === undefined) return [];
    const over = step.ground === 'roughed' ? job.grinding.finishAllowance : 0;
    return [
      {
        flats: step.flats,
        ground: step.ground,
        reading: step.reading,
        at: read(flat.w + over + taken(job, flat.at)),
        perReading: step.perReading / step.type.perFeeler / nearerPerMark(job),
      },
    ];
  });
}
