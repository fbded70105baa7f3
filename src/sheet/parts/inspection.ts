/**
 * Part 8: what the micrometer should read. Across flat i at a depth d the section is that of section/flat at d:
 * every flat nearer by d tan a, so flats read 2 d tan a less and a corner follows its flats.
 */

import { aimedSection } from '../../job/aim.js';
import { THIN_CLEARANCE } from '../../job/fault.js';
import type { Job } from '../../job/job.js';
import { liesInV, shows } from '../../measure/instrument.js';
import type { Plan } from '../../plan/plan.js';
import { radFromDeg } from '../../quantity/angle.js';
import { trimmed } from '../../quantity/decimal.js';
import { fromMm, toMm } from '../../quantity/length.js';
import { limitSaid, sayIn } from '../../quantity/say.js';
import { type Mm, mm, type Rad, rad } from '../../quantity/unit.js';
import { atDepth, type Section } from '../../section/flat.js';
import { acrossFlat } from '../../section/outline.js';
import { measuredTo } from '../../section/polygon.js';
import { capital, checked, type Fact, fact, type Part, part } from '../model.js';

/** Depths looked at behind the front edge. */
const DEPTHS = { mm: [2, 5, 8], inch: [0.08, 0.2, 0.3] } as const;

/**
 * Width of anvils along the tool axis, mm: of a usual outside micrometer, 6.35 or 6.5 mm (ISO 3611, from memory), and of
 * one with blades (common practice, no source). Set down behind the front edge they must clear the shoulder.
 */
const WIDTHS = { anvils: 6.5, blade: 0.8 } as const;

/** A V-anvil holds two flats of a triangle or a pentagon: 60 and 108 deg (as makers of such micrometers list them). */
const V_ANGLES_DEG = [60, 108] as const;

/** What a flat may be off, to see in a reading. */
const FINE = { mm: 0.01, inch: 0.0005 } as const;

/** A place where a flat is measured, and with what. */
interface Column {
  readonly depth: Mm;
  readonly by: keyof typeof WIDTHS;
}

/** The deepest place that anvils reach without the shoulder, and the deepest that only a blade does. */
function columnsOf({ units, punch }: Job): readonly Column[] {
  const depths = DEPTHS[units].map((depth) => toMm(depth, units));
  const deepest = (by: Column['by']): Column | 'none' => {
    const depth = depths.findLast((each) => each + WIDTHS[by] <= punch.flatLength);
    return depth === undefined ? 'none' : { depth, by };
  };
  const [anvils, blade] = [deepest('anvils'), deepest('blade')];
  return [anvils, blade].filter(
    (column, i): column is Column =>
      column !== 'none' && !(i === 1 && anvils !== 'none' && column.depth <= anvils.depth),
  );
}

/** The V that holds two flats under each flat, and what its micrometer shows; nothing for most sections. */
function inV(
  { job }: Plan,
  aimed: Section,
): { readonly name: string; readonly reads: readonly Mm[] } | 'none' {
  // An even section with facing flats has something better.
  if (job.punch.section.every((_, i) => typeof measuredTo(job.punch.section, i) === 'number')) return 'none';
  for (const degrees of V_ANGLES_DEG) {
    const instrument = { kind: 'V-anvil', angle: radFromDeg(degrees) } as const;
    if (aimed.every((_, i) => liesInV(aimed, i, instrument.angle)))
      return {
        name: `V-anvil ${degrees} deg`,
        reads: aimed.map((_, i) => shows(job, instrument, aimed, i)),
      };
  }
  return 'none';
}

/** One row for each reading, in the job's units. */
export function inspectionPart(plan: Plan): Part {
  const { job, readings } = plan;
  const aimed = aimedSection(job);
  const say = sayIn(job.units);
  const { section, relief } = job.punch;
  const fine = toMm(FINE[job.units], job.units);
  const columns = columnsOf(job);
  const v = inV(plan, aimed);
  const seen = readings.filter(({ flat }) => {
    const facing = measuredTo(section, flat - 1);
    return typeof facing !== 'number' || facing > flat - 1;
  });
  const nameOf = (flat: number): string => {
    const facing = measuredTo(section, flat - 1);
    return `${flat} - ${typeof facing === 'number' ? facing + 1 : facing}`;
  };
  const across = (depth: Mm, slope: Rad, flat: number): Mm =>
    acrossFlat(atDepth(aimed, depth, slope), job.blank, flat - 1);
  const rows = seen.map(({ flat, roughed, least, most, share }) => [
    nameOf(flat),
    say.column(roughed),
    say.column(across(mm(0), relief, flat)),
    ...columns.map(({ depth }) => say.column(across(depth, relief, flat))),
    ...(v === 'none' ? [] : [`${say.column(v.reads[flat - 1] ?? mm(0))}, ${vLimits(job)}`]),
    say.column(limitSaid(least, 'up', job.units)),
    say.column(limitSaid(most, 'down', job.units)),
    say.column(mm(fine * share)),
  ]);
  const even = section.every((_, i) => typeof measuredTo(section, i) === 'number');
  const behind = columns.map(
    ({ depth, by }) => `${by === 'blade' ? 'blade, ' : ''}${trimmed(fromMm(depth, job.units), 2)} behind`,
  );
  return part('inspection', 'Inspection', {
    facts: reliefFacts(plan, columns, across),
    tables: [
      {
        head: [
          'across',
          'roughed, front',
          'front',
          ...behind,
          ...(v === 'none' ? [] : [v.name]),
          'least',
          'most',
          `${trimmed(fromMm(fine, job.units), 4)} on every flat shows`,
        ],
        rows,
        pen: ['read, front', `read, ${behind.at(-1) ?? 'behind'}`],
      },
    ],
    notes: [
      `All in ${job.units === 'inch' ? 'inches' : 'mm'}. Measure cold and clean, at the front edge and behind it. ${anvilWords(job, columns)}`,
      ...(v === 'none'
        ? []
        : [
            `In the V, its own limits beside it: two flats in the V, the spindle on the third, no corner touched. Hold the punch square to the spindle, the V at its front edge: sloped flats do not bed in it, and a punch that leans rocks and says nothing.`,
          ]),
      `Over most: leave the punch clamped, ${job.machine.dials === undefined ? 'set the rim by the rule of touch-off, run again' : 'turn the ring by what it reads, go down again'}. Under least: stop, it makes the next smaller punch. Too little relief: set the slope anew and grind all flats again, which costs size.${even ? '' : ' To a corner all flats must read alike, or it says nothing of this one.'}`,
    ],
  });
}

/** Where flat anvils meet the punch, and what reaches where they do not. */
function anvilWords({ units }: Job, columns: readonly Column[]): string {
  const wide = `flat anvils ${trimmed(fromMm(mm(WIDTHS.anvils), units), 2)} wide`;
  const reaches = (by: Column['by']): boolean => columns.some((column) => column.by === by);
  if (!reaches('anvils'))
    return reaches('blade')
      ? `${capital(wide)} overhang the front; behind it they would ride on the shoulder: take blades, across the axis.`
      : 'Behind it nothing reaches before the shoulder.';
  return `Set down behind, ${wide} meet the punch at their edge nearest the front face, which behind counts from, and clear the shoulder${reaches('blade') ? '; farther behind only blades do, across the axis' : ''}. At the front they overhang it.`;
}

/**
 * How much less a reading must be farther behind, for the relief ordered and for the least that clears the head: what a
 * section read at two depths differs by. A reading r off turns the relief by r / (share of the depth between them).
 */
function reliefFacts(
  { job, readings }: Plan,
  columns: readonly Column[],
  across: (depth: Mm, slope: Rad, flat: number) => Mm,
): readonly Fact[] {
  const deepest = columns.at(-1);
  const [first] = readings;
  if (deepest === undefined || first === undefined) return [];
  const say = sayIn(job.units);
  const { relief, headTilt } = job.punch;
  const { depth } = deepest;
  const lessBehind = (slope: Rad): Mm =>
    mm(across(mm(0), slope, first.flat) - across(depth, slope, first.flat));
  const fine = toMm(FINE[job.units], job.units);
  const perRadian = (lessBehind(rad(relief + STEP)) - lessBehind(relief)) / STEP;
  const least = rad(headTilt + THIN_CLEARANCE);
  return [
    checked(
      fact(
        'Relief',
        `${say.angle(relief)} reads ${say.column(lessBehind(relief))} less ${trimmed(fromMm(depth, job.units), 2)} behind than at the front${
          least < relief
            ? `; under ${say.column(lessBehind(least))} it clears the head by less than ${say.angle(rad(THIN_CLEARANCE))}`
            : ''
        }; ${say.length(fine)} off is ${say.angle(rad(fine / perRadian))}`,
      ),
      'as read',
    ),
  ];
}

/** A step of the relief for its derivative. */
const STEP = 1e-4;

/** What a V-anvil may read: twice the distance of a flat, within the tolerance. */
function vLimits({ punch: { section, tolerance }, units }: Job): string {
  const size = 2 * (section[0]?.distance ?? 0);
  const { column } = sayIn(units);
  const [least, most] = [mm(size - tolerance.minus), mm(size + tolerance.plus)];
  return `${column(limitSaid(least, 'up', units))} to ${column(limitSaid(most, 'down', units))}`;
}
