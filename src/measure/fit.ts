/**
 * The flats that readings speak of, by linear least squares. Unknown are the distances d of all flats and the zero c
 * of the indicator; a row for each reading,
 *   micrometer   sum of (dM / dd) (d - d0) = M cold - M(d0)     at its depth, M by section/outline
 *   indicator    d + c = H
 * over its spread, and a row d = d0 + m + k L of little weight for each flat, m and k the same for all and L the loss
 * predicted for the rim by then: what readings do not tell is as on the mean, drifting as the wheel wears. A micrometer
 * does not tell the flats of a pair apart, but the drift from pair to pair says which of them was ground with more wear.
 * Source: normal equations of weighted linear least squares, any text of statistics;
 * held against NIST's reference data in tests/reference.
 */
import { solve } from '../quantity/solve.js';
import { type Mm, mm } from '../quantity/unit.js';

/** One equation: coefficients of the unknowns, what they come to, and how sure that is. */
export interface Equation {
  readonly of: readonly number[];
  readonly is: number;
  readonly spread: number;
}

/** The unknowns that fit the equations best; the equations must determine them, as priors see to. */
export function leastSquares(equations: readonly Equation[]): readonly number[] {
  const count = equations[0]?.of.length ?? 0;
  const matrix = Array.from({ length: count }, (_, i) =>
    Array.from({ length: count }, (__, k) =>
      equations.reduce((sum, { of, spread }) => sum + ((of[i] ?? 0) * (of[k] ?? 0)) / spread ** 2, 0),
    ),
  );
  const right = Array.from({ length: count }, (_, i) =>
    equations.reduce((sum, { of, is, spread }) => sum + ((of[i] ?? 0) * is) / spread ** 2, 0),
  );
  return solve(matrix, right);
}

/** How far a flat may be from the mean of all, mm: more than any reading leaves open. */
const ALIKE = 0.1;
/** A flat that was finished before stands where it was left, mm. */
const AS_LEFT = 0.005;
/** A flat far from the others says nothing of them, nor they of it, mm. */
const APART = 1;
/** The mean and the indicator's zero may be anywhere, mm. */
const ANYWHERE = 1000;
/** So many times the predicted wear may be real: grinding ratios spread by a factor of 3 either way (from memory). */
export const WORN_OTHERWISE = 3;

/** A reading over flats: how it moves with each of them, how much it is over what was planned, its spread. */
export interface Row {
  readonly moves: readonly number[];
  readonly over: Mm;
  readonly spread: Mm;
}

/**
 * How much farther from the axis than planned each flat stands, by micrometer rows and indicator heights.
 * @param losses predicted loss of the rim's height when each flat was ground, if it was ground since the rim was set; `apart` for a flat
 * that is known to stand far from the others.
 */
export function flatsOver(
  losses: readonly (Mm | 'done before' | 'apart')[],
  rows: readonly Row[],
  heights: readonly { readonly flat: number; readonly over: Mm; readonly spread: Mm }[],
): readonly Mm[] {
  const flats = losses.length;
  // The unknowns: each flat, then the mean of all, the zero of the indicator, the share of the wear predicted.
  const [mean, zero, share] = [flats, flats + 1, flats + 2];
  const of = (...terms: readonly (readonly [unknown: number, times: number])[]): number[] =>
    Array.from({ length: flats + 3 }, (_, i) => terms.find(([unknown]) => unknown === i)?.[1] ?? 0);
  const equations: Equation[] = [
    ...rows.map(({ moves, over, spread }) => ({ of: [...moves, 0, 0, 0], is: over as number, spread })),
    ...heights.map(({ flat, over, spread }) => ({
      of: of([flat - 1, 1], [zero, 1]),
      is: over as number,
      spread,
    })),
    ...losses.map((loss, i) => {
      if (loss === 'done before') return { of: of([i, 1]), is: 0, spread: AS_LEFT };
      if (loss === 'apart') return { of: of([i, 1]), is: 0, spread: APART };
      return { of: of([i, 1], [mean, -1], [share, -loss]), is: 0, spread: ALIKE };
    }),
    { of: of([mean, 1]), is: 0, spread: ANYWHERE },
    { of: of([zero, 1]), is: 0, spread: ANYWHERE },
    { of: of([share, 1]), is: 0, spread: WORN_OTHERWISE },
  ];
  return leastSquares(equations).slice(0, flats).map(mm);
}
