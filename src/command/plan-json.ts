/** A plan for machines: lengths in mm, angles in degrees, speeds per minute; names say so. */
import type { JobSource } from '../file/read.js';
import { takenBack } from '../job/block.js';
import { onMachine } from '../job/job.js';
import { limitsOf } from '../plan/limit.js';
import type { PassLoad } from '../plan/load.js';
import { isPostable, type Plan } from '../plan/plan.js';
import type { Saving } from '../plan/savings.js';
import { degFromRad } from '../quantity/angle.js';
import { type Rad, rad } from '../quantity/unit.js';
import { planSentence } from '../wording/plan.js';

const deg = (angle: Rad): number => degFromRad(angle);

const loadJson = (load: PassLoad) => ({
  biteMm: load.bite,
  engagedMm: load.engaged,
  widthMm: load.width,
  volumeMm3: load.volume,
  removalRateMm3PerS: load.removalRate,
  specificMm2PerS: load.specific,
  powerW: load.power,
  forceN: load.force,
  chipMm: load.chip,
  bendingMm: load.bending,
});

/** A change, its numbers in mm and mm/min, and the seconds it saves. */
export const savingJson = ({ change, saved }: Saving): object => ({
  ...Object.fromEntries(
    Object.entries(change).map(([key, value]) => [
      key === 'kind' ? 'change' : `${key}${key === 'speed' ? 'MmPerMin' : 'Mm'}`,
      value,
    ]),
  ),
  savedSeconds: saved,
});

export function planJson(plan: Plan, source: JobSource): object {
  const { job } = plan;
  const limits = limitsOf(job);
  return {
    title: job.title,
    machine: job.machineName,
    postable: isPostable(plan),
    slope: { by: plan.slope.by, angleDeg: deg(plan.slope.angle), sineBarHeightMm: plan.sineBarHeight },
    workingClearanceDeg: deg(plan.workingClearance),
    cornerReliefDeg: plan.cornerRelief === 'none' ? 'none' : deg(plan.cornerRelief),
    surfaceMPerS: plan.surface,
    clearMm: plan.positions.clear,
    indexHeightMm: plan.positions.indexHeight,
    touchOff: { overlapMm: plan.touchOff.overlap, readsMm: plan.touchOff.reads },
    flats: plan.flats.map((flat) => ({
      number: flat.number,
      atDeg: deg(flat.at),
      distanceMm: flat.distance,
      rimHeightMm: flat.w,
      halfWidthMm: flat.halfWidth,
      centreEndMm: flat.centreEnd,
      reachMm: flat.reach,
      stockTopMm: flat.stockTop,
      stockMm: flat.stock,
      endsAtMm: onMachine(job, { u: flat.centreEnd, v: 0, w: flat.w + takenBack(job, flat.at) }),
    })),
    readings: plan.readings.map(({ flat, finished, roughed, least, most }) => ({
      flat,
      finishedMm: finished,
      roughedMm: roughed,
      leastMm: least,
      mostMm: most,
    })),
    steps: plan.steps.map((step) => {
      if (step.kind === 'pass')
        return {
          kind: step.pass.kind,
          flat: step.flat.number,
          rimHeightMm: step.pass.w + takenBack(job, step.flat.at),
          levelMm: step.pass.level,
          startsAtMm: step.pass.start,
          endsAtMm: step.pass.end,
          rimLostMm: step.pass.loss.taken,
          rimLostMostMm: step.pass.loss.most,
          ...loadJson(step.pass.load),
        };
      if (step.kind === 'stop') return { kind: step.kind, dresses: step.dresses, measures: step.measures };
      const { setting } = step;
      return {
        kind: step.kind,
        flat: step.flat.number,
        atDeg: deg(step.flat.at),
        setting:
          setting.kind === 'degrees' ? { kind: setting.kind, angleDeg: deg(rad(setting.angle)) } : setting,
      };
    }),
    totals: {
      passes: plan.totals.passes,
      strokeLengthMm: plan.totals.strokeLength,
      engagedLengthMm: plan.totals.engagedLength,
      runningSeconds: plan.totals.running,
      grindingSeconds: plan.totals.grinding,
      leastSeconds: plan.totals.least,
      perFlat: plan.totals.perFlat.map(({ flat, grinding }) => ({ flat, grindingSeconds: grinding })),
      stops: plan.totals.stops,
    },
    loads: {
      rough: plan.loads.rough === 'none' ? 'none' : loadJson(plan.loads.rough),
      finish: plan.loads.finish === 'none' ? 'none' : loadJson(plan.loads.finish),
    },
    limits: {
      specificMm2PerS: limits.specific,
      bendingShare: limits.bendingShare,
      powerW: limits.power,
      removalRateMm3PerS: job.grinding.limit.removalRate ?? 'none',
    },
    equalSteps:
      plan.equalSteps === 'none'
        ? 'none'
        : {
            infeedMm: plan.equalSteps.infeed,
            passes: plan.equalSteps.passes,
            runningSeconds: plan.equalSteps.running,
          },
    wear: {
      handled: job.grinding.wear,
      rimLossMm: { least: plan.wear.total.least, most: plan.wear.total.most },
      driftMm: plan.wear.drift,
      perFlat: plan.wear.perFlat.map(({ flat, loss }) => ({ flat, rimLostMm: loss.taken })),
      atStop: plan.wear.atStop.map(({ flat, loss }) => ({ flat, rimLostMm: loss.taken })),
    },
    figures: {
      material: job.figures.material,
      abrasive: job.figures.abrasive,
      assumed: job.figures.assumed,
      energyJPerMm3: job.figures.energy,
      grindingRatio: job.figures.ratio,
    },
    defaults: source.defaults(),
    findings: plan.findings.map((finding) => ({
      ...finding,
      message: planSentence(finding, job),
      file: source.file,
      line: source.locate(finding.key).line,
    })),
  };
}
