/**
 * What is wrong with a job before any plan is made: relief against tilt, the wheel's speed, infeeds no wheel takes, a
 * device that cannot bring a flat up. Planner and checker both ask, so a program is not called good for a job that
 * cannot be. Figures without a standard behind them are marked `common practice, no source`.
 */
import { radFromDeg } from '../quantity/angle.js';
import { type Mm, type MmPerMin, mm, type Rad, type RevPerMin, rad } from '../quantity/unit.js';
import { type CannotIndex, cannotIndex, settingFor } from './indexing.js';
import type { Job } from './job.js';

export type JobFault =
  | {
      readonly code: 'relief-below-tilt';
      readonly relief: Rad;
      readonly headTilt: Rad;
      readonly wouldDo: Rad;
    }
  | { readonly code: 'wheel-over-rating'; readonly speed: RevPerMin; readonly rated: RevPerMin }
  | {
      readonly code: 'spindle-cannot';
      readonly speed: RevPerMin;
      readonly min: RevPerMin;
      readonly max: RevPerMin;
    }
  | { readonly code: 'return-over-feed'; readonly speed: MmPerMin; readonly max: MmPerMin }
  | { readonly code: 'stroke-over-feed'; readonly speed: MmPerMin; readonly max: MmPerMin }
  | { readonly code: 'axis-needs-switch'; readonly axis: string }
  | { readonly code: 'infeed-too-heavy'; readonly infeed: Mm; readonly most: Mm }
  | CannotIndex;

export type JobFaultCode = JobFault['code'];

/** The key that would mend each. */
export const FAULT_KEYS: Readonly<Record<JobFaultCode, string>> = {
  'relief-below-tilt': 'punch.relief',
  'wheel-over-rating': 'grinding.spindleSpeed',
  'spindle-cannot': 'grinding.spindleSpeed',
  'stroke-over-feed': 'grinding.strokeSpeed',
  'return-over-feed': 'grinding.returnSpeed',
  'infeed-too-heavy': 'grinding.roughInfeed',
  'axis-needs-switch': 'holding.index',
  'block-cannot-index': 'holding.device',
  'gear-cannot-index': 'holding.device',
  'indexer-cannot-step': 'holding.device',
  'plate-cannot-step': 'holding.device',
};

/** Working clearance below this rubs on springy stock; common practice, no source. */
export const THIN_CLEARANCE: Rad = radFromDeg(0.5);
/** Floating-point noise on an angle, radians. */
export const ANGLE_NOISE = 1e-9;
/** Many times what a cup wheel takes: no grinding any more; common practice, no source. */
const HEAVIEST_INFEED: Mm = mm(0.25);

type Ask = (job: Job) => readonly JobFault[];

const relief: Ask = ({ punch }) =>
  punch.relief - punch.headTilt > ANGLE_NOISE
    ? []
    : [
        {
          code: 'relief-below-tilt',
          relief: punch.relief,
          headTilt: punch.headTilt,
          wouldDo: rad(punch.headTilt + THIN_CLEARANCE),
        },
      ];

const speed: Ask = ({ grinding, wheel, machine }) => {
  const { spindleSpeed } = grinding;
  const { min, max } = machine.spindle;
  const faults: JobFault[] = [];
  if (spindleSpeed > wheel.ratedSpeed)
    faults.push({ code: 'wheel-over-rating', speed: spindleSpeed, rated: wheel.ratedSpeed });
  if (spindleSpeed < min || spindleSpeed > max)
    faults.push({ code: 'spindle-cannot', speed: spindleSpeed, min, max });
  return faults;
};

const stroke: Ask = ({ grinding, machine }) => {
  const { strokeSpeed, returnSpeed } = grinding;
  const max = machine.maxFeed;
  const faults: JobFault[] = [];
  if (strokeSpeed > max) faults.push({ code: 'stroke-over-feed', speed: strokeSpeed, max });
  if (returnSpeed > max) faults.push({ code: 'return-over-feed', speed: returnSpeed, max });
  return faults;
};

const infeed: Ask = ({ grinding }) =>
  grinding.roughInfeed > HEAVIEST_INFEED
    ? [{ code: 'infeed-too-heavy', infeed: grinding.roughInfeed, most: HEAVIEST_INFEED }]
    : [];

/** Nothing the program says stops a spindle with its own switch, and a hand cannot be there at every index. */
const axis: Ask = ({ holding, machine }) => {
  const { rotary, spindle } = machine;
  const waits = rotary !== undefined && !rotary.mayTurnWithSpindle && spindle.switched === 'by hand';
  return holding.index === 'rotary axis' && waits ? [{ code: 'axis-needs-switch', axis: rotary.axis }] : [];
};

/** Every flat in turn; a device is set from the flat before. */
const device: Ask = (job) => {
  const { device: held } = job.holding;
  if (held === undefined) return [];
  const { section } = job.punch;
  const { sequence } = job.grinding;
  return sequence.flatMap((number, i): readonly JobFault[] => {
    const from = section[(sequence[i - 1] ?? 0) - 1]?.at ?? rad(0);
    const at = section[number - 1]?.at ?? rad(0);
    return settingFor(held, from, at) === 'cannot' ? [cannotIndex(held, job, number, from, at)] : [];
  });
};

const ASKED: readonly Ask[] = [relief, speed, stroke, infeed, axis, device];

/** Everything wrong with `job` by itself; each refuses it. */
export const jobFaults = (job: Job): readonly JobFault[] => ASKED.flatMap((ask) => ask(job));
