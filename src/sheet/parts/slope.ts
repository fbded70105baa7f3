/**
 * Part 5: setting the slope t. Sine bar of length L: height L sin t, made of gauge blocks; without one the rise
 * over a span s is s tan t, for shims, parallels or an indicator. An error e in the height turns the slope by
 * e / (L cos t) and moves the size as plan/error-budget says.
 * Source: Mechanical Engineer's Data Handbook, 7.2.3 (sine bar).
 */

import type { GaugeSet } from '../../job/gauge.js';
import { causesOf, grindingOf } from '../../plan/error/budget.js';
import { heldGradient } from '../../plan/error/model.js';
import type { Plan } from '../../plan/plan.js';
import { degFromRad } from '../../quantity/angle.js';
import { fixed, trimmed } from '../../quantity/decimal.js';
import { toMm } from '../../quantity/length.js';
import { sayIn } from '../../quantity/say.js';
import { type Mm, mm, rad } from '../../quantity/unit.js';
import { type Stack, stackFor } from '../gauge.js';
import { big, type Fact, fact, type Part, part } from '../model.js';

/** The error whose effect is shown. */
const SHOWN_ERROR = { mm: 0.01, inch: 0.0005 } as const;
/** Spans of parallels, angle blocks and the circle an indicator swings on. */
const SPANS = { mm: [50, 100, 150], inch: [2, 4, 6] } as const;
/** What of the blank an indicator cannot run along, at its tip and at the nose, and whole steps of the rest. */
const OUT_OF_REACH = { mm: [6, 2], inch: [0.25, 0.1] } as const;
/** What an indicator may be off over that, and still good. */
const INDICATED = { mm: 0.01, inch: 0.0005 } as const;

export function slopePart(plan: Plan): Part {
  const { job } = plan;
  const say = sayIn(job.units);
  const t = job.punch.relief;
  const bar = job.holding.slope.sineBar;
  const what = plan.slope.by === 'head' ? 'Tilt the head by' : 'Slope the fixture by';
  const own = ownSpan(plan);
  const rises = [
    ...(plan.slope.by === 'fixture' && own > 0 ? [own] : []),
    ...SPANS[job.units].map((span) => toMm(span, job.units)),
  ].map((length) => [say.length(length), say.column(mm(length * Math.tan(t)))]);
  const off = toMm(INDICATED[job.units], job.units);
  return part('slope', 'Setting the slope', {
    facts: [
      big(what, say.angle(t)),
      ...(bar === undefined ? [] : barFacts(plan, bar)),
      ...effectFacts(plan, bar),
    ],
    tables: [{ head: ['over a span of', `rises by ${say.unit}`], rows: rises }],
    notes: [
      plan.slope.by === 'head'
        ? 'Prove it: an indicator on an arm in the spindle, swung half a turn over the table from the tip side to the shank side, must read the rise apart, the span being the diameter it swings on, and farther away on the tip side: the other way round the punch would have no relief. The top of the blank reads alike along its length.'
        : `Prove it: an indicator run along the top of the blank must fall toward the tip by the rise of the first row, within ${say.length(off)}. The other way round the punch would have no relief.`,
      ...(bar === undefined
        ? []
        : ['The gauge blocks go under the roll at the shank end: the tip lies low.']),
      `Tram: an indicator swung from the spindle across the tool axis reads alike on both sides, ${say.length(off)} over ${say.length(toMm(SPANS[job.units][1], job.units))}; along it as the slope asks.`,
    ],
  });
}

/** How much of the blank an indicator runs along. */
function ownSpan({ job }: Plan): Mm {
  const [lost, step] = OUT_OF_REACH[job.units].map((each) => toMm(each, job.units));
  if (lost === undefined || step === undefined) return mm(0);
  return mm(Math.max(0, Math.floor((job.blank.stickOut - lost) / step + 1e-9) * step));
}

function barFacts({ job, sineBarHeight }: Plan, bar: Mm): readonly Fact[] {
  const say = sayIn(job.units);
  if (sineBarHeight === 'none') return [];
  const facts = [
    fact('Sine bar', say.length(bar)),
    fact('Height', `${say.length(sineBarHeight)} = ${say.length(bar)} x sin ${say.angle(job.punch.relief)}`),
  ];
  const { wearBlocks: wear, gauges: set } = job.holding.slope;
  const stack = stackFor(set, sineBarHeight, wear);
  if (stack === 'impossible') {
    return [
      ...facts,
      fact('Gauge blocks', `no stack of ${set.name} makes it; use a longer bar or another set`),
    ];
  }
  const off = rad(Math.asin(stack.height / bar) - job.punch.relief);
  return [
    ...facts,
    big('Gauge blocks', stackText(stack, set, wear)),
    ...(stack.base === 'none'
      ? []
      : [fact('Under the lower roll', `${stack.base} ${set.units === 'mm' ? 'mm' : 'in'} base block`)]),
    fact('Set', set.name),
    ...(Math.abs(off) < FULL_ANGLE
      ? []
      : [fact('Slope then', `${fixed(degFromRad(off) * 60, 2)} arcmin off`)]),
  ];
}

/** Less than this a stack is off by counts as exact, radians. */
const FULL_ANGLE = 1e-6;

function stackText({ blocks, height, base }: Stack, { units }: GaugeSet, wear: Mm | undefined): string {
  const say = sayIn(units);
  const worn = wear === undefined ? [] : [`2 x ${say.length(wear)} wear`];
  const sum = [...worn, ...blocks.map((block) => trimmed(block, 4))].join(' + ');
  return base === 'none' ? `${sum} = ${say.length(height)}` : `${sum}, over the base block`;
}

function effectFacts(plan: Plan, bar: Mm | undefined): readonly Fact[] {
  const { job } = plan;
  const say = sayIn(job.units);
  const grinding = grindingOf(plan);
  const [cause] = causesOf(grinding, 'slope');
  const span = bar ?? toMm(SPANS[job.units][1], job.units);
  const error = toMm(SHOWN_ERROR[job.units], job.units);
  const turn = error / (span * Math.cos(job.punch.relief));
  const gradient = heldGradient(grinding, 0).distances;
  const size = turn * gradient.reduce((sum, each, i) => sum + each * (cause?.distances[i] ?? 0), 0);
  return [
    fact(
      `${say.length(error)} too high`,
      `${bar === undefined ? `over ${say.length(span)}: ` : ''}relief ${fixed(degFromRad(rad(turn)) * 60, 1)} arcmin more, size ${say.fine(mm(size))} larger`,
    ),
  ];
}
