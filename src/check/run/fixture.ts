/**
 * The wheel against boxes of the fixture and the table, in the machine's own axes. The wheel counts as its
 * outer cylinder, from the rim upward without end; along a move it sweeps a strip of that radius in plan,
 * at the lowest height of the move. With the head tilted by t the rim dips Rw sin t lower and the body leans
 * out by its height x sin t: both are added. On the safe side for moves that climb past a box.
 * Source: distance from a segment to a rectangle, plane geometry. Lengths mm.
 */
import { type Job, layoutOf, slopeOf } from '../../job/job.js';
import { mm } from '../../quantity/unit.js';
import type { FindingBody } from '../finding.js';
import type { Position } from '../read/state.js';
import { type Move, spanOn } from './sweep.js';

interface Place {
  readonly x: number;
  readonly y: number;
  readonly z: number;
}

/** What the wheel would touch on a straight way from one place to the other. */
export function meetsFixture(job: Job, move: Move): readonly FindingBody[] {
  const { from, to } = move;
  const { boxes, table } = job.holding;
  if ((boxes.length === 0 && table === undefined) || layoutOf(job).across === 'none') return [];
  const [a, b] = [known(from), known(to)];
  if (b === 'unknown') return [];
  const start = a === 'unknown' ? b : a;
  const lean = slopeOf(job).by === 'head' ? Math.sin(slopeOf(job).angle) : 0;
  const radius = job.wheel.radius + job.wheel.height * lean;
  const lowest =
    (move.arc === 'straight' ? Math.min(start.z, b.z) : spanOn(move, 'z')[0]) - job.wheel.radius * lean;
  const findings: FindingBody[] = [];
  if (table !== undefined && lowest <= table) {
    findings.push({ code: 'wheel-meets-fixture', what: 'table', by: mm(table - lowest) });
  }
  for (const { name, x, y, z } of boxes) {
    if (lowest > z[1]) continue;
    const box = { left: x[0], right: x[1], near: y[0], far: y[1] };
    const gap =
      (move.arc === 'straight' ? fromRectangle(start, b, box) : arcFromRectangle(move, box)) - radius;
    if (gap <= 0) findings.push({ code: 'wheel-meets-fixture', what: name, by: mm(-gap) });
  }
  return findings;
}

function known({ x, y, z }: Position): Place | 'unknown' {
  return x === 'unknown' || y === 'unknown' || z === 'unknown' ? 'unknown' : { x, y, z };
}

interface Rectangle {
  readonly left: number;
  readonly right: number;
  readonly near: number;
  readonly far: number;
}

/** Distance in plan from the segment a-b to a rectangle; 0 if they meet. */
export function fromRectangle(a: Place, b: Place, box: Rectangle): number {
  if (crosses(a, b, box)) return 0;
  const toBox = ({ x, y }: Place): number =>
    Math.hypot(Math.max(box.left - x, 0, x - box.right), Math.max(box.near - y, 0, y - box.far));
  const corners = [box.left, box.right].flatMap((x) => [box.near, box.far].map((y) => ({ x, y })));
  return Math.min(toBox(a), toBox(b), ...corners.map((corner) => toSegment(corner, a, b)));
}

/** On the safe side for an arc: distance from the box it runs in. */
function arcFromRectangle(move: Move, box: Rectangle): number {
  const [[left, right], [near, far]] = [spanOn(move, 'x'), spanOn(move, 'y')];
  return Math.hypot(
    Math.max(box.left - right, 0, left - box.right),
    Math.max(box.near - far, 0, near - box.far),
  );
}

function toSegment({ x, y }: { readonly x: number; readonly y: number }, a: Place, b: Place): number {
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
