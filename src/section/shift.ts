/**
 * Where a section's centre has gone, from the errors of its flats: least squares of error = shift . n + growth, n a
 * flat's normal. One flat, or two that do not face each other, cannot show it, and a direction that none of the
 * normals shows stays zero. Source: linear least squares, normal equations; on a regular section (2 / n) sum e n.
 */
import { solve } from '../quantity/solve.js';
import { normal, opposite, type Section } from './flat.js';

/** The shift of a section's centre for errors of its flats: rows give y and z for each flat's error. */
export function shiftRows(section: Section): {
  readonly y: readonly number[];
  readonly z: readonly number[];
} {
  // One flat, or two that do not face each other, cannot show where the centre went.
  const shows = section.length > 2 || (section.length === 2 && opposite(section, 0) !== 'none');
  if (!shows) return { y: section.map(() => 0), z: section.map(() => 0) };
  // Least squares of error = shift . n + growth; a breath of ridge keeps a direction that two flats cannot see at zero.
  const rows = section.map(({ at }) => [normal(at).y, normal(at).z, 1]);
  const matrix = [0, 1, 2].map((r) =>
    [0, 1, 2].map(
      (c) => rows.reduce((sum, row) => sum + (row[r] ?? 0) * (row[c] ?? 0), 0) + (r === c ? RIDGE : 0),
    ),
  );
  const solved = rows.map((row) => solve(matrix, row));
  return { y: solved.map((x) => x[0] ?? 0), z: solved.map((x) => x[1] ?? 0) };
}

const RIDGE = 1e-9;
