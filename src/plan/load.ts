/**
 * What a pass asks of wheel, spindle and blank, from the layer it really takes:
 *   removal rate            Q   = A v            A the layer's greatest area across the tool axis, v stroke speed
 *   specific removal rate   Q'  = a v            a the bite
 *   power                   P   = e Q            e specific energy, the upper figure of its range
 *   tangential force        Ft  = P / vs         vs surface speed of the rim
 *   equivalent chip         heq = Q' / vs
 *   bending                 f   = Fn ((S^3 - L^3) / I1 + L^3 / I2) / (3 E), a stepped cantilever loaded at its tip:
 *                           S stick-out, L ground length, I1 of the blank, I2 of the circle within the ground end
 * Source: Q, Q', P as identities (Kalpakjian & Schmid, Manufacturing Engineering and Technology, grinding, by
 * memory); heq after the CIRP definition (from memory); bending by Mohr's theorem, any strength of materials text.
 */
import type { Job } from '../job/job.js';
import { reachToward } from '../job/standing.js';
import { surfaceSpeed } from '../quantity/speed.js';
import {
  type Mm,
  type Mm2PerS,
  type Mm3,
  type Mm3PerS,
  mm,
  mm2PerS,
  mm3PerS,
  type Newton,
  newton,
  type Watt,
  watt,
} from '../quantity/unit.js';
import { depthOf, distanceFromHeight } from '../wheel/frame.js';
import { greatestArea, greatestWidth, type Layer, layerVolume, meanEnd, type Stage } from '../wheel/layer.js';
import { runOutBehind } from '../wheel/periphery.js';
import { type FlatPlan, reachAt } from './flat.js';
import { engagedLength } from './stroke.js';

export interface PassLoad {
  /** Deepest bite; 0 in the air and in spark-out. */
  readonly bite: Mm;
  /** Length of metal under the rim's edge. */
  readonly engaged: Mm;
  /** Widest contact across the stroke. */
  readonly width: Mm;
  readonly volume: Mm3;
  readonly removalRate: Mm3PerS;
  readonly specific: Mm2PerS;
  readonly power: Watt;
  /** At the rim, along its motion. */
  readonly force: Newton;
  readonly chip: Mm;
  /** How far the tip of the blank alone gives way under the normal force; spindle and slides give more. */
  readonly bending: Mm;
}

/** Normal over tangential force on hardened steel under a half-dull wheel, 2 to 3; from memory. */
export const NORMAL_OVER_TANGENTIAL = 2.5;

const SECONDS_PER_MINUTE = 60;

/** The load of the pass at `level`, the one before it at this flat having run at `before`. */
export function loadOf(
  job: Job,
  flat: FlatPlan,
  stage: Stage,
  { level, before }: { readonly level: Mm; readonly before: Mm },
): PassLoad {
  const slope = job.punch.relief;
  const end = depthOf(reachAt(job, flat, level), level, slope);
  const bite = mm(Math.max(0, Math.min(before, flat.stockTop) - level));
  const layer: Layer = {
    at: flat.at,
    from: distanceFromHeight(before, slope),
    to: distanceFromHeight(level, slope),
  };
  const speed = job.grinding.strokeSpeed / SECONDS_PER_MINUTE;
  const width = greatestWidth(stage, layer.at, layer.to, end);
  const removalRate = mm3PerS(bite > 0 ? greatestArea(stage, layer, end) * speed : 0);
  const specific = mm2PerS(bite * speed);
  const surface = surfaceSpeed(job.wheel.diameter, job.grinding.spindleSpeed);
  const power = watt(job.figures.energy.most * removalRate);
  const force = newton(power / surface);
  return {
    bite,
    engaged: engagedLength(job, flat, level, before),
    width,
    volume: layerVolume(stage, layer, meanEnd(end, width, job.wheel, runsOut(job, flat, level))),
    removalRate,
    specific,
    power,
    force,
    chip: mm(specific / (surface * 1000)),
    bending: tipDeflection(job, newton(force * NORMAL_OVER_TANGENTIAL)),
  };
}

/** How far a plain wheel runs out behind a pass at `level`. */
const runsOut = (job: Job, flat: FlatPlan, level: Mm): Mm =>
  runOutBehind(
    job.wheel.periphery,
    reachToward(job, flat.at),
    reachAt(job, flat, level),
    level,
    job.punch.relief,
  );

/** Second moment of area of a round of radius r: pi r^4 / 4. */
const momentOfRound = (radius: number): number => (Math.PI * radius ** 4) / 4;

/** How far the tip of the stuck-out blank, ground to its shape, bends under `force`; takes the smallest sections. */
export function tipDeflection(job: Job, force: Newton): Mm {
  const { blank, punch, figures } = job;
  const ground = punch.flatLength;
  const distance = Math.min(...punch.section.map((flat) => flat.distance));
  const thin = Math.max(0, distance - ground * Math.tan(punch.relief));
  const [whole, end] = [momentOfRound(blank.size / 2), momentOfRound(Math.min(thin, blank.size / 2))];
  if (end === 0) return mm(Number.POSITIVE_INFINITY);
  return mm(
    (force * ((blank.stickOut ** 3 - ground ** 3) / whole + ground ** 3 / end)) / (3 * figures.elasticity),
  );
}
