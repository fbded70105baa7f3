/**
 * Part 8: what the micrometer should read. Across flat i at a depth d the section is that of section/flat at d:
 * every flat nearer by d tan a, so flats read 2 d tan a less and a corner follows its flats.
 */

import { aimedSection } from '../../job/aim.js';
import type { Plan } from '../../plan/plan.js';
import { trimmed } from '../../quantity/decimal.js';
import { fromMm, toMm } from '../../quantity/length.js';
import { sayIn } from '../../quantity/say.js';
import { mm } from '../../quantity/unit.js';
import { atDepth } from '../../section/flat.js';
import { acrossFlat } from '../../section/outline.js';
import { measuredTo } from '../../section/polygon.js';
import { type Part, part } from '../model.js';

/** Depths looked at behind the front edge. */
const DEPTHS = { mm: [0, 2, 5, 8], inch: [0, 0.08, 0.2, 0.3] } as const;

/** What a flat may be off, to see in a reading. */
const FINE = { mm: 0.01, inch: 0.0005 } as const;

/** One row for each reading, in the job's units. */
export function inspectionPart({ job, readings }: Plan): Part {
  const aimed = aimedSection(job);
  const say = sayIn(job.units);
  const { section, relief, flatLength } = job.punch;
  const fine = toMm(FINE[job.units], job.units);
  const depths = DEPTHS[job.units]
    .map((depth) => toMm(depth, job.units))
    .filter((depth) => depth < flatLength);
  const seen = readings.filter(({ flat }) => {
    const facing = measuredTo(section, flat - 1);
    return typeof facing !== 'number' || facing > flat - 1;
  });
  const nameOf = (flat: number): string => {
    const facing = measuredTo(section, flat - 1);
    return `${flat} - ${typeof facing === 'number' ? facing + 1 : facing}`;
  };
  const rows = seen.map(({ flat, roughed, least, most, share }) => [
    nameOf(flat),
    say.column(roughed),
    ...depths.map((depth) => say.column(acrossFlat(atDepth(aimed, depth, relief), job.blank, flat - 1))),
    say.column(least),
    say.column(most),
    say.column(mm(fine * share)),
  ]);
  const even = section.every((_, i) => typeof measuredTo(section, i) === 'number');
  const behind = depths.slice(1).map((depth) => `${trimmed(fromMm(depth, job.units), 2)} behind`);
  return part('inspection', 'Inspection', {
    tables: [
      {
        head: [
          'across',
          'roughed, front',
          'front',
          ...behind,
          'least',
          'most',
          `${trimmed(fromMm(fine, job.units), 4)} on a flat shows`,
        ],
        rows,
        pen: ['read, front', `read, ${behind[0] ?? 'behind'}`],
      },
    ],
    notes: [
      `All in ${job.units === 'inch' ? 'inches' : 'mm'}. Measure cold and clean, at the front edge and behind it: the difference proves the relief. A flat anvil meets the punch at its edge nearest the front face, and must clear the shoulder: behind counts from that edge.`,
      `Off size: leave the punch clamped, ${job.machine.dials === undefined ? 'set the rim by the rule of touch-off, run again' : 'turn the ring by what it reads, go down again'}.${even ? '' : ' To a corner all flats must read alike, or it says nothing of this one.'}`,
    ],
  });
}
