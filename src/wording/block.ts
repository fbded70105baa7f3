/** What a measured indexing block comes to: bore off the middle, each side's own error, what each flat stands off by. */
import { axisRise, type BlockFit, fitBlock } from '../job/block.js';
import type { Job } from '../job/job.js';
import { degFromRad } from '../quantity/angle.js';
import { trimmed } from '../quantity/decimal.js';
import { type Say, sayIn } from '../quantity/say.js';
import { mm } from '../quantity/unit.js';

/** With its sign, unless it shows as nothing. */
function signed(say: Say, value: number): string {
  const shown = say.column(mm(Math.abs(value)));
  return Number(shown) === 0 ? shown : `${value < 0 ? '-' : '+'}${shown}`;
}

/** The fit of the job's block; `none` where it was not measured. */
export const blockFit = ({ holding }: Job): BlockFit | 'none' =>
  holding.device?.kind === 'indexing block' && holding.device.measured !== undefined
    ? fitBlock(holding.device.measured)
    : 'none';

/** `bore 0.012 mm off toward 30 deg from side 1, sides within 0.004 mm of their own`, and what becomes of it. */
export function blockWords(job: Job): readonly string[] {
  const fit = blockFit(job);
  if (fit === 'none') return [];
  const say = sayIn(job.units);
  const own = Math.max(...fit.sides.map((side) => Math.abs(side.own)));
  const { device } = job.holding;
  const taken = device?.kind === 'indexing block' && device.takeBack;
  const flats = job.punch.section.map(
    ({ at }, i) => `${i + 1} ${signed(say, -axisRise(job, at) / Math.cos(job.punch.relief))}`,
  );
  return [
    `bore ${say.length(fit.by)} off toward side ${nearestSide(fit)} (${trimmed(degFromRad(fit.toward), 0)} deg from side 1); sides out by up to ${say.length(mm(own))} of their own`,
    taken
      ? 'taken back flat by flat: the program goes higher and lower for it. Grind the sides, and the block must be read anew first: never both'
      : `from the axis flats come out ${flats.join(', ')} ${say.unit}; across a pair the bore does not show (takeBack: true takes it back)`,
  ];
}

/** The side the bore lies nearest to. */
const nearestSide = ({ toward, sides }: BlockFit): number =>
  (Math.round((toward * sides.length) / (2 * Math.PI)) % sides.length) + 1;

/** One row for each side: what the pin read, its own error, what to grind off. */
export function blockTable(job: Job): {
  readonly head: readonly string[];
  readonly rows: readonly (readonly string[])[];
} {
  const fit = blockFit(job);
  const say = sayIn(job.units);
  return {
    head: ['side down', 'side up', 'pin top', 'its own error', 'or grind off'],
    rows:
      fit === 'none'
        ? []
        : fit.sides.map(({ side, read, own, off }) => [
            `${side}`,
            `${((side - 1 + fit.sides.length / 2) % fit.sides.length) + 1}`,
            say.column(read),
            signed(say, own),
            say.column(off),
          ]),
  };
}
