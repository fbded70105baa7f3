/**
 * Linear equations solved, A x = b: Gaussian elimination with the largest of each column as its pivot.
 * Source: any text of numerical methods; held against mathjs and NIST's reference data by tests.
 */

/** The unknowns; not numbers where the equations do not determine them. */
export function solve(matrix: readonly (readonly number[])[], right: readonly number[]): readonly number[] {
  const size = right.length;
  const rows = matrix.map((row, i) => [...row, right[i] ?? 0]);
  for (let pivot = 0; pivot < size; pivot += 1) {
    const largest = rows.reduce(
      (best, row, r) => (r >= pivot && Math.abs(at(row, pivot)) > Math.abs(at(rows[best], pivot)) ? r : best),
      pivot,
    );
    [rows[pivot], rows[largest]] = [rows[largest] ?? [], rows[pivot] ?? []];
    const top = rows[pivot] ?? [];
    rows.forEach((row, r) => {
      if (r === pivot) return;
      const times = at(row, pivot) / at(top, pivot);
      for (let c = pivot; c <= size; c += 1) row[c] = at(row, c) - times * at(top, c);
    });
  }
  return rows.map((row, i) => at(row, size) / at(row, i));
}

const at = (row: readonly number[] | undefined, column: number): number => row?.[column] ?? Number.NaN;
