/**
 * Gauge blocks for a height: the fewest blocks of a set, none used twice, whose sum is the height to the set's
 * finest step. Heights are counted in whole steps, so sums are exact. Where no stack makes it, a base block goes
 * under the lower roll of the sine bar and a higher stack under the other: only the difference counts.
 * Source: make-up of the sets in shared/gauge-blocks.yaml; worked example of the National Physical Laboratory.
 */
import { GAUGE_STEP, type GaugeSet } from '../job/gauge.js';
import { fromMm, toMm } from '../quantity/length.js';
import { type LengthUnit, type Mm, mm } from '../quantity/unit.js';

export interface Stack {
  /** Blocks, thickest first, in the set's units. */
  readonly blocks: readonly number[];
  /** Under the lower roll; `none` if the stack alone does. */
  readonly base: number | 'none';
  /** What the height comes to with these blocks. */
  readonly height: Mm;
}

/** Stacks of more blocks wring badly and add up errors; common practice, no source. */
const MOST_BLOCKS = 5;

/**
 * The fewest blocks for `height`, rounded to what the set can make.
 * @param wear thickness of each of two protective blocks at the ends; 0 for none.
 * @returns `impossible` if neither a stack nor a stack over a base block makes it.
 */
export function stackFor(set: GaugeSet, height: Mm, wear: Mm = mm(0)): Stack | 'impossible' {
  const step = GAUGE_STEP[set.units];
  const inSteps = (length: Mm): number => Math.round(fromMm(length, set.units) / step);
  const finest = set.blocks.reduce(greatestDivisor);
  const wanted = Math.round(fromMm(height, set.units) / step / finest) * finest;
  const worn = 2 * inSteps(wear);
  const told = (blocks: readonly number[], base: number | 'none'): Stack => ({
    blocks: blocks.toSorted((a, b) => b - a).map((block) => fromSteps(block, set.units)),
    base: base === 'none' ? 'none' : fromSteps(base, set.units),
    height: toMm(wanted * step, set.units),
  });
  const alone = fewest(set.blocks, wanted - worn);
  if (alone !== undefined) return told(alone, 'none');
  let best: { readonly blocks: readonly number[]; readonly base: number } | undefined;
  for (const base of set.blocks.toSorted(nearerTo(inSteps(HANDY_BASE)))) {
    const blocks = fewest(
      set.blocks.filter((block) => block !== base),
      wanted - worn + base,
      best === undefined ? MOST_BLOCKS : best.blocks.length - 1,
    );
    if (blocks !== undefined) best = { blocks, base };
    if (best !== undefined && best.blocks.length <= 2) break;
  }
  return best === undefined ? 'impossible' : told(best.blocks, best.base);
}

/** A base block should be thick enough to handle; common practice, no source. */
const HANDY_BASE: Mm = mm(10);

const nearerTo =
  (size: number) =>
  (a: number, b: number): number =>
    Math.abs(a - size) - Math.abs(b - size);

const greatestDivisor = (a: number, b: number): number => (b === 0 ? a : greatestDivisor(b, a % b));

const fromSteps = (steps: number, units: LengthUnit): number =>
  Number((steps * GAUGE_STEP[units]).toFixed(4));

/** The first smallest group of different blocks with that sum: pairs are looked up, so five blocks stay quick. */
function fewest(blocks: readonly number[], sum: number, most = MOST_BLOCKS): readonly number[] | undefined {
  if (sum <= 0) return undefined;
  const single = new Map(blocks.map((block, i) => [block, i]));
  const pairs = new Map<number, (readonly [number, number])[]>();
  blocks.forEach((a, i) => {
    blocks.slice(0, i).forEach((b, j) => {
      const known = pairs.get(a + b);
      if (known === undefined) pairs.set(a + b, [[i, j]]);
      else known.push([i, j]);
    });
  });
  const values = (places: readonly number[]): readonly number[] => places.map((place) => blocks[place] ?? 0);
  /** A pair with that sum that shares no block with `taken`. */
  const pairFor = (rest: number, taken: readonly number[]): readonly number[] | undefined =>
    pairs.get(rest)?.find((pair) => !pair.some((place) => taken.includes(place)));
  const one = single.get(sum);
  if (one !== undefined) return values([one]);
  if (most < 2) return undefined;
  const two = pairFor(sum, []);
  if (two !== undefined) return values(two);
  if (most < 3) return undefined;
  for (let i = 0; i < blocks.length; i += 1) {
    const pair = pairFor(sum - (blocks[i] ?? 0), [i]);
    if (pair !== undefined) return values([i, ...pair]);
  }
  if (most < 4) return undefined;
  for (const [half, list] of pairs) {
    for (const first of list) {
      const second = pairFor(sum - half, first);
      if (second !== undefined) return values([...first, ...second]);
    }
  }
  if (most < 5) return undefined;
  for (let i = 0; i < blocks.length; i += 1) {
    for (const [half, list] of pairs) {
      const rest = sum - (blocks[i] ?? 0) - half;
      if (!pairs.has(rest)) continue;
      for (const first of list) {
        if (first.includes(i)) continue;
        const second = pairFor(rest, [i, ...first]);
        if (second !== undefined) return values([i, ...first, ...second]);
      }
    }
  }
  return undefined;
}
