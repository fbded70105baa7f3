/** Part 4: touch-off, where the rim's edge stands and what the axes must read, with and without a feeler. */
import { layoutOf, slopeOf } from '../job/job.js';
import { toMachine } from '../job/layout.js';
import type { Plan } from '../plan/plan.js';
import { trimmed } from '../quantity/decimal.js';
import { fromMm, toMm } from '../quantity/length.js';
import { sayIn } from '../quantity/say.js';
import { mm } from '../quantity/unit.js';
import { blankSupport } from '../section/blank.js';
import { tipEdge } from '../section/frame.js';
import { big, type Part, part } from './model.js';

/** Paper and feelers at hand in a shop. */
const FEELERS = { mm: [0, 0.05, 0.1], inch: [0, 0.002, 0.004] } as const;

export function touchPart({ job, touchOff }: Plan): Part {
  const say = sayIn(job.units);
  const there = sayIn(job.machine.units);
  const layout = layoutOf(job);
  const [along, up] = [layout.along.axis, layout.up.axis];
  const first = job.punch.section[0];
  const reach = blankSupport(job.blank, first?.at ?? (0 as never));
  const u = mm(tipEdge(reach, job.punch.relief) - touchOff.overlap + job.wheel.radius);
  const units = job.machine.units;
  const rows = FEELERS[units].map((written) => {
    const at = toMachine(layout, slopeOf(job), { u, v: 0, w: touchOff.w + toMm(written, units) });
    return [
      written === 0
        ? 'none, first spark'
        : `${trimmed(fromMm(toMm(written, units), units), 3)} ${there.unit}`,
      there.column(mm(at[along])),
      there.column(mm(at[up])),
    ];
  });
  const across = layout.across === 'none' ? '' : `, ${layout.across.axis.toUpperCase()} on the tool axis`;
  return part('touch', 'Touch-off', {
    facts: [big('Rim edge', `${say.length(touchOff.overlap)} behind the tip`)],
    tables: [
      {
        head: [
          'paper or feeler',
          `${along.toUpperCase()} must read ${there.unit}`,
          `${up.toUpperCase()} must read ${there.unit}`,
        ],
        rows,
      },
    ],
    notes: [
      `Behind the upper edge of the tip, over the blank${across}.`,
      'Type these numbers into the work offset while the wheel stands there.',
      'The blank rises toward the shank, so the first spark comes under the rim edge on the shank side, not at the tip. A program set up from the tip would crash.',
      'With the wheel running, come down in hundredths until it sparks. With paper or a feeler the wheel stands still.',
    ],
  });
}
