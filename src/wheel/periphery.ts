/**
 * A plain wheel grinds with its periphery: its lowest line lies across the flat, and x beside it along the stroke it
 * stands higher by lift(x) = Rg - sqrt(Rg^2 - x^2), Rg its radius. So
 *   over metal that slopes by t it touches first Rg sin t from its lowest line, and that line stands Rg (1 / cos t - 1)
 *     higher than a plane rim would there;
 *   past an edge d above its lowest line it must stay sqrt(2 Rg d - d^2) away from it;
 *   behind the end of a flat it runs out over x, where lift(x) = d + x tan t, d the metal over the flat there: the shank
 *     comes out hollow by Rg.
 * A cup's face is a plane: the same with Rg = 0. Source: sagitta of a circle; Machinery's Handbook, 31st ed., p. 79.
 */
import { type Mm, mm, type Rad } from '../quantity/unit.js';
import { stockTop } from './frame.js';

/** How much higher the periphery stands `x` beside its lowest line; infinite where the wheel is not. */
export const liftAt = (x: number, radius: Mm): number =>
  Math.abs(x) >= radius
    ? Math.abs(x) === 0
      ? 0
      : Number.POSITIVE_INFINITY
    : radius - Math.sqrt(radius ** 2 - x ** 2);

/** How much higher than a plane rim the lowest line stands where the wheel first touches metal that slopes. */
export const tangentRise = (radius: Mm, slope: Rad): Mm => mm(radius * (1 / Math.cos(slope) - 1));

/** How far from the lowest line the periphery stands `height` above it; the radius above its axis, 0 below the line. */
export function halfChord(radius: Mm, height: number): Mm {
  const within = Math.min(Math.max(0, height), radius);
  return mm(Math.sqrt(Math.max(0, 2 * radius * within - within ** 2)));
}

/**
 * How far past an edge `height` above its lowest line that line must stay, for the periphery to keep `gap` all round it:
 * sqrt((Rg + gap)^2 - (Rg - height)^2), the whole of Rg + gap where the edge stands above the axis; of a cup the gap itself.
 */
export function besideEdge(radius: Mm, height: number, gap: number): number {
  if (radius === 0) return gap;
  const down = radius - height;
  return down <= 0 ? radius + gap : Math.sqrt(Math.max(0, (radius + gap) ** 2 - down ** 2));
}

/** How far behind the end of a flat the periphery runs out, metal standing `over` it there and rising by `slope`. */
export function runOut(radius: Mm, over: number, slope: Rad): Mm {
  if (radius === 0 || over <= 0) return mm(0);
  const [farther = radius] = meetsSlope(radius, over, slope);
  return mm(Math.min(radius, farther));
}

/**
 * How far behind the lowest line its circle meets a top that stands `over` that line there and rises by `slope`, the
 * farther place first: (over + x tan t - Rg)^2 + x^2 = Rg^2. None where they do not meet.
 */
export function meetsSlope(radius: Mm, over: number, slope: Rad): readonly number[] {
  const k = Math.tan(slope);
  const [a, b, c] = [1 + k * k, 2 * (over - radius) * k, (over - radius) ** 2 - radius ** 2];
  const root = b * b - 4 * a * c;
  return root < 0 ? [] : [1, -1].map((sign) => (-b + sign * Math.sqrt(root)) / (2 * a));
}

/** The same behind a stroke that reached `reach` at a height of `w`, in a blank of that `support`. */
export const runOutBehind = (radius: Mm, support: Mm, reach: Mm, w: number, slope: Rad): Mm =>
  runOut(radius, stockTop(support, reach, slope) - w, slope);

/** Points of the lowest stretch of a wheel, up to `height`, beside its lowest line; a number of them more than `parts`. */
export const lowestArc = (
  radius: Mm,
  height: number,
  parts: number,
): readonly (readonly [x: number, lift: number])[] =>
  Array.from({ length: parts + 1 }, (_, i) => {
    const x = halfChord(radius, height) * ((2 * i) / parts - 1);
    return [x, Math.min(height, liftAt(x, radius))] as const;
  });

/** A stretch of metal seen along the stroke: its top at u, and where its highest under an arc may lie. */
export interface Profile {
  readonly top: (u: number) => number;
  readonly corners: readonly number[];
  /** No metal past it. */
  readonly end: number;
}

/**
 * Height of the lowest line of a wheel at `u` that just touches `profile`; -infinity where no metal is under the wheel.
 * The corners, the end and the place where the wheel touches a line of `slope` are enough: between two corners the top
 * is a line, or an arc of the wheel itself.
 */
export function restsAt({ top, corners, end }: Profile, u: number, radius: Mm, slope: Rad): number {
  const places = [...corners, end, u, u - radius * Math.sin(slope)];
  return places.reduce((highest, at) => {
    if (at > end) return highest;
    const lift = liftAt(at - u, radius);
    return Number.isFinite(lift) ? Math.max(highest, top(at) - lift) : highest;
  }, Number.NEGATIVE_INFINITY);
}
