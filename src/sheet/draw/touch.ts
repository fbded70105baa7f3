/**
 * Where the wheel stands at the two touches that make the zero, to scale near the tip: the rim beside the upper edge of the
 * front face with a feeler between, then the rim over the top of the blank, a little behind the tip. Which corner of the
 * rim meets which edge is what words leave open. Source: places of plan/hands and plan/touch-off.
 */
import type { Job, Wheel } from '../../job/job.js';
import { standingAt } from '../../job/standing.js';
import { facePlace } from '../../plan/hands.js';
import type { Plan } from '../../plan/plan.js';
import { rad } from '../../quantity/unit.js';
import { blankSupport } from '../../section/blank.js';
import { lowestArc } from '../../wheel/periphery.js';
import { html, type Markup } from '../html.js';
import { paperOf, pen, wallLean } from './paper.js';
import { framed, type Point, picture } from './svg.js';

/** How much is shown, in radii of the blank, but not less than these millimetres. */
const [WIDE, LEAST_WIDE] = [3.4, 10] as const;
/** Height over width of what is shown. */
const SHAPE = 0.55;
/** Stretches a plain wheel's curve is drawn in. */
const ARC_PARTS = 40;

interface Place {
  readonly u: number;
  readonly w: number;
}

/** @returns an SVG of one or two windows side by side. */
export function drawTouch(plan: Plan): Markup {
  const { job, touchOff } = plan;
  const first = job.punch.section[0]?.at ?? rad(0);
  const stands = standingAt(job, first) !== 'none';
  const views = [
    { caption: 'edge of the face, feeler between', place: facePlace(job, first), isEdge: true },
    ...(stands ? [] : [{ caption: 'top, behind the tip', place: touchOff, isEdge: false }]),
  ];
  const width = Math.max(LEAST_WIDE, WIDE * blankSupport(job.blank, first));
  const height = width * SHAPE;
  const gap = width * 0.08;
  const font = width / 17;
  const { label } = pen(false);
  const body = views.map(({ caption, place, isEdge }, i): Markup => {
    const left = i * (width + gap);
    const view = cornerView(plan, place, isEdge, width, height);
    return html`${framed([left, 0, width, height], view.box, view.body)}${label([left + width / 2, height + 1.3 * font], caption, font)}`;
  });
  const whole = views.length * width + (views.length - 1) * gap;
  const describe = `Where the wheel stands to find the zero: ${views.map(({ caption }) => caption).join('; ')}`;
  return picture([-0.1, -0.1, whole + 0.2, height + 1.8 * font], describe, body);
}

/** The tip's upper corner with the wheel at `place`, and the box of it that is shown. */
function cornerView(
  plan: Plan,
  place: Place,
  isEdge: boolean,
  width: number,
  height: number,
): { readonly box: readonly [number, number, number, number]; readonly body: readonly Markup[] } {
  const { job } = plan;
  const { at, ofPart, mirrored } = paperOf(plan);
  const { labelOn, line, polygon } = pen(mirrored);
  const first = job.punch.section[0]?.at ?? rad(0);
  const over = blankSupport(job.blank, first);
  const under = blankSupport(job.blank, rad(first + Math.PI));
  const back = -2 * width;
  const corner = ofPart(0, over);
  const rimCorner = at(place.u - job.wheel.radius, place.w);
  const body = [
    polygon([ofPart(back, over), corner, ofPart(0, -under), ofPart(back, -under)], 'metal'),
    line(ofPart(back, 0), ofPart(width, 0), 'axis'),
    polygon(wheelAt(job, place, 2 * height, at), 'bold'),
    ...(isEdge ? [feeler(corner, rimCorner, job.wheel.shape, height)] : []),
    labelOn([corner[0] - width * 0.28, corner[1] + height * 0.25], 'blank', width / 17),
    labelOn(inWall(job, place, corner, at, width, height), 'wheel', width / 17),
  ];
  const left = corner[0] - width * 0.5;
  return {
    box: [mirrored ? -left - width : left, corner[1] - height * 0.62, width, height],
    body,
  };
}

/** The middle of what is seen of the wall, some way over the rim. */
function inWall(
  { wheel }: Job,
  { u, w }: Place,
  corner: Point,
  at: (u: number, w: number) => Point,
  width: number,
  height: number,
): Point {
  const inner = at(u - wheel.radius, w);
  const up = height * 0.42;
  const seen = Math.min(wheel.rim, corner[0] + width / 2 - inner[0]);
  return at(u - wheel.radius + seen / 2 + wallLean(wheel, up), w + up);
}

/** Between the upper edge of the face and a straight wall; the corner of a flaring rim meets the face below that edge. */
function feeler(corner: Point, rimCorner: Point, shape: Wheel['shape'], height: number): Markup {
  const { line } = pen(false);
  return shape === 'flaring cup'
    ? line(
        [rimCorner[0], rimCorner[1] - height * 0.08],
        [rimCorner[0], rimCorner[1] + height * 0.08],
        'double',
      )
    : line([corner[0], corner[1] - height * 0.06], [corner[0], corner[1] + height * 0.08], 'double');
}

/** What is seen of the wheel: the wall of its cup, or the lowest of a plain wheel. */
function wheelAt(
  { wheel }: Job,
  { u, w }: Place,
  high: number,
  at: (u: number, w: number) => Point,
): readonly Point[] {
  const { radius, rim, periphery } = wheel;
  if (periphery > 0)
    return lowestArc(periphery, Math.min(high, periphery), ARC_PARTS).map(([x, lift]) => at(u + x, w + lift));
  const inner = u - radius;
  const lean = wallLean(wheel, high);
  return [at(inner + lean, w + high), at(inner, w), at(inner + rim, w), at(inner + rim + lean, w + high)];
}
