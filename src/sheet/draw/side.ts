/**
 * Punch, wheel and nose in the plane of the slope, to scale: the wheel at the end of its stroke and clear of the
 * tip. With the head tilted everything turns, so that the punch lies level as it does on that machine.
 */

import { layoutOf } from '../../job/job.js';
import type { Layout } from '../../job/layout.js';
import type { FlatPlan } from '../../plan/flat.js';
import type { Plan } from '../../plan/plan.js';
import { sayIn } from '../../quantity/say.js';
import { type Mm, mm, rad } from '../../quantity/unit.js';
import { blankSupport } from '../../section/blank.js';
import { atDepth } from '../../section/flat.js';
import { outlineSupport } from '../../section/outline.js';
import { stockTop } from '../../wheel/frame.js';
import { lowestArc } from '../../wheel/periphery.js';
import { html, type Markup, NOTHING } from '../html.js';
import { breakLine, paperOf, pen, wallLean } from './paper.js';
import { type Point, picture } from './svg.js';

/** Stretches a plain wheel's curve is drawn in. */
const ARC_PARTS = 40;

/** The shank behind a flat ground by a plain wheel: from where its curve leaves the raw top, down to the flat. */
function hollow(periphery: Mm, { reach, w }: FlatPlan, raw: (u: number) => number): readonly Point[] {
  return lowestArc(periphery, raw(reach - periphery) - w, ARC_PARTS)
    .filter(([x, lift]) => x < 0 && w + lift <= raw(reach + x))
    .map(([x, lift]): Point => [reach + x, w + lift]);
}

/** Where the punch moves and the wheel stands, its carriage goes the other way. */
const punchMoves = ({ kind }: Layout): boolean =>
  kind === 'lathe, wheel in the spindle' || kind === 'bench grinder with a rail';

/** Which way the machine's axes move what they move, with their letters. */
function axesMark(
  layout: Layout,
  { line, polygon, label }: ReturnType<typeof pen>,
  [x, y]: Point,
  font: number,
): Markup {
  const { along, up } = layout;
  const way = punchMoves(layout) ? -1 : 1;
  const arrow = ([dx, dy]: Point, letter: string): Markup => {
    const tip: Point = [x + dx * 2.4 * font, y + dy * 2.4 * font];
    const [bx, by] = [tip[0] - dx * 0.7 * font, tip[1] - dy * 0.7 * font];
    const half = 0.25 * font;
    const text: Point = [x + dx * 3.2 * font, y + dy * 3 * font + 0.35 * font];
    return html`${line([x, y], tip, 'thin')}${polygon([tip, [bx - dy * half, by + dx * half], [bx + dy * half, by - dx * half]], 'solid')}${label(text, letter, font)}`;
  };
  return html`${arrow([way * along.sign, 0], `${along.axis.toUpperCase()}+`)}${arrow([0, -way * up.sign], `${up.axis.toUpperCase()}+`)}${punchMoves(layout) ? label([x, y - 1.2 * font], 'punch moves', font) : NOTHING}`;
}

/** What of the wheel's height is shown; the rest is cut off. */
const SHOWN_HEIGHT = 20;
/** Of a cup's back, from where it is cut off. */
const WEB = 6;
/** Height and width of a tooth of the line it is cut off at. */
const TOOTH = 1.4;

/** @returns an SVG in the plane of the slope, in mm; empty without flats. */
export function drawSide(plan: Plan): Markup {
  const { job, positions } = plan;
  const flat = plan.flats[0];
  if (flat === undefined) return NOTHING;
  const say = sayIn(job.units);
  const t = job.punch.relief;
  const { at, ofPart, head, mirrored } = paperOf(plan);
  const { circle, dimension, label, line, polygon, polyline } = pen(mirrored);
  const { stickOut } = job.blank;
  const { halfHeight } = job.holding.nose;
  const top = blankSupport(job.blank, flat.at);
  const below = outlineSupport(job.punch.section, job.blank, rad(flat.at + Math.PI));
  const under = blankSupport(job.blank, rad(flat.at + Math.PI));
  const end = flat.w * Math.sin(t) - flat.reach * Math.cos(t);
  const behind = stickOut + 8;
  const opposite = below < under - 1e-6;
  const atEnd = atDepth(job.punch.section, mm(end), t);
  const belowEnd = outlineSupport(atEnd, job.blank, rad(flat.at + Math.PI));
  const punch: Point[] = [
    ofPart(-behind, top),
    ...(job.wheel.periphery > 0
      ? hollow(job.wheel.periphery, flat, (u) => stockTop(top, mm(u), t)).map(([u, w]) => at(u, w))
      : [at(flat.reach, flat.stockTop)]),
    at(flat.reach, flat.w),
    ofPart(0, flat.distance),
    ofPart(0, -below),
    ...(opposite ? [ofPart(-end, -belowEnd), ofPart(-end, -under)] : []),
    ofPart(-behind, -under),
  ];
  const nose = [1, -1].map((side) =>
    polygon(
      [
        ofPart(-stickOut, side * halfHeight),
        ofPart(-stickOut, side * (side > 0 ? top : under)),
        ofPart(-behind, side * (side > 0 ? top : under)),
        ofPart(-behind, side * halfHeight),
      ],
      'solid',
    ),
  );
  const right = positions.clear + 5;
  const wheel = (centre: number, of: string): Markup => {
    const { radius, rim, periphery } = job.wheel;
    const roof = flat.w + SHOWN_HEIGHT;
    if (periphery > 0)
      return polyline(
        lowestArc(periphery, SHOWN_HEIGHT, ARC_PARTS).map(([x, lift]) => at(centre + x, flat.w + lift)),
        of,
      );
    const lean = wallLean(job.wheel, SHOWN_HEIGHT);
    const outline = [
      at(centre - radius + lean, roof),
      at(centre - radius, flat.w),
      at(centre - radius + rim, flat.w),
      at(centre - radius + rim + lean, roof - WEB),
      at(centre, roof - WEB),
    ];
    return polyline(outline, of);
  };
  // The cup goes on over its roof; where it stands clear the same is understood.
  const cut =
    job.wheel.periphery > 0
      ? []
      : [
          polyline(
            breakLine(
              at(
                flat.centreEnd - job.wheel.radius + wallLean(job.wheel, SHOWN_HEIGHT),
                flat.w + SHOWN_HEIGHT,
              ),
              at(flat.centreEnd, flat.w + SHOWN_HEIGHT),
              TOOTH,
            ),
            'thin',
          ),
        ];
  const bottom = Math.max(...[ofPart(-stickOut, -halfHeight), ofPart(0, -under)].map(([, y]) => y));
  const ceiling = Math.min(
    at(flat.centreEnd, flat.w + SHOWN_HEIGHT)[1],
    at(positions.clear, flat.w + SHOWN_HEIGHT)[1],
  );
  const left = ofPart(-behind, 0)[0] - 2;
  const width = right - left;
  const font = width / 38;
  const tick = font * 0.25;
  const row = (count: number): number => bottom + font * (0.6 + 1.7 * count);
  const tip = ofPart(0, 0)[0];
  const over = (count: number): number => ceiling - font * (0.7 + 1.7 * count);
  const along = (from: number, to: number, y: number, text: string): Markup => {
    const middle = (from + to) / 2;
    return html`${dimension([from, y], [to, y], tick)}${label([middle, y - font * 0.42], text, font)}`;
  };
  const [endAt, clearAt] = [at(flat.centreEnd, flat.w)[0], at(positions.clear, flat.w)[0]];
  const radius = layoutOf(job).xWritten === 'diameter' ? ' (radius)' : '';
  const zero = at(0, 0);
  const rimAt = at(positions.clear, flat.w);
  const column = right + font * 0.6;
  const body = [
    polygon(punch, 'metal'),
    ...nose,
    line(ofPart(-behind, 0), ofPart(10, 0), 'axis'),
    line(zero, [right, zero[1]], 'faint'),
    circle(zero, font * 0.25, 'solid'),
    wheel(flat.centreEnd, 'bold'),
    wheel(positions.clear, 'dashed'),
    ...cut,
    line(at(flat.centreEnd, flat.w - 3), at(flat.centreEnd, flat.w + SHOWN_HEIGHT), 'axis'),
    line(at(positions.clear, flat.w - 3), at(positions.clear, flat.w + SHOWN_HEIGHT), 'axis'),
    along(ofPart(-stickOut, 0)[0], tip, row(1), `stick-out ${say.length(stickOut)}`),
    along(ofPart(-job.punch.flatLength, 0)[0], tip, row(2), `flats ${say.length(job.punch.flatLength)}`),
    // With the head tilted these run along the rim's plane, not along the paper.
    ...(head
      ? []
      : [
          along(tip, endAt, over(0), `end of stroke ${say.length(mm(flat.centreEnd))}${radius}`),
          along(tip, clearAt, over(1), `clear ${say.length(positions.clear)}${radius}`),
        ]),
    // With the head tilted the rim's height does not stand upright on paper.
    ...(head
      ? []
      : [
          line(rimAt, [column, rimAt[1]], 'faint'),
          dimension([column, rimAt[1]], [column, zero[1]], tick),
          label([column + font * 0.4, zero[1] + font * 1.1], `rim ${say.length(flat.w)}`, font, 'start'),
        ]),
    label([column + font * 0.4, zero[1] + font * 2.3], `slope ${say.angle(t)}`, font, 'start'),
    axesMark(
      layoutOf(job),
      pen(mirrored),
      [column + font * 4, zero[1] - font * (punchMoves(layoutOf(job)) ? 6.4 : 3.2)],
      font,
    ),
  ];
  const height = row(2) + font - over(2);
  const describe = `Side view in the plane of the slope: wheel at the end of its stroke and clear of the tip, nose, slope ${say.angle(t)}`;
  const whole = column + font * 8.4;
  const box = [mirrored ? -whole : left, over(2), whole - left, height] as const;
  return picture(box, describe, body);
}
