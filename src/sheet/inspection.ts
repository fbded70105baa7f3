/**
 * Part 8: what the micrometer should read. Across flat i at a depth d the section is that of section/flat at d:
 * every flat nearer by d tan a, so flats read 2 d tan a less and a corner follows its flats.
 */

import { oppositeOf, sizeGradient } from '../plan/error-model.js';
import type { Plan } from '../plan/plan.js';
import { trimmed } from '../quantity/decimal.js';
import { fromMm, toMm } from '../quantity/length.js';
import { sayIn } from '../quantity/say.js';
import { mm } from '../quantity/unit.js';
import { atDepth } from '../section/flat.js';
import { acrossFlat } from '../section/outline.js';
import { type Part, part } from './model.js';

/** Depths looked at behind the front edge. */
const DEPTHS = { mm: [0, 2, 5, 8], inch: [0, 0.08, 0.2, 0.3] } as const;

export function inspectionPart({ job, readings }: Plan): Part {
  const say = sayIn(job.units);
  const { section, relief, tolerance, flatLength } = job.punch;
  const depths = DEPTHS[job.units]
    .map((depth) => toMm(depth, job.units))
    .filter((depth) => depth < flatLength);
  const pairs = section.flatMap((_, i) => {
    const opposite = oppositeOf(job, i);
    if (opposite.kind === 'flat')
      return opposite.index > i ? [{ i, name: `${i + 1} - ${opposite.index + 1}` }] : [];
    return [{ i, name: opposite.kind === 'corner' ? `${i + 1} - corner` : `${i + 1} - round` }];
  });
  const rows = pairs.map(({ i, name }) => {
    const at = depths.map((depth) => acrossFlat(atDepth(section, depth, relief), job.blank, i));
    const front = at[0] ?? mm(0);
    const roughed = readings.find(({ flat }) => flat === i + 1)?.roughed ?? front;
    return [
      name,
      say.column(roughed),
      ...at.map((size) => say.column(size)),
      say.column(mm(front - tolerance.minus)),
      say.column(mm(front + tolerance.plus)),
    ];
  });
  // All flats move together with the rim: the reading follows by the sum of its derivatives.
  const share = sizeGradient(job, 0).distances.reduce((sum, each) => sum + each, 0);
  const behind = depths.slice(1).map((depth) => `${trimmed(fromMm(depth, job.units), 2)} behind`);
  return part('inspection', 'Inspection', {
    tables: [
      {
        head: ['across', 'roughed, front', 'front', ...behind, 'least, front', 'most, front'],
        rows,
        pen: ['read, front', `read, ${behind[0] ?? 'behind'}`],
      },
    ],
    notes: [
      `All in ${job.units === 'inch' ? 'inches' : 'mm'}. Measure cold and clean, at the front edge and behind it: the difference proves the relief.`,
      `What it reads too large, divided by ${trimmed(share, 2)}, is how much too high the rim stood.`,
    ],
  });
}
