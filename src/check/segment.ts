/** Straight moves seen from above: how near and how far a point of the plane they come. Source: plane geometry. */

export interface InPlan {
  readonly u: number;
  readonly v: number;
}

/** The least distance of `point` from the segment between two places. */
export function nearestTo(point: InPlan, from: InPlan, to: InPlan): number {
  const [du, dv] = [to.u - from.u, to.v - from.v];
  const length = du * du + dv * dv;
  const along = length === 0 ? 0 : ((point.u - from.u) * du + (point.v - from.v) * dv) / length;
  const at = Math.min(1, Math.max(0, along));
  return Math.hypot(from.u + at * du - point.u, from.v + at * dv - point.v);
}

/** The greatest, which an end has. */
export const farthestFrom = (point: InPlan, from: InPlan, to: InPlan): number =>
  Math.max(Math.hypot(from.u - point.u, from.v - point.v), Math.hypot(to.u - point.u, to.v - point.v));
