/**
 * Slips of the pen in units: a job that cannot be planned, and could if one of its numbers were in other units than it was
 * read in. Inches for millimetres or the other way round, radians for degrees, metres a second for turns a minute.
 */
import type { Job } from '../job/job.js';
import { degFromRad } from '../quantity/angle.js';
import { toMm } from '../quantity/length.js';
import { speedAtSurface } from '../quantity/speed.js';
import { mm, mPerS, rad } from '../quantity/unit.js';
import { isPostable, type Plan, planJob } from './plan.js';

export interface Slip {
  readonly key: string;
  readonly meant: 'inches' | 'mm' | 'radians' | 'm/s';
}

type Change = (job: Job) => Job;

const INCH = toMm(1, 'inch');
const DEG = degFromRad(rad(1));

/** A length of a job, by its key, made so many times as large. */
const LENGTHS: readonly (readonly [key: string, times: (factor: number) => Change])[] = [
  [
    'punch',
    (factor) => (job) => ({
      ...job,
      punch: {
        ...job.punch,
        section: job.punch.section.map((flat) => ({ ...flat, distance: mm(flat.distance * factor) })),
      },
    }),
  ],
  [
    'punch.flatLength',
    (factor) => (job) => ({ ...job, punch: { ...job.punch, flatLength: mm(job.punch.flatLength * factor) } }),
  ],
  [
    'blank.size',
    (factor) => (job) => ({ ...job, blank: { ...job.blank, size: mm(job.blank.size * factor) } }),
  ],
  [
    'blank.stickOut',
    (factor) => (job) => ({ ...job, blank: { ...job.blank, stickOut: mm(job.blank.stickOut * factor) } }),
  ],
  [
    'wheel.diameter',
    (factor) => (job) => ({
      ...job,
      wheel: {
        ...job.wheel,
        diameter: mm(job.wheel.diameter * factor),
        radius: mm(job.wheel.radius * factor),
      },
    }),
  ],
  [
    'grinding.roughInfeed',
    (factor) => (job) => ({
      ...job,
      grinding: { ...job.grinding, roughInfeed: mm(job.grinding.roughInfeed * factor) },
    }),
  ],
];

const OTHERS: readonly (readonly [slip: Slip, change: Change])[] = [
  [
    { key: 'punch.relief', meant: 'radians' },
    (job) => ({ ...job, punch: { ...job.punch, relief: rad(job.punch.relief * DEG) } }),
  ],
  [
    { key: 'grinding.spindleSpeed', meant: 'm/s' },
    (job) => ({
      ...job,
      grinding: {
        ...job.grinding,
        spindleSpeed: speedAtSurface(job.wheel.diameter, mPerS(job.grinding.spindleSpeed)),
      },
    }),
  ],
  [
    { key: 'wheel.ratedSpeed', meant: 'm/s' },
    (job) => ({
      ...job,
      wheel: { ...job.wheel, ratedSpeed: speedAtSurface(job.wheel.diameter, mPerS(job.wheel.ratedSpeed)) },
    }),
  ],
];

/** The slips each of which alone would explain why a plan has errors; none for one that can be posted. */
export function slipsOf(plan: Plan): readonly Slip[] {
  const { job } = plan;
  if (isPostable(plan)) return [];
  const tried: readonly (readonly [Slip, Change])[] = [
    ...LENGTHS.flatMap(([key, times]) => [
      [{ key, meant: 'inches' }, times(INCH)] as const,
      [{ key, meant: 'mm' }, times(1 / INCH)] as const,
    ]),
    ...OTHERS,
  ];
  return tried.flatMap(([slip, change]) => (isPostable(planJob(change(job))) ? [slip] : []));
}
