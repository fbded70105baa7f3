/**
 * Where a section's centre has gone, from the errors of its flats: least squares of error = shift . n + growth, n a
 * flat's normal. One flat, or two that do not face each other, cannot show it, and a direction that none of the
 * normals shows stays zero. Source: linear least squares, normal equations; on a regular section (2 / n) sum e n.
 */
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

/** Gaussian elimination; the matrix is symmetric and positive. */
function solve(matrix: readonly (readonly number[])[], right: readonly number[]): readonly number[] {
  const size = right.length;
  const work = matrix.map((row, i) => [...row, right[i] ?? 0]);
  for (let pivot = 0; pivot < size; pivot += 1) {
    const top = work[pivot] ?? [];
    for (let r = 0; r < size; r += 1) {
      const row = work[r] ?? [];
      if (r === pivot) continue;
      const times = (row[pivot] ?? 0) / (top[pivot] ?? 1);
      for (let c = pivot; c <= size; c += 1) row[c] = (row[c] ?? 0) - times * (top[c] ?? 0);
    }
  }
  return work.map((row, i) => (row[size] ?? 0) / (row[i] ?? 1));
}
