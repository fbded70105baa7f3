/**
 * The finished section as characters, seen from the tip: `#` steel that stays, `.` ground away, each flat's
 * number just outside it. A character is taken as twice as high as wide.
 */
import type { MeasuredFlat } from '../check/punch/measure.js';
import { type Blank, circumradius, outsideBlank } from '../section/blank.js';
import { normal, type Section } from '../section/flat.js';
import { insideSection } from '../section/outline.js';

/** Characters from the axis to the edge, upward. */
const HALF_HEIGHT = 7;

export function sectionDrawing(blank: Blank, flats: readonly MeasuredFlat[], indent = 2): string {
  const section: Section = flats.map(({ at, distance }) => ({ at, distance }));
  const scale = circumradius(blank) / HALF_HEIGHT;
  const rows: string[][] = Array.from({ length: 2 * HALF_HEIGHT + 3 }, (_, row) =>
    Array.from({ length: 4 * HALF_HEIGHT + 5 }, (__, column) => {
      const point = { y: ((column - 2 * HALF_HEIGHT - 2) * scale) / 2, z: (HALF_HEIGHT + 1 - row) * scale };
      if (outsideBlank(blank, point) > 0) return ' ';
      return insideSection(section, point) ? '#' : '.';
    }),
  );
  for (const { flat, at } of flats) {
    const out = normal(at);
    const row = rows[Math.round(HALF_HEIGHT + 1 - out.z * (HALF_HEIGHT + 1))];
    const column = Math.round(2 * HALF_HEIGHT + 2 + out.y * 2 * (HALF_HEIGHT + 1));
    if (row !== undefined) row[column] = flat === 'not ordered' ? '?' : `${flat % 10}`;
  }
  return rows
    .map((row) => `${' '.repeat(indent)}${row.join('').trimEnd()}`.trimEnd())
    .filter((row) => row !== '')
    .map((row) => `${row}\n`)
    .join('');
}
