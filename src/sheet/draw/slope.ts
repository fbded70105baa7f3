/**
 * What sets the slope, to scale from the side, tip to the right as in the other drawings: a sine bar on its rolls, blocks
 * under the one at the shank end, or a plate on its front edge with a strip, pins or a wedge under it; holder and blank on
 * top. A bar of length L whose rolls differ by H in height leans by t, H = L sin t; what lies under a plate touches it from
 * below. Source: plane geometry, as hand/slope-means.
 */
import { type SlopeSetting, settingsFor } from '../../hand/slope-means.js';
import type { Job } from '../../job/job.js';
import { wheelAbove } from '../../job/layout.js';
import { usesBar } from '../../job/set-up.js';
import type { Plan } from '../../plan/plan.js';
import { toMm } from '../../quantity/length.js';
import { sayIn } from '../../quantity/say.js';
import type { Rad } from '../../quantity/unit.js';
import { circumradius } from '../../section/blank.js';
import { stackFor } from '../gauge.js';
import { type Markup, NOTHING } from '../html.js';
import { paperOf, pen } from './paper.js';
import { type Point, picture } from './svg.js';

/** Radius of the rolls, thickness of bar or plate, length of a holder: any will do to see which end is up. */
const [ROLL, THICK, HOLDER] = [10, 9, 45] as const;
/** How long a strip is drawn. */
const STRIP = 8;

/** What slopes the punch lies on a table and is not its own block: one can draw it from the side. */
export const isDrawn = (job: Job): boolean =>
  job.holding.slope.by === 'fixture' &&
  wheelAbove(job.machine.layout) &&
  (usesBar(job) || job.holding.slope.using === 'shim' || settingsFor(job).length > 0);

type Piece =
  | { readonly kind: 'round'; readonly at: Point; readonly radius: number }
  | { readonly kind: 'straight'; readonly points: readonly Point[] };

/**
 * What lies on the table under a bar or a plate of `length`, counted from where its underside meets the table.
 * @param base height of a block under the lower roll.
 */
function underneath(job: Job, length: number, base: number): readonly Piece[] {
  const t = job.punch.relief;
  if (usesBar(job)) {
    const [back, rise] = [length * Math.cos(t), length * Math.sin(t)];
    const blocks = (at: number, height: number): readonly Piece[] =>
      height > 0 ? [{ kind: 'straight', points: upright(at - ROLL, at + ROLL, height) }] : [];
    return [
      { kind: 'round', at: [0, -base - ROLL], radius: ROLL },
      { kind: 'round', at: [-back, -base - ROLL - rise], radius: ROLL },
      ...blocks(0, base),
      ...blocks(-back, base + rise),
    ];
  }
  const [setting] = settingsFor(job);
  return setting === undefined ? [wedge(length, t)] : piecesOf(setting, length, t);
}

const upright = (left: number, right: number, height: number): readonly Point[] => [
  [left, 0],
  [left, -height],
  [right, -height],
  [right, 0],
];

const wedge = (length: number, t: Rad): Piece => ({
  kind: 'straight',
  points: [
    [0, 0],
    [-length * Math.cos(t), 0],
    [-length * Math.cos(t), -length * Math.sin(t)],
  ],
});

/** A round of `diameter` on the table touches a plate that leans by t at its centre's distance d / (2 tan(t / 2)). */
const pin = (diameter: number, t: Rad): Piece => ({
  kind: 'round',
  at: [-diameter / 2 / Math.tan(t / 2), -diameter / 2],
  radius: diameter / 2,
});

function piecesOf(setting: SlopeSetting, length: number, t: Rad): readonly Piece[] {
  switch (setting.using) {
    case 'strip':
      return [{ kind: 'straight', points: upright(-setting.base - STRIP, -setting.base, setting.thickness) }];
    case 'pin':
      return [pin(setting.diameter, t)];
    case 'pins':
      return setting.diameters.map((diameter) => pin(diameter, t));
    case 'angle blocks':
      return [wedge(length, t)];
  }
}

/** A letter is about so wide, in its height. */
const LETTER = 0.56;

/** How far behind the place where its underside would meet the table a plate begins that lies over both pins alike. */
function frontOverPins(
  { diameters, base }: Extract<SlopeSetting, { readonly using: 'pins' }>,
  length: number,
  t: Rad,
): number {
  const [small] = diameters;
  return small / 2 / Math.tan(t / 2) - (length - base) / 2;
}

/** @returns an SVG in mm; empty where `isDrawn` says it cannot be drawn. */
export function drawSlope(plan: Plan): Markup {
  const { job } = plan;
  if (!isDrawn(job)) return NOTHING;
  const say = sayIn(job.units);
  const t = job.punch.relief;
  const { slope, nose } = job.holding;
  const bar = usesBar(job);
  const length = (bar ? slope.sineBar : undefined) ?? slope.plate;
  const font = length / 16;
  const { mirrored } = paperOf(plan);
  const { circle, label, line, polygon } = pen(mirrored);
  const [first] = bar ? [] : settingsFor(job);
  const stack =
    bar && plan.sineBarHeight !== 'none'
      ? stackFor(slope.gauges, plan.sineBarHeight, slope.wearBlocks)
      : 'none';
  const base = typeof stack === 'object' && stack.base !== 'none' ? toMm(stack.base, slope.gauges.units) : 0;
  const lower: Point = bar ? [0, -ROLL - base] : [0, 0];
  // Two pins carry the plate between them, its front edge clear; their tangent meets the table before it.
  const begins = first?.using === 'pins' ? frontOverPins(first, length, t) : 0;
  /** A point so far back along what slopes and so far over it. */
  const on = (behind: number, over: number): Point => [
    lower[0] - (behind + begins) * Math.cos(t) + over * Math.sin(t),
    lower[1] - (behind + begins) * Math.sin(t) - over * Math.cos(t),
  ];
  const box = ([from, to]: readonly [number, number], [low, high]: readonly [number, number]): Markup =>
    polygon([on(from, low), on(to, low), on(to, high), on(from, high)], 'metal');
  const deck = bar ? ROLL * 0.4 + THICK : THICK;
  const overhang = bar ? ROLL : 0;
  const holder = Math.min(HOLDER, length / 2);
  const half = Math.min(nose.halfHeight, length / 5);
  const R = Math.min(circumradius(job.blank), half);
  const front = holder / 2;
  const tip = front - job.blank.stickOut;
  const height = plan.sineBarHeight === 'none' ? '' : say.length(plan.sineBarHeight);
  const under = base > 0 ? `blocks under both rolls, ${height} more here` : `blocks ${height} under the roll`;
  const raised = `shank end raised: ${bar ? under : (first?.using ?? 'tapered shim')}`;
  const left = -length - begins - 3.2 * font;
  const body = [
    line([-length - begins - 3 * font, 0], [Math.max(-tip, overhang) + font, 0], 'bold'),
    ...underneath(job, length, base).map((piece) =>
      piece.kind === 'round' ? circle(piece.at, piece.radius, 'solid') : polygon(piece.points, 'solid'),
    ),
    box([-overhang, length + overhang], [deck - THICK, deck]),
    box([front, front + holder], [deck, deck + 2 * half]),
    box([tip, front], [deck + half - R, deck + half + R]),
    line(on(tip - font, deck + half), on(front + holder + font, deck + half), 'axis'),
    label([on(tip, 0)[0], on(tip, deck + half + R)[1] - 0.6 * font], 'tip, low', font),
    label([left + 0.6 * font, 1.3 * font], raised, font, 'start'),
  ];
  const right = Math.max(Math.max(-tip, overhang) + 3 * font, left + (raised.length + 1) * LETTER * font);
  const top = Math.min(on(front + holder, deck + 2 * half)[1], on(length, deck)[1] - 1.5 * font) - font;
  const describe = `What sets the slope of ${say.angle(t)}, from the side: raised at the shank end, the tip lies low`;
  return picture([mirrored ? -right : left, top, right - left, 2 * font - top], describe, body);
}
