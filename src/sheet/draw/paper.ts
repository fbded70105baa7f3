/**
 * The plane of the slope on paper: points of the wheel frame and of the part frame in mm, y down. With the head tilted
 * everything turns, so that the punch lies level as it does on that machine; a tip that points to -X points to the left.
 */
import { layoutOf, slopeOf, type Wheel } from '../../job/job.js';
import type { Layout } from '../../job/layout.js';
import type { Plan } from '../../plan/plan.js';
import { toPartFrame, toWheelFrame } from '../../wheel/frame.js';
import type { Anchor, Point } from './svg.js';
import * as svg from './svg.js';

/** A mill whose tip points to -X, seen from the front. */
const isMirrored = ({ kind, along }: Layout): boolean =>
  kind === 'mill' && along.axis === 'x' && along.sign < 0;

/** What draws, to the right as it stands or to the left: points are turned over, text is not. */
export function pen(mirrored: boolean) {
  const f = ([x, y]: Point): Point => [mirrored ? -x : x, y];
  const side = (anchor: Anchor): Anchor =>
    !mirrored || anchor === 'middle' ? anchor : anchor === 'start' ? 'end' : 'start';
  return {
    polygon: (list: readonly Point[], of: string) => svg.polygon(list.map(f), of),
    polyline: (list: readonly Point[], of: string) => svg.polyline(list.map(f), of),
    line: (from: Point, to: Point, of: string) => svg.line(f(from), f(to), of),
    circle: (at: Point, radius: number, of: string) => svg.circle(f(at), radius, of),
    dimension: (from: Point, to: Point, tick: number) => svg.dimension(f(from), f(to), tick),
    labelOn: (at: Point, text: string, size: number) => svg.labelOn(f(at), text, size),
    label: (at: Point, text: string, size: number, anchor: Anchor = 'middle') =>
      svg.label(f(at), text, size, side(anchor)),
  };
}

/** How the plane of the slope lies on paper. */
export function paperOf({ job }: Plan) {
  const t = job.punch.relief;
  const head = slopeOf(job).by === 'head';
  /** A point of the wheel frame on paper. */
  const at = (u: number, w: number): Point => {
    if (!head) return [u, -w];
    const { x, z } = toPartFrame({ u, v: 0, w }, t);
    return [x, -z];
  };
  /** A point of the part frame on paper. */
  const ofPart = (x: number, z: number): Point => {
    const { u, w } = toWheelFrame({ x, y: 0, z }, t);
    return at(u, w);
  };
  return { at, ofPart, head, mirrored: isMirrored(layoutOf(job)) };
}

/** An edge where something is cut off that goes on: a line that goes to and fro between the two points. */
export function breakLine(from: Point, to: Point, tooth: number): readonly Point[] {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const length = Math.hypot(dx, dy);
  const teeth = Math.max(2, 2 * Math.round(length / tooth / 2));
  return Array.from({ length: teeth + 1 }, (_, i): Point => {
    const off = i === 0 || i === teeth ? 0 : (((i % 2) * 2 - 1) * tooth) / 2;
    return [
      from[0] + (dx * i) / teeth - (dy / length) * off,
      from[1] + (dy * i) / teeth + (dx / length) * off,
    ];
  });
}

/** A flaring cup is widest at its rim: how far its wall has come in at a height over it. Any lean will do to be seen. */
export const wallLean = ({ shape }: Pick<Wheel, 'shape'>, height: number): number =>
  shape === 'flaring cup' ? height * FLARE : 0;
const FLARE = 0.25;
