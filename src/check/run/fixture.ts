/**
 * The wheel against boxes of the fixture and the table, in the machine's own axes. The wheel counts as its outer
 * cylinder, from the rim upward without end; along a move it sweeps a strip of that radius in plan, at the lowest
 * height of the move, and keeps the job's clearance. A rapid of two level axes may run anywhere in its rectangle, an
 * arc anywhere in the box of the part it sweeps. With the head tilted by t the rim dips Rw sin t lower and the body
 * leans out by its height x sin t: both are added. A machine without an axis across stands at 0 there. On the safe side
 * for moves that climb past a box. Source: distance from a segment to a rectangle, plane geometry. Lengths mm.
 */
import { type Job, layoutOf, slopeOf, topOfBox } from '../../job/job.js';
import { countsOf, type LinearAxis } from '../../job/layout.js';
import { ROUNDING } from '../../quantity/tolerance.js';
import { mm } from '../../quantity/unit.js';
import { type FindingBody, NOTHING } from '../finding.js';
import { isUnknown } from '../read/state.js';
import { type Move, spanOn } from './place.js';

/** A place in plan: along the tool axis and across it, in the machine's directions. */
interface Place {
  readonly x: number;
  readonly y: number;
}

interface Rectangle {
  readonly left: number;
  readonly right: number;
  readonly near: number;
  readonly far: number;
}

type Span = readonly [number, number];

/** What the wheel would touch on the way from one place to the other; nothing where a place is not known. */
export function meetsFixture(job: Job, move: Move): readonly FindingBody[] {
  const { boxes, table } = job.holding;
  if (boxes.length === 0 && table === undefined) return NOTHING;
  if (isUnknown(move.from) || isUnknown(move.to)) return NOTHING;
  const layout = layoutOf(job);
  const { along, across, up } = layout;
  const real = (axis: LinearAxis, value: number): number => value / countsOf(layout, axis);
  const span = (axis: LinearAxis): Span => {
    const [least, most] = spanOn(move, axis);
    return [real(axis, least), real(axis, most)];
  };
  const beside = across === 'none' ? 'y' : across.axis;
  const lean = slopeOf(job).by === 'head' ? Math.sin(slopeOf(job).angle) : 0;
  const kept = job.grinding.clearance - 2 * ROUNDING;
  // A plain wheel lies across: it is held to stand as wide as its radius both ways.
  const radius = job.wheel.radius + job.wheel.periphery + job.wheel.height * lean;
  const lowest = Math.min(...span(up.axis).map((value) => value * up.sign)) - job.wheel.radius * lean;
  const findings: FindingBody[] = [];
  if (table !== undefined && lowest < table + kept) {
    findings.push({ code: 'wheel-meets-fixture', what: 'table', by: mm(table + kept - lowest) });
  }
  const straight = move.arc === 'straight' && !(move.rapid && movesTwo(move, [along.axis, beside]));
  const at = (end: 'from' | 'to'): Place => ({
    x: real(along.axis, Number(move[end][along.axis])),
    y: real(beside, Number(move[end][beside])),
  });
  for (const box of boxes) {
    const top = topOfBox(layout, box);
    if (lowest >= top + kept) continue;
    const [[left, right], [near, far]] = [box[along.axis], box[beside]];
    const rectangle = { left, right, near, far };
    const gap =
      (straight
        ? fromRectangle(at('from'), at('to'), rectangle)
        : betweenRectangles(rectangle, span(along.axis), span(beside))) -
      radius -
      kept;
    if (gap < 0) findings.push({ code: 'wheel-meets-fixture', what: box.name, by: mm(-gap) });
  }
  return findings;
}

const movesTwo = ({ from, to }: Move, axes: readonly LinearAxis[]): boolean =>
  axes.every((axis) => from[axis] !== to[axis]);

/** Distance in plan from the segment a-b to a rectangle; 0 if they meet. */
export function fromRectangle(a: Place, b: Place, box: Rectangle): number {
  if (crosses(a, b, box)) return 0;
  const toBox = ({ x, y }: Place): number =>
    Math.hypot(Math.max(box.left - x, 0, x - box.right), Math.max(box.near - y, 0, y - box.far));
  const corners = [box.left, box.right].flatMap((x) => [box.near, box.far].map((y) => ({ x, y })));
  return Math.min(toBox(a), toBox(b), ...corners.map((corner) => toSegment(corner, a, b)));
}

/** Distance between a rectangle and the one a move runs in. */
const betweenRectangles = (box: Rectangle, [left, right]: Span, [near, far]: Span): number =>
  Math.hypot(Math.max(box.left - right, 0, left - box.right), Math.max(box.near - far, 0, near - box.far));

function toSegment({ x, y }: Place, a: Place, b: Place): number {
  const [dx, dy] = [b.x - a.x, b.y - a.y];
  const length = dx * dx + dy * dy;
  const along = length === 0 ? 0 : Math.min(1, Math.max(0, ((x - a.x) * dx + (y - a.y) * dy) / length));
  return Math.hypot(x - a.x - along * dx, y - a.y - along * dy);
}

/** Whether the segment passes through the rectangle: clipped to each pair of sides, something is left. */
function crosses(a: Place, b: Place, { left, right, near, far }: Rectangle): boolean {
  let [enter, leave] = [0, 1];
  for (const [start, change, least, most] of [
    [a.x, b.x - a.x, left, right],
    [a.y, b.y - a.y, near, far],
  ] as const) {
    if (change === 0) {
      if (start < least || start > most) return false;
      continue;
    }
    const [one, other] = [(least - start) / change, (most - start) / change];
    enter = Math.max(enter, Math.min(one, other));
    leave = Math.min(leave, Math.max(one, other));
  }
  return enter <= leave;
}
