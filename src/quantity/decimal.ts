/**
 * Numbers as text with a fixed number of decimals: no exponent, no "-0", half away from zero.
 * Rounding belongs to the writer of text; geometry is never rounded.
 */

/** `value` rounded to `decimals` places, half away from zero, never -0. */
export function roundTo(value: number, decimals: number): number {
  const scale = 10 ** decimals;
  // The nudge turns 1.0005 * 1000 = 1000.4999999999999 back into the half it was written as.
  const rounded = Math.round(Math.abs(value) * scale * (1 + Number.EPSILON)) / scale;
  return value < 0 && rounded !== 0 ? -rounded : rounded;
}

/** Exactly `decimals` places: 1.5 -> "1.500". */
export const fixed = (value: number, decimals: number): string => roundTo(value, decimals).toFixed(decimals);

/** At most `decimals` places, without trailing zeros: 1.5 -> "1.5", 2 -> "2". */
export function trimmed(value: number, decimals: number): string {
  const text = fixed(value, decimals);
  return text.includes('.') ? text.replace(/\.?0+$/, '') : text;
}
