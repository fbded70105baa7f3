/**
 * A job as hand wheels can follow it. A dial shows whole divisions and, between them by eye, quarters; a read-out its last
 * digit. So infeeds become the most of these that is not over what the job asks, and the finish allowance whole infeeds
 * more: then every reading of the way down is one the dial can show. A millimetre of the infeed slide brings the rim
 * c mm nearer: c = 1, or cos t where the wheel is swivelled and the slide runs square to the tool axis. A stop ends every
 * stroke at one place, so the shoulder stands upright.
 * Source: geometry of wheel/frame; quarters of a division are common practice, no source.
 */
import { type Job, layoutOf, slopeOf } from '../job/job.js';
import { countsOf } from '../job/layout.js';
import { type Mm, mm, rad } from '../quantity/unit.js';
import type { PlanFinding } from './finding.js';

/** A division split by eye. */
const BY_EYE = 4;
/** A share of a step that is rounding. */
const WHOLE = 1e-9;

/** What a millimetre on the infeed dial brings the rim nearer to a flat. */
export function nearerPerMark(job: Job): number {
  const layout = layoutOf(job);
  const slope = slopeOf(job);
  return (slope.by === 'head' ? Math.cos(slope.angle) : 1) / countsOf(layout, layout.up.axis);
}

interface Steps {
  /** A whole division, or the last digit of a read-out. */
  readonly whole: Mm;
  /** The finest a hand can set. */
  readonly finest: Mm;
}

/** Steps of the rim toward the flat that the infeed can be set by; `none` of a machine with a control. */
export function dialSteps(job: Job): Steps | 'none' {
  const { dials } = job.machine;
  if (dials === undefined) return 'none';
  const nearer = nearerPerMark(job);
  const whole = mm((dials.readout ?? dials.infeed.graduation) * nearer);
  return { whole, finest: dials.readout === undefined ? mm(whole / BY_EYE) : whole };
}

/** The most steps that are not over what is wanted, but one at least. */
function infeedOf({ whole, finest }: Steps, wanted: Mm): Mm {
  const step = wanted >= whole * (1 - WHOLE) ? whole : finest;
  return mm(Math.max(1, Math.floor(wanted / step + WHOLE)) * step);
}

/** So much coarser than asked is worth a word; common practice, no source. */
const FAR_COARSER = 1.5;

/** The job as its dials can follow it; the job itself where a control moves the machine. */
export function onDials(job: Job): Job {
  const steps = dialSteps(job);
  if (steps === 'none') return job;
  const { grinding } = job;
  const roughInfeed = infeedOf(steps, grinding.roughInfeed);
  const finishInfeed = infeedOf(steps, grinding.finishInfeed);
  // Roughed to a whole division where it goes down by such, so that no reading of roughing lies between two lines.
  const step = roughInfeed < steps.whole * (1 - WHOLE) ? finishInfeed : Math.max(steps.whole, finishInfeed);
  const finishAllowance = mm(Math.ceil(grinding.finishAllowance / step - WHOLE) * step);
  return { ...job, grinding: { ...grinding, roughInfeed, finishInfeed, finishAllowance, shoulder: rad(0) } };
}

/** What a dial cannot show of what the job asks. */
export function dialFindings(asked: Job, job: Job): readonly PlanFinding[] {
  const { finishInfeed } = job.grinding;
  return finishInfeed > asked.grinding.finishInfeed * FAR_COARSER
    ? [
        {
          code: 'dial-too-coarse',
          severity: 'warning',
          key: 'grinding.finishInfeed',
          asked: asked.grinding.finishInfeed,
          shows: finishInfeed,
        },
      ]
    : [];
}
