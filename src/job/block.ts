/**
 * An indexing block as it was measured: a pin in its bore, each side down in turn, the height m of the pin's top read. What
 * goes round once is the bore off the middle of the sides, the rest each side's own error:
 *   a = (2/n) sum m cos(th), b = (2/n) sum m sin(th), e = hypot(a, b), own error m - mean - a cos(th) - b sin(th)
 * Where the axis stands r higher than on the mean, a flat comes out r / cos t nearer to it; what it is opposite, as much
 * farther if the bore is off, so that a micrometer across them is blind to that. Source: first Fourier coefficient.
 */
import { withinTurn } from '../quantity/angle.js';
import { type Mm, mm, type Rad, rad } from '../quantity/unit.js';
import { settingFor } from './indexing.js';
import type { Job } from './job.js';

export interface BlockFit {
  /** How far the bore lies off the middle of the sides, and toward which, from side 1. */
  readonly by: Mm;
  readonly toward: Rad;
  readonly sides: readonly {
    readonly side: number;
    readonly read: Mm;
    /** What of it is the side's own. */
    readonly own: Mm;
    /** Ground off it, all sides would read alike. */
    readonly off: Mm;
  }[];
}

export function fitBlock(measured: readonly Mm[]): BlockFit {
  const n = measured.length;
  const mean = measured.reduce((sum, read) => sum + read, 0) / n;
  const angle = (i: number): number => (2 * Math.PI * i) / n;
  const part = (of: (angle: number) => number): number =>
    (2 / n) * measured.reduce((sum, read, i) => sum + read * of(angle(i)), 0);
  const [a, b] = [part(Math.cos), part(Math.sin)];
  const least = Math.min(...measured);
  return {
    by: mm(Math.hypot(a, b)),
    // The pin stands high over a side that is down when the bore lies away from it.
    toward: withinTurn(rad(Math.atan2(-b, -a))),
    sides: measured.map((read, i) => ({
      side: i + 1,
      read,
      own: mm(read - mean - a * Math.cos(angle(i)) - b * Math.sin(angle(i))),
      off: mm(read - least),
    })),
  };
}

/** How much higher than on the mean of its sides the axis stands while what lies at `at` is up; 0 of a block not measured. */
export function axisRise({ holding }: Pick<Job, 'holding'>, at: Rad): Mm {
  const { device } = holding;
  if (device?.kind !== 'indexing block' || device.measured === undefined) return mm(0);
  const { measured, sides } = device;
  const setting = settingFor(device, rad(0), at);
  if (setting === 'cannot' || setting.kind !== 'block side') return mm(0);
  // The side opposite the one that is up lies down.
  const down = (setting.side - 1 + sides / 2) % sides;
  const mean = measured.reduce((sum, read) => sum + read, 0) / sides;
  return mm((measured[down] ?? mean) - mean);
}

/** How much higher a program goes for it, where the job takes it back flat by flat. */
export const takenBack = (job: Pick<Job, 'holding'>, at: Rad): Mm => {
  const { device } = job.holding;
  return device?.kind === 'indexing block' && device.takeBack ? axisRise(job, at) : mm(0);
};
