/** The sheet for making an indexing block: drawing, sizes, how its sides are milled, how it is measured and trued. */
import type { BlockDesign, BlockMeasured } from '../../hand/block.js';
import type { Job } from '../../job/job.js';
import { degFromRad, radFromDeg } from '../../quantity/angle.js';
import { fixed } from '../../quantity/decimal.js';
import { toMm } from '../../quantity/length.js';
import { sayIn } from '../../quantity/say.js';
import { mm, rad } from '../../quantity/unit.js';
import { big, fact, type Part, part } from '../model.js';

export interface BlockSheet {
  readonly job: Job;
  readonly design: BlockDesign;
  readonly parts: readonly Part[];
}

/** How far apart the pin is read. */
const APART = { mm: 20, inch: 1 } as const;
/** Left a side for grinding; common practice, no source. */
const LEFT = { mm: 0.2, inch: 0.008 } as const;
/** Degrees a side may be off its slope; common practice, no source. */
const SLOPE_WITHIN_DEG = 0.05;

export function blockSheet(job: Job, design: BlockDesign, measured: BlockMeasured | 'none'): BlockSheet {
  return {
    job,
    design,
    parts: [
      cautions(),
      drawingPart(job, design),
      makingPart(job, design),
      measuringPart(job, design),
      ...(measured === 'none' ? [] : [measuredPart(job, design, measured)]),
    ],
  };
}

const cautions = (): Part =>
  part('caution', 'Before anything turns', {
    notes: [
      'A cutter and a grinding wheel take fingers, and a wheel can burst: the marking of its maker, local rules and qualified practice come before this page.',
      'Guard on, eyes protected, stand clear at spin-up; hands go in only when the spindle stands still. Deburr before you handle it.',
    ],
  });

function drawingPart(
  job: Job,
  { sides, slope, front, rear, length, roundStock, bore, boreOver, wall }: BlockDesign,
): Part {
  const say = sayIn(job.units);
  const sloping = slope > 0;
  return part('block', 'The block', {
    picture: 'block',
    facts: [
      big('Sides', `${sides}`),
      ...(sloping ? [big('They slope by', say.angle(slope))] : []),
      big(sloping ? 'Across, tip end' : 'Across', say.length(front)),
      ...(sloping ? [big('Across, rear', say.length(rear))] : []),
      big('Length', say.length(length)),
      big('Bore', `${say.length(bore)}, +${say.length(boreOver)} -0 (H7)`),
      fact('Round stock', `${say.length(roundStock)} or more`),
      fact('Wall', `${say.length(wall)} beside the bore at the tip end`),
      fact(
        'Screw',
        `into a corner, or sunk under a side; never on one that lies down. Half the wall in thread`,
      ),
      fact(
        'Marks',
        `1 to ${sides} counter-clockwise seen from the tip, each on its side; "tip", ${sloping ? `${say.angle(slope)}, ` : ''}${say.length(front)}`,
      ),
    ],
    notes: [
      sloping
        ? 'On any side, on a flat table, the tip points down by the slope: no wedge, no sine bar. One block a relief.'
        : 'A plain block goes on a sine bar, or on what the sheet says in place of one.',
    ],
  });
}

function makingPart(job: Job, { sides, slope, milledHeight, sidesWithin }: BlockDesign): Part {
  const say = sayIn(job.units);
  return part('making', 'Making it', {
    facts: [
      fact(
        'Turn',
        'face both ends, drill and bore from one setting, ream last: the bore is what all sides are measured from',
      ),
      fact(
        'Mandrel',
        slope > 0 ? `in a dividing head, the TIP END UP by ${say.angle(slope)}` : 'in a dividing head, level',
      ),
      big('Side over the axis', `${say.length(milledHeight)} at the tip end, square to the side`),
      fact('Index', `${sides} times ${say.angle(rad((2 * Math.PI) / sides))}`),
    ],
    notes: [
      ...(slope > 0
        ? [
            'The tip end goes up while the sides are milled, and down when the block is used: the other way round it would take the relief away.',
          ]
        : []),
      slope > 0
        ? `Leave ${say.length(toMm(LEFT[job.units], job.units))} a side, harden or not, then grind each on the mandrel again, tip end up, to ${say.length(milledHeight)} over the axis: within ${say.length(sidesWithin)} of the rest. Never lying on one another: the side above leans by twice the slope.`
        : `Leave ${say.length(toMm(LEFT[job.units], job.units))} a side, harden or not, then grind the sides lying on one another: each within ${say.length(sidesWithin)} of the rest over the bore.`,
    ],
  });
}

function measuringPart(job: Job, { sides, slope, sidesWithin }: BlockDesign): Part {
  const say = sayIn(job.units);
  const apart = toMm(APART[job.units], job.units);
  const rise = mm(apart * Math.tan(slope));
  return part('measuring', 'Measuring it', {
    facts: [
      ...(slope > 0 ? [big(`Rise over ${say.length(apart)}`, say.length(rise))] : []),
      fact('Sides alike within', say.length(sidesWithin)),
      ...(slope > 0
        ? [
            fact(
              'Slope within',
              `${SLOPE_WITHIN_DEG} deg, ${say.length(mm(apart * Math.tan(slope + radFromDeg(SLOPE_WITHIN_DEG)) - rise))} over ${say.length(apart)}`,
            ),
          ]
        : []),
    ],
    tables: [
      {
        head: ['side down'],
        rows: Array.from({ length: sides }, (_, i) => [`${i + 1}`]),
        pen: ['front', 'rear'],
      },
    ],
    notes: [
      'A ground pin in the bore, the block on a surface plate, each side down in turn: read the top of the pin close to the tip end, and again farther back, with one zero for all.',
      `Then: flatwright block JOB --front 1,2,... --rear 1,2,... --apart ${say.length(apart).replace(' ', '')} says what to grind off each side; or write the front readings under holding.device.measured, and takeBack: true moves every flat by its own.`,
    ],
  });
}

/** What the readings come to, side by side, and what goes off. */
function measuredPart(job: Job, { slope, sidesWithin }: BlockDesign, { fit, sides }: BlockMeasured): Part {
  const say = sayIn(job.units);
  const worst = Math.max(...sides.map(({ off }) => off));
  return part('measured', 'As it was read', {
    facts: [
      fact('Bore off the middle', `${say.length(fit.by)}, toward ${say.angle(fit.toward)} from side 1`),
      big('Sides differ by', say.length(mm(worst))),
    ],
    tables: [
      {
        head: ['side', 'front', 'rear', 'slope deg', 'own error', 'take off'],
        rows: sides.map((side) => [
          `${side.side}`,
          say.column(side.front),
          say.column(side.rear),
          fixed(degFromRad(side.slope), 3),
          say.column(side.own),
          say.column(side.off),
        ]),
      },
    ],
    notes: [
      worst <= sidesWithin
        ? 'Good as it is.'
        : `A flat comes out nearer the axis by what its opposite side stands high, over the cosine of the slope; across a pair the bore does not show. Take off what the table says, or let the program take it back.`,
      ...(sides.some((side) => Math.abs(side.slope - slope) > radFromDeg(SLOPE_WITHIN_DEG))
        ? [
            `A side is more than ${SLOPE_WITHIN_DEG} deg off its slope: grind it to the slope first, then read again.`,
          ]
        : []),
    ],
  });
}
