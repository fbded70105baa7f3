/**
 * The indexing block itself, so that one can be made. Its m sides are a multiple of the flats, and even, so that a side
 * lies down where one is up. Where they slope by the relief t, the block laid on any side of it, on a flat table, points
 * the tip down by t and needs no wedge: with the bore Hf over a side at the front end it is Hf + x tan t behind by x, and
 *   across the rear = 2 (Hf + Lb tan t),   stock across corners = that / cos(pi / m).
 * Milled on a mandrel in a dividing head with the tip end up by t, every side comes out level, Hf cos t over the mandrel's
 * axis at the front end. Measured with a pin in the bore, each side down in turn, its top read at two places:
 *   slope = atan((rear - front) / apart),   errors of the sides as job/block has them.
 * Source: plane geometry; holes as ISO 286-2, H7 (from memory).
 */
import { type BlockFit, fitBlock } from '../job/block.js';
import { blocksFor } from '../job/indexing.js';
import type { Job } from '../job/job.js';
import { toMm } from '../quantity/length.js';
import { sayIn } from '../quantity/say.js';
import { type Mm, mm, type Rad, rad } from '../quantity/unit.js';

export interface BlockDesign {
  readonly sides: number;
  /** Of each side; 0 of a plain block. */
  readonly slope: Rad;
  /** Across two opposite sides. */
  readonly front: Mm;
  readonly rear: Mm;
  readonly length: Mm;
  /** Least round stock the sides come out of. */
  readonly roundStock: Mm;
  readonly bore: Mm;
  /** How much larger the bore may be. */
  readonly boreOver: Mm;
  /** Of a side over the mandrel's axis, at the front end, milled with the tip end up. */
  readonly milledHeight: Mm;
  /** Least wall between bore and side, at the front. */
  readonly wall: Mm;
  /** How far sides may differ, and the bore be off their middle, for a quarter of the tolerance each. */
  readonly sidesWithin: Mm;
}

/** Why no block can be drawn. */
export class BlockError extends Error {
  override readonly name = 'BlockError';
}

/** Upper limits of H7, mm, by the largest diameter they hold for. Source: ISO 286-2 (from memory). */
const H7: readonly (readonly [upTo: number, over: number])[] = [
  [3, 0.01],
  [6, 0.012],
  [10, 0.015],
  [18, 0.018],
  [30, 0.021],
  [50, 0.025],
  [80, 0.03],
];

export function holeOver(diameter: Mm): Mm {
  const row = H7.find(([upTo]) => diameter <= upTo);
  if (row === undefined) throw new BlockError('the blank is thicker than any block here is drawn for, 80 mm');
  return mm(row[1]);
}

/** Length of a block, where the job does not say; common practice, no source. */
const USUAL_LENGTH = { mm: 40, inch: 1.5 } as const;
/** Wall under which a set-screw has no thread; common practice, no source. */
const LEAST_WALL: Mm = mm(4);
/** Sides up to which a block still lies firmly; common practice, no source. */
const MOST_SIDES = 12;
/** Share of the tolerance for crooked sides; common practice, no source. */
const SIDES_SHARE = 0.25;

/** Even numbers of sides on which every flat can stand, fewest first. */
export const sidesFor = (job: Job): readonly number[] =>
  blocksFor(job).filter((sides) => sides % 2 === 0 && sides <= MOST_SIDES);

/**
 * @param make whether its sides slope by the relief.
 * @throws BlockError where no block will do, with what would.
 */
export function designBlock(job: Job, make: 'sloping' | 'plain'): BlockDesign {
  const say = sayIn(job.units);
  const { device, nose } = job.holding;
  const own = device?.kind === 'indexing block' ? device : undefined;
  const fits = sidesFor(job);
  const sides = own?.sides ?? fits[0];
  if (sides === undefined || (own !== undefined && !fits.includes(sides)))
    throw new BlockError(
      fits.length === 0
        ? `no block of up to ${MOST_SIDES} sides stands every flat of this section, with a side down for each; index with a dividing head or a spin indexer`
        : `a block of ${sides} sides has none down for every flat; ${fits.join(', ')} have`,
    );
  if (job.blank.shape !== 'round')
    throw new BlockError('a bore holds a round blank; turn its shank round, or hold it in a collet');
  const slope = make === 'plain' ? rad(0) : job.punch.relief;
  const front = own?.across ?? mm(2 * nose.halfHeight);
  const length = own?.length ?? toMm(USUAL_LENGTH[job.units], job.units);
  const rear = mm(front + 2 * length * Math.tan(slope));
  const bore = job.blank.size;
  const boreOver = holeOver(bore);
  const wall = mm((front - bore - boreOver) / 2);
  if (wall < LEAST_WALL)
    throw new BlockError(
      `only ${say.length(wall)} of wall is left beside the bore; a block ${say.length(mm(bore + boreOver + 2 * LEAST_WALL))} across or more has thread for a screw (holding.device.across)`,
    );
  const { plus, minus } = job.punch.tolerance;
  return {
    sides,
    slope,
    front,
    rear,
    length,
    roundStock: mm(rear / Math.cos(Math.PI / sides)),
    bore,
    boreOver,
    milledHeight: mm((front / 2) * Math.cos(slope)),
    wall,
    sidesWithin: mm((SIDES_SHARE * (plus + minus)) / 2),
  };
}

/** A block as it was read, side by side. */
export interface BlockMeasured {
  readonly fit: BlockFit;
  readonly sides: readonly {
    readonly side: number;
    readonly front: Mm;
    readonly rear: Mm;
    readonly slope: Rad;
    readonly own: Mm;
    /** Ground off it, all sides would read alike at the front. */
    readonly off: Mm;
  }[];
}

/**
 * @param front top of the pin with each side down, at its front place; `rear` the same `apart` farther toward the rear.
 * @throws BlockError where a reading is missing.
 */
export function measureBlock(
  front: readonly Mm[],
  rear: readonly Mm[],
  apart: Mm,
  sides: number,
): BlockMeasured {
  for (const [where, list] of [
    ['front', front],
    ['rear', rear],
  ] as const)
    if (list.length !== sides)
      throw new BlockError(
        `${list.length} readings at the ${where}, ${sides} sides: read each side, in turn`,
      );
  if (apart <= 0) throw new BlockError('the two places must lie apart, by 20 mm for example');
  const fit = fitBlock(front);
  return {
    fit,
    sides: fit.sides.map(({ side, read, own, off }, i) => ({
      side,
      front: read,
      rear: rear[i] ?? read,
      slope: rad(Math.atan(((rear[i] ?? read) - read) / apart)),
      own,
      off,
    })),
  };
}
