/**
 * Part 5: setting the slope t. Sine bar of length L: height L sin t, made of gauge blocks; without one the rise
 * over a span s is s tan t, for shims, parallels or an indicator. An error e in the height turns the slope by
 * e / (L cos t) and moves the size as plan/error-budget says.
 * Source: Mechanical Engineer's Data Handbook, 7.2.3 (sine bar).
 */

import { type SlopeSetting, settingsFor, shimRise, turnPerMm } from '../../hand/slope-means.js';
import type { GaugeSet } from '../../job/gauge.js';
import { kindOf, type MachineKind, punchTurns } from '../../job/layout.js';
import { slopeWords, usesBar } from '../../job/set-up.js';
import { causesOf, grindingOf } from '../../plan/error/budget.js';
import { heldGradient } from '../../plan/error/model.js';
import type { Plan } from '../../plan/plan.js';
import { degFromRad } from '../../quantity/angle.js';
import { fixed, trimmed } from '../../quantity/decimal.js';
import { toMm } from '../../quantity/length.js';
import { type Say, sayIn } from '../../quantity/say.js';
import { type Mm, mm, rad } from '../../quantity/unit.js';
import { isDrawn } from '../draw/slope.js';
import { type Stack, stackFor } from '../gauge.js';
import { big, type Fact, fact, type Part, part, type TableData } from '../model.js';

/** The error whose effect is shown. */
const SHOWN_ERROR = { mm: 0.01, inch: 0.0005 } as const;
/** Spans of parallels, angle blocks and the circle an indicator swings on. */
const SPANS = { mm: [50, 100, 150], inch: [2, 4, 6] } as const;
/** How far a top slide is run to prove its swivel. */
const SLIDE_TRAVEL = { mm: 20, inch: 1 } as const;
/** What of the blank an indicator cannot run along, at its tip and at the nose, and whole steps of the rest. */
const OUT_OF_REACH = { mm: [6, 2], inch: [0.25, 0.1] } as const;
/** What an indicator may be off over that, and still good. */
const INDICATED = { mm: 0.01, inch: 0.0005 } as const;

/** Along which side the slope is proved, and which way that falls, where the wheel does not come from above. */
const PROVED: Readonly<Partial<Record<MachineKind, readonly [side: string, falls: string]>>> = {
  'lathe, wheel in the spindle': ['side toward the headstock', 'away from the headstock toward'],
  'bench grinder with a rail': ['side toward the wheel', 'away from the wheel toward'],
};

export function slopePart(plan: Plan): Part {
  const { job } = plan;
  const say = sayIn(job.units);
  const t = job.punch.relief;
  const bar = job.holding.slope.sineBar;
  const chucked = punchTurns(job.machine.layout);
  const ownSides = job.holding.slope.using === 'block sides';
  const slides = chucked && job.machine.dials !== undefined;
  const [nearSide, away] = PROVED[kindOf(job.machine.layout)] ?? ['top', 'toward'];
  const own = ownSpan(plan);
  const { means, table: meansTable } = meansOf(plan);
  const rises = [
    ...(plan.slope.by === 'fixture' && own > 0 ? [own] : []),
    // Where a table says what to lay under it, the span along the blank proves it.
    ...((meansTable.length > 0 || ownSides) && own > 0
      ? []
      : SPANS[job.units].slice(plan.slope.by === 'head' ? 1 : 0)
    ).map((span) => toMm(span, job.units)),
  ].map((length) => [say.length(length), say.column(mm(length * Math.tan(t)))]);
  const off = toMm(INDICATED[job.units], job.units);
  return part('slope', 'Setting the slope', {
    ...(isDrawn(job) ? { picture: 'slope' } : {}),
    facts: [
      big(slopeWords(job).order, say.angle(t)),
      ...(usesBar(job) && bar !== undefined ? barFacts(plan, bar) : means),
      ...(ownSides ? [] : effectFacts(plan, bar)),
    ],
    tables: slides
      ? []
      : [
          ...meansTable,
          { head: ['over a span of', `rises by ${say.unit}`], rows: rises, pen: ['proved at'] },
        ],
    notes: [
      slides
        ? `Prove it: an indicator carried by the top slide along the shank, or a test bar in the chuck, must move by ${slideProof(plan)}, away from the work toward the tip. Then the wheel spindle square to that slide: the indicator on the rim reads alike on both its sides as the slide moves under it.`
        : plan.slope.by === 'head'
          ? `Prove it: an indicator on an arm in the ${chucked ? "wheel's " : ''}spindle, swung half a turn ${chucked ? 'along a test bar in the chuck' : 'over the table'} from tip side to shank side, must read the rise apart over the diameter it swings on, farther away at the tip: the other way round the punch would have no relief. The ${chucked ? 'blank' : 'top of the blank'} reads alike along its length.`
          : `Prove it: an indicator run along the ${nearSide} of the blank must fall ${away} the tip by the rise of the first row, within ${say.length(off)}. The other way round the punch would have no relief.`,
      ...(!usesBar(job)
        ? meansNotes(plan)
        : [
            kindOf(job.machine.layout) === 'lathe, wheel in the spindle'
              ? 'Bar and blocks stand against an upright face along the bed, the blocks at the shank end, on the side away from the headstock.'
              : 'The gauge blocks go under the roll at the shank end, more of them where both rolls stand on some: the tip lies low.',
          ]),
      kindOf(job.machine.layout) === 'surface grinder'
        ? `Tram: an indicator on the wheel head, the cross slide moved, reads the seat alike, ${say.length(off)}; its long edge lies along the table's travel.`
        : job.machine.layout === 'bench grinder with a rail'
          ? 'The rail square to the wheel spindle: an indicator on the block reads the rim alike on both its sides as the block slides past.'
          : `Tram: an indicator swung from the ${chucked ? "wheel's spindle" : 'spindle'} across the tool axis reads alike on both sides, ${say.length(off)} over ${say.length(toMm(SPANS[job.units][1], job.units))}; along it as the slope asks.`,
    ],
  });
}

/** So many rows are enough to find one that is at hand. */
const MEANS_SHOWN = 2;

/** What the slope is set with from the drawer: the first means in large, the next best below. */
function meansOf(plan: Plan): { readonly means: readonly Fact[]; readonly table: readonly TableData[] } {
  const { job } = plan;
  const { by, using, plate } = job.holding.slope;
  if (by === 'head' || usesBar(job)) return { means: [], table: [] };
  const say = sayIn(job.units);
  const t = job.punch.relief;
  if (using === 'block sides') return { means: [], table: [] };
  if (using === 'shim') {
    const { rise, alongFace } = shimRise(plate, t);
    const value = `over ${say.length(plate)} its ends differ by ${say.length(rise)}, along its own face by ${say.length(alongFace)}; grind it at this slope`;
    return { means: [big('Tapered shim', value)], table: [] };
  }
  const found = settingsFor(job);
  const [first] = found;
  if (first === undefined)
    return {
      means: [
        fact(
          'Set with',
          `nothing in the drawer makes it under ${say.length(plate)}; write holding.slope.drawer`,
        ),
      ],
      table: [],
    };
  const off = toMm(SHOWN_ERROR[job.units], job.units);
  const perRadian = sizePerRadian(plan);
  return {
    means: [big('Set with', settingText(first, say)), ...offFacts(first, say)],
    table: [
      {
        head: ['set with', `${say.length(off)} off turns it`, 'the size is then'],
        rows: found.slice(0, MEANS_SHOWN).map((setting) => {
          const turn = rad(
            setting.using === 'angle blocks' ? Math.abs(setting.off) : off * turnPerMm(setting, t),
          );
          return [settingText(setting, say), say.fineAngle(turn), changeText(mm(turn * perRadian), say)];
        }),
      },
    ],
  };
}

/** `pins of 3 mm and 6 mm, centres 68.76 mm apart`. */
function settingText(setting: SlopeSetting, say: Say): string {
  switch (setting.using) {
    case 'strip':
      return `a strip of ${say.length(setting.thickness)}, its near edge ${say.length(setting.base)} behind the front edge`;
    case 'pin':
      return `a pin of ${say.length(setting.diameter)}, its centre ${say.length(setting.base)} behind the front edge`;
    case 'pins': {
      const [small, large] = setting.diameters;
      const over = mm(setting.base + (small + large) / 2);
      return `pins of ${say.length(small)} and ${say.length(large)}, ${say.length(over)} over both`;
    }
    case 'angle blocks': {
      const signed = [
        ...setting.plus.map((block, i) => `${i === 0 ? '' : '+ '}${say.angle(block)}`),
        ...setting.minus.map((block) => `- ${say.angle(block)}`),
      ];
      return `angle blocks ${signed.join(' ')}`;
    }
  }
}

const offFacts = (setting: SlopeSetting, say: Say): readonly Fact[] =>
  setting.using === 'angle blocks' && Math.abs(setting.off) > FULL_ANGLE
    ? [fact('Slope then', `${say.fineAngle(setting.off)} off`)]
    : [];

/** How the plate lies on what slopes it; on a lathe with its wheel in the spindle it stands against a plate instead. */
function meansNotes(plan: Plan): readonly string[] {
  const { job } = plan;
  const { by, using, plate } = job.holding.slope;
  if (by === 'head' || using === 'block sides') return [];
  const [first] = settingsFor(job);
  const say = sayIn(job.units);
  const under = `a ground plate ${say.length(plate)} long, the block clamped on it with its front end at the plate's front edge`;
  const creeps =
    'Clamp it so that it cannot creep: along its slope by e it moves the size by 2 e sin of the slope.';
  const upright =
    kindOf(job.machine.layout) === 'lathe, wheel in the spindle'
      ? ' All of it against an upright face along the cross slide, what moves the plate out away from the headstock.'
      : '';
  return [
    first?.using === 'pins'
      ? `They go under ${under}: it lies on the two pins alone, the thinner at the tip end, its front edge clear; over both is measured along the line of their centres.${upright} ${creeps}`
      : `It goes under ${under}: that front edge, at the tip end, stays down; what lifts it lies toward the shank.${upright} ${creeps}`,
  ];
}

/** `0.872 mm over 20 mm of its travel`: along a slide that leans by t it is s sin t. */
function slideProof({ job }: Plan): string {
  const say = sayIn(job.units);
  const travel = toMm(SLIDE_TRAVEL[job.units], job.units);
  return `${say.length(mm(travel * Math.sin(job.punch.relief)))} over ${say.length(travel)} of its travel`;
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
    ...(stack.base === 'none' ? [] : [big('Base block', baseText(stack.base, stack.height, set))]),
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
  if (base === 'none') return `${sum} = ${say.length(height)}`;
  const whole = mm(height + toMm(base, units));
  return `${sum} = ${say.length(whole)} under the roll at the shank end`;
}

/** Neither stands on the other: their difference is what counts. */
const baseText = (base: number, height: Mm, { units }: GaugeSet): string =>
  `${sayIn(units).length(toMm(base, units))} under the other roll, at the tip end; ${sayIn(units).length(height)} less, which is the rise`;

/** How much larger a size comes out for each radian the slope is too steep. */
function sizePerRadian(plan: Plan): number {
  const grinding = grindingOf(plan);
  const [cause] = causesOf(grinding, 'slope');
  return heldGradient(grinding, 0).distances.reduce(
    (sum, each, i) => sum + each * (cause?.distances[i] ?? 0),
    0,
  );
}

/** Less than this no gauge of a shop tells, mm. */
const UNSEEN = 5e-5;

const changeText = (size: Mm, say: Say): string =>
  Math.abs(size) < UNSEEN
    ? 'unchanged'
    : `${say.fine(mm(Math.abs(size)))} ${size > 0 ? 'larger' : 'smaller'}`;

function effectFacts(plan: Plan, bar: Mm | undefined): readonly Fact[] {
  const { job } = plan;
  const say = sayIn(job.units);
  const span = bar ?? toMm(SPANS[job.units][1], job.units);
  const error = toMm(SHOWN_ERROR[job.units], job.units);
  const turn = error / (span * Math.cos(job.punch.relief));
  const size = turn * sizePerRadian(plan);
  return [
    fact(
      `${say.length(error)} too high`,
      `${bar === undefined ? `over ${say.length(span)}: ` : ''}relief ${fixed(degFromRad(rad(turn)) * 60, 1)} arcmin more, size ${changeText(mm(size), say)}`,
    ),
  ];
}
