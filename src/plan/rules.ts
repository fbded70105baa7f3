/**
 * What is refused and what is warned of, one rule a function. Each returns findings with the number that
 * would cure them. Figures without a standard behind them are marked `common practice, no source`.
 */

import { ANGLE_NOISE, FAULT_KEYS, jobFaults, THIN_CLEARANCE } from '../job/fault.js';
import { mayNotRing } from '../job/hazard.js';
import { type Job, lastDigit, slopeOf } from '../job/job.js';
import type { LinearAxis, MachinePoint } from '../job/layout.js';
import { distanceOf, farthestOf, heightAt, standingAt } from '../job/standing.js';
import { speedAtSurface, surfaceSpeed } from '../quantity/speed.js';
import { FLAT_WITHIN, NO_BITE, ROUNDING, SAME_INDEX } from '../quantity/tolerance.js';
import {
  type Mm,
  type MPerS,
  mm,
  mm3,
  mm3PerS,
  mmPerMin,
  mPerS,
  type Rad,
  rad,
  revPerMin,
} from '../quantity/unit.js';
import { blankSupport } from '../section/blank.js';
import { between } from '../section/flat.js';
import { cornerOutside, outlineSupport } from '../section/outline.js';
import { isClosed, spanOf, withoutIndex } from '../section/polygon.js';
import { depthOf, noseCorner, stickOutForCorner, stockTop } from '../wheel/frame.js';
import { isHarder } from '../wheel/marking.js';
import { halfChord } from '../wheel/periphery.js';
import { rimLoss } from '../wheel/wear.js';
import type { PlanFinding } from './finding.js';
import { type FlatPlan, reachAt } from './flat.js';
import type { Heat } from './heat.js';
import { coolStroke, limitsOf } from './limit.js';
import type { PassLoad } from './load.js';
import { passesIn, type Step } from './step.js';
import type { Loads, WearOutlook } from './totals.js';

/** Below this a vitrified wheel acts soft and wears fast; common practice, no source. */
const SLOW_SURFACE: MPerS = mPerS(15);
/** Spark-out strokes beyond this only rub and heat; common practice, no source. */
const LONG_SPARK_OUT = 10;
/** Heaviest infeed for dry tool grinding with a cup wheel; common practice, no source. */
const HEAVY_INFEED: Mm = mm(0.025);
/** Slack on a blank measured with a micrometer. */
const BLANK_SLACK: Mm = mm(0.001);

/** What the rules may look at. */
export interface Planned {
  readonly job: Job;
  readonly flats: readonly FlatPlan[];
  readonly steps: readonly Step[];
  readonly places: readonly MachinePoint[];
  readonly loads: Loads;
  readonly wear: WearOutlook;
  readonly heat: Heat;
  /** What wear and warmth do to a size on the mean. */
  readonly bias: Mm;
}

type Rule = (planned: Planned) => readonly PlanFinding[];

/** What no job may ask for, whatever is planned. */
const faults: Rule = ({ job }) =>
  jobFaults(job).map((fault): PlanFinding => ({ severity: 'error', key: FAULT_KEYS[fault.code], ...fault }));

const thinClearance: Rule = ({ job }) => {
  const clearance = rad(job.punch.relief - job.punch.headTilt);
  if (clearance <= ANGLE_NOISE || clearance >= THIN_CLEARANCE - ANGLE_NOISE) return [];
  const wouldDo = rad(job.punch.headTilt + THIN_CLEARANCE);
  return [{ code: 'thin-clearance', severity: 'warning', key: 'punch.relief', clearance, wouldDo }];
};

/** Held by less than its own diameter a punch leans; common practice, no source. */
const littleToHold: Rule = ({ job: { punch, blank, grinding } }) => {
  const { overallLength: length, flatLength: flats } = punch;
  if (length === undefined) return [];
  if (length <= flats)
    return [{ code: 'punch-too-short', severity: 'error', key: 'punch.overallLength', length, flats }];
  const left = mm(length - blank.stickOut);
  if (left >= blank.size) return [];
  // A stick-out that leaves no room for the flats is no advice.
  const shorter = mm(length - blank.size);
  const wouldDo = shorter >= flats + grinding.clearance ? shorter : 'none';
  return [{ code: 'little-to-hold', severity: 'warning', key: 'punch.overallLength', left, wouldDo }];
};

/** A shank so many times its blank, or the blank of it, is a slip of the pen; common practice, no source. */
const FAR_APART = 3;
const shankLikely: Rule = ({ job: { punch, blank } }) => {
  const { shank } = punch;
  if (shank === undefined || (shank <= FAR_APART * blank.size && blank.size <= FAR_APART * shank)) return [];
  return [{ code: 'shank-odd', severity: 'warning', key: 'punch.shank', shank, blank: blank.size }];
};

const closedSection: Rule = ({ job }) => {
  const { section, corners } = job.punch;
  if (corners !== 'sharp' || isClosed(section)) return [];
  const open = section.flatMap((flat, i) => {
    const span = spanOf(flat, withoutIndex(section, i));
    return span === 'none' || (Number.isFinite(span.from) && Number.isFinite(span.to)) ? [] : [i + 1];
  });
  return [{ code: 'flats-open', severity: 'error', key: 'punch.corners', flats: open }];
};

const blankCoversCorners: Rule = ({ job }) => {
  const { section, corners } = job.punch;
  if (corners !== 'sharp' || !isClosed(section)) return [];
  const by = cornerOutside(section, job.blank);
  if (by <= BLANK_SLACK) return [];
  const wouldDo = mm(job.blank.size + 2 * by);
  return [{ code: 'blank-too-small', severity: 'error', key: 'blank.size', by, wouldDo }];
};

const slowWheel: Rule = ({ job }) => {
  const { diameter, ratedSpeed } = job.wheel;
  const surface = surfaceSpeed(diameter, job.grinding.spindleSpeed);
  if (surface >= SLOW_SURFACE) return [];
  return [
    {
      code: 'slow-wheel',
      severity: 'warning',
      key: 'grinding.spindleSpeed',
      surface,
      least: SLOW_SURFACE,
      wouldDo: speedAtSurface(diameter, SLOW_SURFACE),
      most: revPerMin(Math.min(ratedSpeed, job.machine.spindle.max)),
    },
  ];
};

/** The stick-out whose nose ends at `end` of its own height, which grows with it: found by going back and forth. */
function stickOutFor(halfHeight: Mm, slope: Rad, end: (height: number) => number): Mm {
  let stickOut = stickOutForCorner(mm(end(0)), halfHeight, slope);
  for (let i = 0; i < 20; i += 1)
    stickOut = stickOutForCorner(mm(end(noseCorner(stickOut, halfHeight, slope).w)), halfHeight, slope);
  return stickOut;
}

const nose: Rule = ({ job, flats }) => {
  const slope = job.punch.relief;
  const { halfHeight } = job.holding.nose;
  const { clearance } = job.grinding;
  const corner = noseCorner(job.blank.stickOut, halfHeight, slope);
  // Upper passes reach further than the flat.
  const farthest = (flat: FlatPlan): Mm => reachAt(job, flat, mm(flat.stockTop + flat.higher));
  const deepest = flats.toSorted((a, b) => farthest(a) - farthest(b))[0];
  if (deepest === undefined) return [];
  const findings: PlanFinding[] = [];
  const reach = farthest(deepest);
  // Over a nose that stands higher than its lowest line a periphery reaches farther.
  const beside = (height: number): number => halfChord(job.wheel.periphery, height + clearance - deepest.w);
  const gap = mm(reach - beside(corner.w) - corner.u);
  // Where the rim reaches over the nose its upper side must lie below the rim, and it rises toward the shank.
  const topUnderRim = corner.w + Math.max(0, -gap) * Math.tan(slope);
  if (gap < clearance && topUnderRim > deepest.w - clearance) {
    const wouldDo = stickOutFor(halfHeight, slope, (height) => reach - beside(height) - clearance);
    findings.push({
      code: 'nose-in-reach',
      severity: 'error',
      key: 'blank.stickOut',
      gap,
      clearance,
      wouldDo,
    });
  }
  const by = mm(corner.w - (deepest.w + job.wheel.height));
  if (by > 0) findings.push({ code: 'spindle-over-nose', severity: 'warning', key: 'wheel.height', by });
  return findings;
};

/**
 * A guard that stays on stands `beside` past the rim and `back` from its face: at the end of a stroke neither the nose nor
 * the blank, which rises toward the shank, may reach into it.
 */
const guardClear: Rule = ({ job, flats }) => {
  const { guard } = job.machine;
  if (guard === undefined) return [];
  const slope = job.punch.relief;
  const { clearance } = job.grinding;
  const { halfHeight } = job.holding.nose;
  const corner = noseCorner(job.blank.stickOut, halfHeight, slope);
  const deepest = flats.toSorted((a, b) => a.reach - b.reach)[0];
  if (deepest === undefined) return [];
  // Past the rim on the shank side, in the pass that reaches farthest.
  const farthest = reachAt(job, deepest, mm(deepest.stockTop + deepest.higher));
  const edge = farthest - job.wheel.periphery - guard.beside;
  const gap = edge - corner.u;
  const rises = mm(stockTop(blankSupport(job.blank, deepest.at), mm(edge), slope) - deepest.w);
  if (rises > guard.back)
    return [{ code: 'guard-meets-blank', severity: 'error', key: 'machine', rises, back: guard.back }];
  if (gap >= clearance || corner.w <= deepest.w + guard.back - clearance) return [];
  const wouldDo = stickOutForCorner(mm(edge - clearance), halfHeight, slope);
  return [
    {
      code: 'guard-meets-nose',
      severity: 'error',
      key: 'blank.stickOut',
      by: mm(clearance - gap),
      wouldDo,
    },
  ];
};

const travel: Rule = ({ job, places }) => {
  const { travel: limits, workZero, dials } = job.machine;
  const axes = (['x', 'y', 'z'] as const).filter((axis) => limits[axis] !== undefined);
  const findings = axes.flatMap((axis: LinearAxis): readonly PlanFinding[] => {
    const [least, most] = limits[axis] ?? [mm(0), mm(0)];
    const values = places.map((place) => place[axis]);
    const [from, to] = [Math.min(...values), Math.max(...values)];
    if (to - from > most - least) {
      const [need, have] = [mm(to - from), mm(most - least)];
      return [{ code: 'travel-short', severity: 'error', key: 'machine', axis, need, have }];
    }
    const zero = workZero?.[axis];
    if (zero === undefined || (from + zero >= least && to + zero <= most)) return [];
    return [
      {
        code: 'travel-outside',
        severity: 'error',
        key: 'machine',
        axis,
        from: mm(from + zero),
        to: mm(to + zero),
        least,
        most,
      },
    ];
  });
  // A hand feels the end of a slide, and no program runs to it.
  return workZero === undefined && dials === undefined
    ? [...findings, { code: 'span-only', severity: 'warning', key: 'machine' }]
    : findings;
};

/** A flat that stands must be long enough for the passes over it, or they would meet the raw blank behind in one bite. */
const standingShort: Rule = ({ job, flats, steps }) =>
  flats.flatMap((flat): readonly PlanFinding[] => {
    const stands = standingAt(job, flat.at);
    if (stands === 'none') return [];
    const slope = job.punch.relief;
    const farthest = farthestOf(stands);
    const ground = passesIn(steps).some((step) => step.flat === flat);
    if (!ground || farthest <= flat.reach + ROUNDING) return [];
    const depth = (reach: number): Mm => depthOf(mm(reach), heightAt(stands, reach), slope);
    // A hundredth over, so that the length written is long enough.
    const wouldDo = mm(Math.ceil(100 * depth(flat.reach)) / 100);
    return [
      {
        code: 'standing-short',
        severity: 'error',
        key: 'blank.flats',
        flat: flat.number,
        length: depth(farthest),
        wouldDo,
      },
    ];
  });

/** A flat that stands under its least size is no more of this punch. */
const standingUnder: Rule = ({ job, flats }) =>
  flats.flatMap((flat): readonly PlanFinding[] => {
    const stands = standingAt(job, flat.at);
    if (stands === 'none') return [];
    const { section, relief, tolerance } = job.punch;
    const distance = distanceOf(stands, relief);
    const least = mm((section[flat.number - 1]?.distance ?? 0) - tolerance.minus / 2);
    return distance >= least - FLAT_WITHIN
      ? []
      : [
          {
            code: 'standing-under',
            severity: 'error',
            key: 'blank.flats',
            flat: flat.number,
            distance,
            least,
          },
        ];
  });

/** A flat that stands elsewhere than one is ordered must leave the section whole. */
const standingInside: Rule = ({ job }) => {
  const { section } = job.punch;
  const elsewhere = job.standing.filter(
    ({ at }) => !section.some((flat) => between(flat.at, at) <= SAME_INDEX),
  );
  const inside = elsewhere.flatMap((flat): readonly PlanFinding[] => {
    const by = mm(outlineSupport(section, job.blank, flat.at) - distanceOf(flat, job.punch.relief));
    return by <= NO_BITE
      ? []
      : [{ code: 'standing-inside', severity: 'error', key: 'blank.flats', at: flat.at, by }];
  });
  const first = section[0];
  const touched = elsewhere.length === 0 || first === undefined || standingAt(job, first.at) !== 'none';
  return [
    ...inside,
    ...(touched
      ? []
      : [{ code: 'nothing-to-touch', severity: 'error', key: 'blank.flats', flat: 1 } as const]),
  ];
};

const strokeCount: Rule = ({ job, flats, steps }) => {
  const most = job.grinding.mostStrokes;
  return flats.flatMap(({ number, stock, higher }): readonly PlanFinding[] => {
    const strokes = passesIn(steps).filter(({ flat }) => flat.number === number).length;
    if (strokes <= most) return [];
    const { finishAllowance, finishInfeed, sparkOut } = job.grinding;
    // What is left for roughing after the finish and spark-out passes; none may be left.
    const rough = most - sparkOut - Math.ceil(finishAllowance / finishInfeed);
    const held = job.grinding.limit.removalRate !== undefined;
    const infeed = rough > 0 && !held ? mm(Math.max(0, stock + higher - finishAllowance) / rough) : 'none';
    return [
      {
        code: 'stroke-too-deep',
        severity: 'error',
        key: 'grinding.roughInfeed',
        flat: number,
        strokes,
        most,
        infeed,
        held,
      },
    ];
  });
};

const programResolution: Rule = ({ job }) => {
  const digit = lastDigit(job);
  const { by, angle } = slopeOf(job);
  // Half a digit on the height; with a tilted head both axes of the stroke round.
  const worst = (digit / 2) * (by === 'head' ? Math.cos(angle) + Math.sin(angle) : 1);
  const findings: PlanFinding[] = [];
  if (worst > FLAT_WITHIN) {
    const { decimals } = job.machine.program;
    findings.push({
      code: 'decimals-too-few',
      severity: 'error',
      key: 'machine',
      decimals,
      wouldDo: decimals + 1,
    });
  }
  const { finishInfeed, roughInfeed } = job.grinding;
  for (const [key, infeed] of [
    ['grinding.finishInfeed', finishInfeed],
    ['grinding.roughInfeed', roughInfeed],
  ] as const) {
    if (infeed < digit)
      findings.push({ code: 'infeed-too-fine', severity: 'error', key, infeed, lastDigit: digit });
  }
  return findings;
};

const practice: Rule = ({ job }) => {
  const { sparkOut, roughInfeed } = job.grinding;
  const findings: PlanFinding[] = [];
  if (sparkOut > LONG_SPARK_OUT) {
    findings.push({
      code: 'long-spark-out',
      severity: 'warning',
      key: 'grinding.sparkOut',
      strokes: sparkOut,
      most: LONG_SPARK_OUT,
    });
  }
  if (roughInfeed > HEAVY_INFEED) {
    findings.push({
      code: 'heavy-infeed',
      severity: 'warning',
      key: 'grinding.roughInfeed',
      infeed: roughInfeed,
      most: HEAVY_INFEED,
    });
  }
  return findings;
};

/** A limit counts as kept to within this share. */
const KEPT_WITHIN = 1.0001;

const heldLimit: Rule = ({ job, steps, loads }) => {
  const limit = job.grinding.limit.removalRate;
  if (limit === undefined) return [];
  const digit = lastDigit(job);
  // What the least infeed a program can write would remove, at the widest.
  const rates = passesIn(steps).flatMap(({ pass: { load } }) =>
    // A hair of a bite is what numbers leave of none.
    load.bite > digit / 1000 ? [(load.removalRate * digit) / load.bite] : [],
  );
  const least = mm3PerS(rates.reduce((a, b) => Math.max(a, b), 0));
  const now = loads.rough === 'none' ? 0 : loads.rough.removalRate;
  if (least <= limit * KEPT_WITHIN && now <= limit * KEPT_WITHIN) return [];
  return [
    {
      code: 'limit-too-low',
      severity: 'error',
      key: 'grinding.limit.removalRate',
      limit,
      least,
      infeed: digit,
      strokeSpeed: mmPerMin((job.grinding.strokeSpeed * limit) / least),
    },
  ];
};

/** The kind of pass that asks for more, and the key and infeed that would ease it. */
function heavier(
  { grinding }: Job,
  { rough, finish }: Loads,
  of: (load: PassLoad) => number,
): {
  readonly load: PassLoad | 'none';
  readonly key: 'grinding.roughInfeed' | 'grinding.finishInfeed';
  readonly infeed: Mm;
} {
  const [a, b] = [rough, finish].map((load) => (load === 'none' ? 0 : of(load)));
  return (a ?? 0) >= (b ?? 0)
    ? { load: rough, key: 'grinding.roughInfeed', infeed: grinding.roughInfeed }
    : { load: finish, key: 'grinding.finishInfeed', infeed: grinding.finishInfeed };
}

const burning: Rule = ({ job, loads }) => {
  const { specific: most } = limitsOf(job);
  const { load, key, infeed } = heavier(job, loads, ({ specific }) => specific);
  if (load === 'none' || load.specific <= most * KEPT_WITHIN) return [];
  const share = most / load.specific;
  // The same removal rate in a faster, shallower stroke burns less.
  const fast = mmPerMin(Math.ceil(coolStroke(load.specific, job.grinding)));
  const faster = job.grinding.limit.specificRemovalRate === undefined && fast <= job.machine.maxFeed;
  return [
    {
      code: 'burn-risk',
      severity: 'warning',
      key,
      specific: load.specific,
      most,
      coolant: job.grinding.coolant === 'none' ? 'dry' : 'wet',
      infeed: mm(infeed * share),
      cooler: faster ? { strokeSpeed: fast, infeed: mm((infeed * job.grinding.strokeSpeed) / fast) } : 'none',
    },
  ];
};

const spindlePower: Rule = ({ job, loads }) => {
  const { power: most } = limitsOf(job);
  const { load, key, infeed } = heavier(job, loads, ({ power }) => power);
  if (most === 'none' || load === 'none' || load.power <= most) return [];
  const wouldDo = mm((infeed * most) / load.power);
  return [{ code: 'power-short', severity: 'warning', key, power: load.power, most, infeed: wouldDo }];
};

const bending: Rule = ({ job, loads }) => {
  const { plus, minus } = job.punch.tolerance;
  const [load, key, infeed] =
    loads.finish === 'none'
      ? ([loads.rough, 'grinding.roughInfeed', job.grinding.roughInfeed] as const)
      : ([loads.finish, 'grinding.finishInfeed', job.grinding.finishInfeed] as const);
  const band = plus + minus;
  if (load === 'none' || band === 0) return [];
  const { bendingShare: most } = limitsOf(job);
  const share = load.bending / band;
  if (share <= most) return [];
  return [
    {
      code: 'blank-bends',
      severity: 'warning',
      key,
      bending: load.bending,
      share,
      most,
      infeed: mm((infeed * most) / share),
    },
  ];
};

/** A compensated punch nobody measures on the way rests on a prediction good to a factor of three. */
const wearProved: Rule = ({ job, wear }) => {
  const { plus, minus } = job.punch.tolerance;
  const most = mm((plus + minus) / 2);
  const { wear: handled, measuringStop } = job.grinding;
  const loss = mm(Math.max(0, ...wear.perFlat.map((each) => each.loss.most)));
  if (handled !== 'compensate' || measuringStop !== 'none' || most === 0 || loss <= most) return [];
  return [{ code: 'wear-unproved', severity: 'error', key: 'grinding.measuringStop', loss, most }];
};

const abrasive: Rule = ({ job }) => {
  const { instead } = job.figures;
  if (instead === 'none') return [];
  const { material } = job.blank;
  return [
    {
      code: 'wrong-abrasive',
      severity: 'warning',
      key: 'wheel.abrasive',
      material,
      abrasive: job.wheel.abrasive,
      instead,
    },
  ];
};

/** A hard grade keeps its blunt grains and burns; source of the usual grades: shared/grinding.yaml. */
const grade: Rule = ({ job }) => {
  const { usual, material } = job.figures;
  const { marking } = job.wheel;
  const { coolant } = job.grinding;
  if (usual === 'none' || marking === 'none' || marking.grade === 'none') return [];
  const grades = coolant === 'none' ? usual.dry : usual.wet;
  if (!isHarder(marking.grade, grades[1])) return [];
  return [
    {
      code: 'grade-hard',
      severity: 'warning',
      key: 'wheel.marking',
      grade: marking.grade,
      material,
      coolant: coolant === 'none' ? 'dry' : 'wet',
      usual: grades,
      grit: usual.grit,
    },
  ];
};

/**
 * No cup wheel is usually marked faster than this: 6500 ft/min vitrified, 9500 ft/min organic. Source: ANSI B7.1,
 * table of standard maximum speeds, types 6 and 11, high strength (from memory). What is marked faster is a
 * special wheel, or a speed or diameter read wrong.
 */
const USUALLY_MARKED = { vitrified: mPerS(33.02), other: mPerS(48.26) } as const;
/** Marks are rounded: 6500 ft/min is also written 35 m/s. */
const RATED_WITHIN = 0.07;

const markedFast: Rule = ({ job }) => {
  const { marking, ratedSurface } = job.wheel;
  if (mayNotRing(job)) return [];
  const bond = marking === 'none' ? 'none' : marking.bond;
  const usual = USUALLY_MARKED[bond === 'vitrified' ? 'vitrified' : 'other'];
  if (ratedSurface <= usual * (1 + RATED_WITHIN)) return [];
  return [
    { code: 'marked-fast', severity: 'warning', key: 'wheel.ratedSpeed', surface: ratedSurface, usual, bond },
  ];
};

/** A steel tempered under this loses its edge when ground dry without a rest, Celsius; common practice, no source. */
const COOL_TEMPER = 300;

const temper: Rule = ({ job, heat }) => {
  const { temper: most } = job.figures;
  const { coolant, rest, order } = job.grinding;
  const cools = coolant !== 'none' || rest !== undefined || order === 'one pass all round';
  if (job.figures.assumed || most >= COOL_TEMPER || cools) return [];
  return [
    {
      code: 'temper-risk',
      severity: 'warning',
      key: 'grinding.coolant',
      temper: most,
      over: heat.rough.over,
      byAxis: job.holding.index === 'rotary axis',
    },
  ];
};

const wearing: Rule = ({ job, bias }) => {
  const { plus, minus } = job.punch.tolerance;
  const band = mm(plus + minus);
  if (band === 0 || bias <= band) return [];
  return [{ code: 'wear-unseen', severity: 'warning', key: 'grinding.wear', bias, tolerance: band }];
};

/** A rim that loses more than this share of each bite cannot be followed by prediction; common practice, no source. */
const WEARS_AWAY = 0.1;

/** The wheel is dressed between flats: one that alone takes more metal off cannot wait for it. */
const dressed: Rule = ({ job, steps }) => {
  const stop = job.grinding.dressingStop;
  if (typeof stop === 'string' || !('volume' in stop)) return [];
  const volumes = new Map<number, number>();
  for (const { flat, pass } of passesIn(steps))
    volumes.set(flat.number, (volumes.get(flat.number) ?? 0) + pass.load.volume);
  const [flat, volume] = [...volumes].toSorted((a, b) => b[1] - a[1])[0] ?? [0, 0];
  if (volume <= stop.volume) return [];
  return [
    {
      code: 'dressing-late',
      severity: 'warning',
      key: 'grinding.dressingStop',
      flat,
      volume: mm3(volume),
      most: stop.volume,
    },
  ];
};

const compensable: Rule = ({ job, steps }) => {
  if (job.grinding.wear !== 'compensate') return [];
  const shares = passesIn(steps).flatMap(({ pass: { load } }) =>
    load.bite > lastDigit(job) ? [rimLoss(job, load.volume) / load.bite] : [],
  );
  const share = shares.reduce((a, b) => Math.max(a, b), 0);
  if (share <= WEARS_AWAY) return [];
  const ratio = (job.figures.ratio.taken * share) / WEARS_AWAY;
  return [
    { code: 'wears-too-fast', severity: 'error', key: 'grinding.wear', share, most: WEARS_AWAY, ratio },
  ];
};

const socketLimits: Rule = ({ job }) => {
  const { socket, tolerance, section } = job.punch;
  if (socket === 'none') return [];
  const size = mm(2 * (section[0]?.distance ?? 0));
  const findings: PlanFinding[] = [];
  const { least, others } = socket.of;
  if (size - tolerance.minus < least) {
    const minus = mm(size - least);
    findings.push({ code: 'under-socket', severity: 'warning', key: 'punch.tolerance', size, least, minus });
  }
  for (const { most, table } of others) {
    if (size > most)
      findings.push({
        code: 'over-other-limit',
        severity: 'warning',
        key: 'punch.socket',
        size,
        most,
        table,
      });
  }
  return findings;
};

const knownFigures: Rule = ({ job }) => {
  const { figures, blank, wheel } = job;
  if (!figures.assumed) return [];
  return [
    {
      code: 'figures-assumed',
      severity: 'warning',
      key: 'blank.material',
      material: blank.material,
      abrasive: wheel.abrasive,
      asMaterial: figures.material,
      asAbrasive: figures.abrasive,
    },
  ];
};

const rules: readonly Rule[] = [
  faults,
  thinClearance,
  littleToHold,
  shankLikely,
  closedSection,
  blankCoversCorners,
  slowWheel,
  nose,
  guardClear,
  travel,
  standingShort,
  standingUnder,
  standingInside,
  strokeCount,
  programResolution,
  practice,
  heldLimit,
  burning,
  spindlePower,
  bending,
  wearing,
  wearProved,
  compensable,
  dressed,
  abrasive,
  grade,
  markedFast,
  temper,
  socketLimits,
  knownFigures,
];

/** What every rule has against a plan. */
export const applyRules = (planned: Planned): readonly PlanFinding[] =>
  rules.flatMap((rule) => rule(planned));
