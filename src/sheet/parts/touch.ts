/**
 * Part 6: finding the zero, from the plan's hand steps: where the wheel stands at a touch and what the display is then
 * made to read, first on the blank, later on a ground flat. How a touch is made is common practice, no source.
 */

import { layoutOf } from '../../job/job.js';
import { isLathe, kindOf } from '../../job/layout.js';
import { standingSizes } from '../../job/standing.js';
import type { FlatTouch, HandStep, Shown, Typed } from '../../plan/hands.js';
import type { Plan } from '../../plan/plan.js';
import { degFromRad } from '../../quantity/angle.js';
import { fixed, trimmed } from '../../quantity/decimal.js';
import { fromMm, toMm } from '../../quantity/length.js';
import { sayIn } from '../../quantity/say.js';
import { FLAT_WITHIN } from '../../quantity/tolerance.js';
import { type Mm, mm } from '../../quantity/unit.js';
import { type Part, part, type TableData } from '../model.js';

/** A feeler, or paper, at hand in a shop. */
export const FEELER = { mm: 0.05, inch: 0.002 } as const;
/** The last steps down to the first spark, and how far above they begin. */
const LAST_STEPS = { mm: [0.005, 0.1], inch: [0.0002, 0.004] } as const;
/** What the micrometer reads too much, for the last column. */
export const READ_MORE = { mm: 0.01, inch: 0.001 } as const;

/** Readings in the machine's units, as its axes show them. */
export function touchPart(plan: Plan): Part {
  const { hands } = plan;
  const ground = hands.filter((step): step is FlatTouch => step.kind === 'touch a ground flat');
  const before = hands.filter((step) => step.kind !== 'touch a ground flat');
  return part('touch', 'Zero and touch-off', {
    picture: 'touch',
    tables: [
      {
        head: ['in this order', 'stand at', 'type'],
        rows: before.flatMap((step) => rowsOf(plan, step)),
        pen: ['offset then'],
      },
      groundTable(plan, ground),
    ],
    notes: [...zeroNotes(plan), ...levelNotes(plan), ...touchNotes(plan)],
  });
}

const axisText = (plan: Plan, { axis, reads }: Shown): string =>
  `${axis.toUpperCase()} ${sayIn(plan.job.machine.units).column(reads)}`;

const withFeeler = (type: Typed, feeler: Mm): Typed => ({
  ...type,
  reads: mm(type.reads + type.perFeeler * feeler),
});

function rowsOf(plan: Plan, step: Exclude<HandStep, FlatTouch>): readonly (readonly string[])[] {
  const { units, layout } = plan.job.machine;
  const lathe = isLathe(layout);
  const topSide = lathe ? 'side toward the wheel' : 'top';
  const shown = (each: Shown): string => axisText(plan, each);
  const feeler = toMm(FEELER[units], units);
  const named = `${trimmed(FEELER[units], 3)} feeler`;
  switch (step.kind) {
    case 'level a flat of the blank':
      return [
        [
          `${plan.job.standing.length > 0 ? 'unless it stayed in its holding: level flat 1, indicator across it,' : 'level a flat of the blank'} at ${trimmed(degFromRad(step.at), 3)} deg`,
          '-',
          '-',
        ],
      ];
    case 'touch the edge of the front face': {
      const top = lathe ? "face's edge by the wheel" : "face's top edge";
      const below = sayIn(plan.job.units).length(step.below);
      const stand =
        step.stand === 'by eye' ? `rim ${below} ${lathe ? 'past' : 'below'} it` : shown(step.stand);
      const part =
        plan.job.wheel.periphery > 0
          ? `wheel at rest against the front ${top}`
          : plan.job.wheel.shape === 'flaring cup'
            ? `rim's corner against the front face, under the ${top}`
            : `rim beside the front ${top}`;
      return [[`${part}, ${named}`, stand, shown(withFeeler(step.type, feeler))]];
    }
    case 'centre across':
      return [['indicate the shank on both sides', 'middle', shown(step.type)]];
    case 'touch the top of the blank': {
      const at = step.at.map((angle) => trimmed(degFromRad(angle), 3)).join(' and ');
      const over = `${sayIn(plan.job.units).length(plan.touchOff.overlap)} behind the tip`;
      if (step.roughly)
        return [[`${topSide} at ${at} deg, ${over}, roughly, wheel stopped`, 'by eye', shown(step.type)]];
      return [
        [`${topSide} at ${at} deg, ${over}, first spark`, shown(step.stand), shown(step.type)],
        [`or with a ${named}`, shown(step.stand), shown(withFeeler(step.type, feeler))],
      ];
    }
  }
}

/** One row for each kind of flat, with what is typed when it reads as it should and how much more when it does not. */
function groundTable(plan: Plan, touches: readonly FlatTouch[]): TableData {
  const { job } = plan;
  const say = sayIn(job.units);
  const more = toMm(READ_MORE[job.units], job.units);
  const all = job.punch.section.length;
  return {
    head: ['ground flat', 'reads across', 'type', `for each ${say.length(more)} more`],
    rows: touches.map(({ flats, ground, reading, stand, type, perReading }) => [
      `${flats.length === all ? 'any' : flats.join(' ')}, ${ground}`,
      say.column(reading),
      `${axisText(plan, type)} at ${axisText(plan, stand)}`,
      signed(plan, mm(perReading * more)),
    ]),
    pen: ['reads', 'typed'],
  };
}

function signed({ job }: Plan, length: Mm): string {
  const there = sayIn(job.machine.units);
  const digits = job.machine.units === 'inch' ? 5 : 4;
  return `${length < 0 ? '' : '+'}${fixed(fromMm(length, job.machine.units), digits)} ${there.unit}`;
}

function zeroNotes({ job, hands }: Plan): readonly string[] {
  const { machine } = job;
  const say = sayIn(job.units);
  const diameter = layoutOf(job).xWritten === 'diameter' ? ', X a diameter' : '';
  const top = hands.findLast((step) => step.kind === 'touch the top of the blank');
  const edge = hands.find((step) => step.kind === 'touch the edge of the front face');
  return [
    ...(kindOf(machine.layout) === 'lathe, wheel in the spindle'
      ? ['Set the tool axis at the height of the spindle centre first: no axis corrects it later.']
      : []),
    `Type: make the display in ${machine.program.workOffset} read this while the wheel stands there${diameter}. No tool length, shift, rotation, scaling or mirror active, now or later.`,
    ...(top !== undefined && top.at.length > 1
      ? ['Touch at both angles and type the number at the mean of the two places: the blank runs out.']
      : []),
    ...(top === undefined || top.roughly
      ? []
      : [
          `The rows hold for a blank of ${say.length(job.blank.size)}; else write blank.measured in the job.`,
        ]),
    ...(edge === undefined
      ? []
      : job.wheel.periphery > 0
        ? [
            'That edge must be sharp: over a chamfer the wheel stands nearer, and the flats come out longer. Their size hangs on the height alone.',
          ]
        : edge.perChamfer === 0
          ? ['Keep the rim below a chamfer of that edge.']
          : [
              `Has that edge a chamfer, keep the rim below it and type ${trimmed(edge.perChamfer, 4)} of its width on the face nearer to zero.`,
            ]),
  ];
}

/**
 * A flat milled before is level within what is left on it: an indicator run across its whole width shows twice what its
 * edges are high and low by, and past what is left an edge stays unground or is bitten into.
 */
function levelNotes({ job, flats }: Plan): readonly string[] {
  const overs = standingSizes(job, job.punch.section).flatMap(({ over }) =>
    over > FLAT_WITHIN ? [over] : [],
  );
  if (overs.length === 0) return [];
  // The first stroke runs as much over the flat as it may stand higher: an edge half of the difference up takes that.
  const above = Math.min(...flats.filter(({ stands }) => stands).map(({ higher }) => higher));
  const least = sayIn(job.units).length(mm(Math.min(...overs, 2 * above)));
  return [
    `Level: from edge to edge of that flat the indicator may show ${least} and no more: past that the first stroke bites an edge deeper than an infeed, or one is left as it was.`,
  ];
}

function touchNotes({ job, slope, hands }: Plan): readonly string[] {
  const [step, above] = LAST_STEPS[job.units].map((each) => sayIn(job.units).length(toMm(each, job.units)));
  const stands = hands.some((step) => step.kind === 'touch a ground flat' && step.ground === 'as it stands');
  return [
    ...(stands
      ? [
          'Flats stand already: bring one up, measure across it, touch it by feeler with the wheel at rest, and type its row "as it stands". There is no raw top over them to touch.',
        ]
      : []),
    slope.by === 'head'
      ? 'The rim hangs lowest on the shank side, so the first spark comes there, not at the tip.'
      : stands
        ? 'Behind the flats the blank rises toward the shank: never feed along there.'
        : 'The blank rises toward the shank and sparks there first; a set-up from the tip would crash.',
    `${stands ? '' : `For the spark: wheel dressed and running, from ${above} above come ${isLathe(job.machine.layout) ? 'nearer' : 'down'} ${step} at a time; do not move along the slope meanwhile, only across${job.blank.shape === 'round' ? ', or turn the round blank' : '. Never turn the blank while the rim is near: a corner would come up into it'}. `}${stands ? 'Never turn the punch while the rim is near: a corner would come up into it. ' : ''}With a feeler: wheel at rest and kept from starting, axes alive, hands off while an axis moves; turn the wheel a whole turn by hand, its tightest place counts.`,
    'After roughing, dressing or wear: bring up the flat you touch, measure across it, type its row, the last column for what it reads more, and the feeler. That is the whole correction; a row of the blank would send the wheel deep into the flat.',
    'Reads less: the same rule, minus, within the finish allowance of each flat; past that the blank makes the next smaller punch.',
  ];
}
