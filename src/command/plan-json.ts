/** A plan for machines: lengths in mm, angles in degrees, speeds per minute; names say so. */
import { layoutOf, slopeOf } from '../job/job.js';
import { toMachine } from '../job/layout.js';
import { isPostable, type Plan } from '../plan/plan.js';
import { degFromRad } from '../quantity/angle.js';
import { type Rad, rad } from '../quantity/unit.js';
import { planSentence } from './wording-plan.js';

const deg = (angle: Rad): number => degFromRad(angle);

export function planJson(plan: Plan): object {
  const { job } = plan;
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
      endsAtMm: toMachine(layoutOf(job), slopeOf(job), { u: flat.centreEnd, v: 0, w: flat.w }),
    })),
    readings: plan.readings.map(({ flat, finished, roughed }) => ({
      flat,
      finishedMm: finished,
      roughedMm: roughed,
    })),
    steps: plan.steps.map((step) => {
      if (step.kind === 'pass')
        return { kind: step.pass.kind, flat: step.flat.number, rimHeightMm: step.pass.w };
      if (step.kind === 'measuring stop') return { kind: step.kind };
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
      runningSeconds: plan.totals.running,
      stops: plan.totals.stops,
    },
    defaults: job.defaults,
    findings: plan.findings.map((finding) => ({
      ...finding,
      message: planSentence(finding, job),
      file: job.file,
      line: job.locate(finding.key).line,
    })),
  };
}
