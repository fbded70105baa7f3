/** Part 4: touch-off, where the rim's edge stands and what the axes must read, with and without a feeler. */
import { layoutOf, slopeOf } from '../../job/job.js';
import { toMachine } from '../../job/layout.js';
import type { Plan } from '../../plan/plan.js';
import { trimmed } from '../../quantity/decimal.js';
import { toMm } from '../../quantity/length.js';
import { sayIn } from '../../quantity/say.js';
import { mm } from '../../quantity/unit.js';
import { big, type Part, part } from '../model.js';

/** Paper and feelers at hand in a shop. */
const FEELERS = { mm: [0, 0.05, 0.1], inch: [0, 0.002, 0.004] } as const;

/** Readings in the machine's units, as its axes show them. */
export function touchPart({ job, touchOff, flats }: Plan): Part {
  const say = sayIn(job.units);
  const there = sayIn(job.machine.units);
  const layout = layoutOf(job);
  const [along, up] = [layout.along.axis, layout.up.axis];
  const { units } = job.machine;
  /** What the axes read with the rim at `level` over the place of the touch-off. */
  const reads = (level: number): readonly string[] => {
    const at = toMachine(layout, slopeOf(job), { u: touchOff.u, v: 0, w: level });
    return [there.column(mm(at[along])), there.column(mm(at[up]))];
  };
  const blank = FEELERS[units].map((written) => [
    written === 0 ? 'blank, first spark' : `blank, ${trimmed(written, 3)} feeler`,
    ...reads(touchOff.w + toMm(written, units)),
  ]);
  const flat = flats[0];
  const ground =
    flat === undefined
      ? []
      : [
          ['flat 1, roughed', ...reads(flat.w + job.grinding.finishAllowance)],
          ['flat 1, finished', ...reads(flat.w)],
        ];
  const diameter = layout.xWritten === 'diameter' ? ' X is a diameter.' : '';
  const across = layout.across === 'none' ? '' : `, ${layout.across.axis.toUpperCase()} on the tool axis`;
  return part('touch', 'Touch-off', {
    facts: [big('Rim edge', `${say.length(touchOff.overlap)} behind the tip`)],
    tables: [
      {
        head: [
          'touching',
          `${along.toUpperCase()} must read ${there.unit}`,
          `${up.toUpperCase()} must read ${there.unit}`,
        ],
        rows: [...blank, ...ground],
      },
    ],
    notes: [
      `Over the tip${across}: type the numbers into the work offset while the wheel stands there.${diameter}`,
      'The first rows hold on an un-ground blank only. To set a worn or dressed rim anew touch a ground flat 1 and type its row: a row of the blank would send the wheel deep into it.',
      slopeOf(job).by === 'head'
        ? 'The rim hangs lowest on the shank side, so the first spark comes there, not at the tip.'
        : 'The blank rises toward the shank, so the first spark comes there, not at the tip; a set-up from the tip would crash.',
      `With the wheel running come down by ${say.length(job.grinding.roughInfeed)} at a time until it sparks; with a feeler the wheel stands still.`,
    ],
  });
}
