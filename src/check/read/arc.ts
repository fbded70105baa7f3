/**
 * Arcs, by centre (I J K, from the start point) or by radius (R > 0 the shorter way, R < 0 the longer).
 * Centre from the radius: on the perpendicular of the chord, sqrt(r^2 - (c/2)^2) from its middle, on the
 * side that gives less than half a turn for R > 0.
 * Source: NISTIR 6556 (RS274/NGC v3), 3.5.3; radii at start and end may differ by 0.002 mm.
 */
import { type Axis, type Coordinate, LINEAR, type ModalState, type Position } from './state.js';

export interface Arc {
  readonly plane: ModalState['plane'];
  readonly turns: 'clockwise' | 'counter-clockwise';
  /** Centre on the plane's first and second axis, mm. */
  readonly centre: readonly [number, number];
  readonly radius: number;
  /** Swept angle, radians, more than 0 and at most one turn. */
  readonly sweep: number;
  /** Direction of its start from the centre, radians from the plane's first axis. */
  readonly start: number;
  /** What X counts: an arc is round in true lengths, though its X may be written as a diameter. */
  readonly xCounts: 1 | 2;
}

/** Least and most of the plane's first (0) or second (1) axis along the arc, as programmed. */
export function arcSpan(
  { plane, centre, radius, sweep, start, turns, xCounts }: Arc,
  of: 0 | 1,
): readonly [number, number] {
  const way = turns === 'counter-clockwise' ? 1 : -1;
  const value = (angle: number): number =>
    (centre[of] ?? 0) + radius * (of === 0 ? Math.cos(angle) : Math.sin(angle));
  const turn = 2 * Math.PI;
  // Where the arc is farthest out along this axis, if it comes by.
  const extremes = [0, Math.PI].map((at) => at + (of === 0 ? 0 : Math.PI / 2));
  const met = extremes.filter((at) => (((way * (at - start)) % turn) + turn) % turn <= sweep);
  const counts = PLANE_AXES[plane][of] === 'x' ? xCounts : 1;
  const values = [start, start + way * sweep, ...met].map((angle) => counts * value(angle));
  return [Math.min(...values), Math.max(...values)];
}

/** First and second axis of each plane, counter-clockwise from the first to the second. */
export const PLANE_AXES = {
  G17: ['x', 'y'],
  G18: ['z', 'x'],
  G19: ['y', 'z'],
} as const satisfies Record<ModalState['plane'], readonly [string, string]>;

/** Radii at both ends may differ by this, mm. */
const RADII_DIFFER = 0.002;

/** A sweep below this is rounding: the arc ends where it starts and is a whole turn. */
const NO_SWEEP = 1e-12;

export interface ArcWords {
  readonly i: number | undefined;
  readonly j: number | undefined;
  readonly k: number | undefined;
  readonly r: number | undefined;
}

/** The arc, or why there is none, in words. */
export function centreOf(
  plane: ModalState['plane'],
  turns: Arc['turns'],
  from: Position,
  to: Position,
  { i, j, k, r }: ArcWords,
  xCounts: 1 | 2,
): Arc | string {
  const [first, second] = PLANE_AXES[plane];
  const real = (axis: Axis, value: Coordinate): Coordinate =>
    axis === 'x' && value !== 'unknown' ? value / xCounts : value;
  const [x0, y0, x1, y1] = [
    real(first, from[first]),
    real(second, from[second]),
    real(first, to[first]),
    real(second, to[second]),
  ];
  if (x0 === 'unknown' || y0 === 'unknown' || x1 === 'unknown' || y1 === 'unknown')
    return 'its start is not known';
  if (LINEAR.some((axis) => from[axis] === 'unknown')) return 'its start is not known';
  const offsets = { x: i, y: j, z: k };
  const outside = LINEAR.find((axis) => axis !== first && axis !== second && offsets[axis] !== undefined);
  if (outside !== undefined)
    return `an offset along ${outside.toUpperCase()} lies outside its plane ${plane}`;
  const [di, dj] = [offsets[first], offsets[second]];
  if (r !== undefined) {
    if (di !== undefined || dj !== undefined) return 'it has both a radius and a centre';
    return byRadius({ plane, turns, xCounts }, [x0, y0], [x1, y1], r);
  }
  if (di === undefined && dj === undefined) return 'it has neither a centre nor a radius';
  const centre = [x0 + (di ?? 0), y0 + (dj ?? 0)] as const;
  const [start, end] = [
    Math.hypot(x0 - centre[0], y0 - centre[1]),
    Math.hypot(x1 - centre[0], y1 - centre[1]),
  ];
  if (start === 0 || Math.abs(start - end) > RADII_DIFFER) return 'its radius differs between start and end';
  return {
    plane,
    turns,
    centre,
    radius: start,
    sweep: sweepOf(turns, centre, [x0, y0], [x1, y1]),
    start: Math.atan2(y0 - centre[1], x0 - centre[0]),
    xCounts,
  };
}

type Pair = readonly [number, number];

function byRadius(
  of: Pick<Arc, 'plane' | 'turns' | 'xCounts'>,
  from: Pair,
  to: Pair,
  r: number,
): Arc | string {
  const { turns } = of;
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const chord = Math.hypot(dx, dy);
  if (chord === 0) return 'an arc by radius cannot end where it starts';
  const radius = Math.abs(r);
  if (chord / 2 > radius + RADII_DIFFER) return 'its ends lie farther apart than the radius allows';
  const rise = Math.sqrt(Math.max(0, radius ** 2 - (chord / 2) ** 2));
  // Left of the chord for a short counter-clockwise arc; the other three cases change side or not.
  const side = (turns === 'counter-clockwise') === r > 0 ? 1 : -1;
  const centre = [
    (from[0] + to[0]) / 2 - (side * rise * dy) / chord,
    (from[1] + to[1]) / 2 + (side * rise * dx) / chord,
  ] as const;
  const start = Math.atan2(from[1] - centre[1], from[0] - centre[0]);
  return { ...of, centre, radius, sweep: sweepOf(turns, centre, from, to), start };
}

function sweepOf(turns: Arc['turns'], centre: Pair, from: Pair, to: Pair): number {
  const angle = (point: Pair): number => Math.atan2(point[1] - centre[1], point[0] - centre[0]);
  const forward = turns === 'counter-clockwise' ? angle(to) - angle(from) : angle(from) - angle(to);
  const turn = 2 * Math.PI;
  const swept = ((forward % turn) + turn) % turn;
  return swept < NO_SWEEP ? turn : swept;
}
