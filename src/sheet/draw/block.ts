/** The indexing block, to scale: seen from the tip with its sides numbered, and from the side with its lengths. */
import type { BlockDesign } from '../../hand/block.js';
import { type Say, sayIn } from '../../quantity/say.js';
import type { LengthUnit } from '../../quantity/unit.js';
import { html, type Markup } from '../html.js';
import { circle, dimension, label, line, type Point, picture, polygon } from './svg.js';

/** Corners of an even polygon of `across` flats, side 1 up, y down. */
const corners = (sides: number, across: number): readonly Point[] =>
  Array.from({ length: sides }, (_, i): Point => {
    const angle = (2 * Math.PI * (i + 0.5)) / sides;
    const reach = across / 2 / Math.cos(Math.PI / sides);
    return [-reach * Math.sin(angle), -reach * Math.cos(angle)];
  });

/** @returns an SVG in mm. */
export function drawBlock(design: BlockDesign, units: LengthUnit): Markup {
  const say = sayIn(units);
  const { sides, front, rear, length, bore, roundStock } = design;
  const font = rear * 0.075;
  const far = roundStock / 2 + 2.2 * font;
  const numbers = Array.from({ length: sides }, (_, i) => {
    const angle = (2 * Math.PI * i) / sides;
    const reach = rear / 2 + 0.9 * font;
    return label([-reach * Math.sin(angle), -reach * Math.cos(angle) + 0.35 * font], `${i + 1}`, font);
  });
  const body = [
    polygon(corners(sides, rear), 'metal'),
    ...(rear > front ? [polygon(corners(sides, front), 'thin')] : []),
    circle([0, 0], bore / 2, 'thin'),
    line([-roundStock / 2, 0], [roundStock / 2, 0], 'axis'),
    line([0, -roundStock / 2], [0, roundStock / 2], 'axis'),
    ...numbers,
    sideView(design, say, far + length * 0.45, font),
  ];
  const width = 2 * far + length * 1.9 + 9 * font;
  const describe = `Indexing block of ${sides} sides, ${say.length(front)} across at the tip end, ${say.length(rear)} at the rear, ${say.length(length)} long, bore ${say.length(bore)}`;
  return picture([-far, -far, width, 2 * far + 2 * font], describe, body);
}

/** From the side: rear on the left, the tip end on the right, as the punch lies in the other drawings. */
function sideView(
  { front, rear, length, bore, boreOver, slope }: BlockDesign,
  say: Say,
  left: number,
  font: number,
): Markup {
  const right = left + length;
  const tick = font * 0.3;
  const below = rear / 2 + 1.4 * font;
  return html`${[
    polygon(
      [
        [left, -rear / 2],
        [right, -front / 2],
        [right, front / 2],
        [left, rear / 2],
      ],
      'metal',
    ),
    line([left, -bore / 2], [right, -bore / 2], 'dashed'),
    line([left, bore / 2], [right, bore / 2], 'dashed'),
    line([left - font, 0], [right + 2 * font, 0], 'axis'),
    dimension([left - 1.2 * font, -rear / 2], [left - 1.2 * font, rear / 2], tick),
    label([left - 1.6 * font, -rear / 2 - 0.4 * font], say.length(rear), font),
    dimension([right + 1.2 * font, -front / 2], [right + 1.2 * font, front / 2], tick),
    label([right + 1.6 * font, -front / 2 - 0.4 * font], say.length(front), font),
    dimension([left, below], [right, below], tick),
    label([(left + right) / 2, below + 1.2 * font], say.length(length), font),
    label([right + 1.6 * font, front / 2 + 1.2 * font], 'tip end', font),
    label(
      [(left + right) / 2, -bore / 2 - 0.5 * font],
      `bore ${say.length(bore)} +${say.length(boreOver)}`,
      font,
    ),
    ...(slope > 0 ? [label([(left + right) / 2, -rear / 2 - 0.4 * font], say.angle(slope), font)] : []),
  ]}`;
}
