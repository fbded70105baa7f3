/** Stock left on a flat against its strokes: rough, finish and spark-out each with its own line. */

import { PASS_KINDS, type PassKind } from '../../plan/passes.js';
import type { Plan } from '../../plan/plan.js';
import { passesIn } from '../../plan/step.js';
import { sayIn } from '../../quantity/say.js';
import { type Mm, mm } from '../../quantity/unit.js';
import { type Markup, NOTHING } from '../html.js';
import { label, line, type Point, picture, polyline } from './svg.js';

const [WIDTH, HEIGHT, FONT] = [160, 34, 3.6];

const LOOK: Record<PassKind, string> = { rough: 'bold', finish: 'double', 'spark-out': 'dotted' };

/** @returns an SVG of the first flat's strokes; empty without flats. */
export function drawPasses(plan: Plan): Markup {
  const say = sayIn(plan.job.units);
  const flat = plan.flats[0];
  if (flat === undefined) return NOTHING;
  const passes = passesIn(plan.steps).flatMap((step) => (step.flat === flat ? [step.pass] : []));
  const start = passes.reduce((most, { level }) => Math.max(most, level - flat.w), flat.stock as number);
  const at = (count: number, left: number): Point => [
    (count / Math.max(1, passes.length)) * WIDTH,
    HEIGHT * (1 - left / start),
  ];
  const kinds = PASS_KINDS.flatMap((kind) => {
    const first = passes.findIndex((pass) => pass.kind === kind);
    const last = passes.findLastIndex((pass) => pass.kind === kind);
    return first < 0 ? [] : [{ kind, first, last }];
  });
  const curves = kinds.map(({ kind, first, last }) => {
    let height = first === 0 ? start : (passes[first - 1]?.level ?? 0) - flat.w;
    const steps = passes.slice(first, last + 1).flatMap(({ level }, i): Point[] => {
      const before = height;
      height = level - flat.w;
      return [at(first + i, before), at(first + i, height), at(first + i + 1, height)];
    });
    return polyline(steps, LOOK[kind]);
  });
  // Finish and spark-out are short stretches at the end: their names stand in one line over it.
  const names = kinds.map(({ kind, first, last }) => `${last - first + 1} ${kind}`).join(', ');
  const roughed = passes.findLast(({ kind }) => kind === 'rough');
  const left: Mm = mm(roughed === undefined ? flat.stock : roughed.level - flat.w);
  const body = [
    line([0, HEIGHT], [WIDTH, HEIGHT], 'thin'),
    line([0, 0], [0, HEIGHT], 'thin'),
    ...curves,
    label(
      [WIDTH, FONT],
      `${say.length(mm(start))} over the flat at the start, run-out room included`,
      FONT,
      'end',
    ),
    label([WIDTH, FONT * 2.4], `${names}; ${say.length(left)} left for finishing`, FONT, 'end'),
    label([WIDTH, HEIGHT + FONT * 1.4], `${passes.length} strokes of flat ${flat.number}`, FONT, 'end'),
  ];
  return picture(
    [-1, -2, WIDTH + 2, HEIGHT + FONT * 2 + 2],
    `Stock left against strokes of flat ${flat.number}: ${names}`,
    body,
  );
}
