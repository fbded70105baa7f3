/**
 * Setting a slope t without a sine bar, from what is in the drawer. What is sloped lies on its front edge at the tip end and
 * on something under it toward the shank:
 *   a strip of thickness h, its near edge s = h / tan t behind that edge
 *   one pin of diameter d, its centre x = d / (2 tan(t / 2)) behind it (the angle between two tangents of a circle)
 *   two pins d1 < d2 under it, their centres c = (d2 - d1) / (2 sin(t / 2)) apart: the line of centres leans by t / 2
 *   angle blocks, added and taken away
 *   a shim tapered by t: over a length s its ends differ by s tan t, along its own face by s sin t
 * A size off by e turns the slope: for the strip by e cos^2 t / s, for a pin by e cos^2(t / 2) / x, for two by
 * e / (c cos(t / 2)). Source: plane geometry; lines tangent to circles.
 */
import type { Drawer, Job, SlopeMeans } from '../job/job.js';
import { type Mm, mm, type Rad, rad } from '../quantity/unit.js';

/** One way to set the slope; `base` from the edge it turns on, or between the two it lies on. */
export type SlopeSetting =
  | { readonly using: 'strip'; readonly thickness: Mm; readonly base: Mm }
  | { readonly using: 'pin'; readonly diameter: Mm; readonly base: Mm }
  | { readonly using: 'pins'; readonly diameters: readonly [Mm, Mm]; readonly base: Mm }
  | {
      readonly using: 'angle blocks';
      readonly plus: readonly Rad[];
      readonly minus: readonly Rad[];
      /** How far what they make is from what is wanted. */
      readonly off: Rad;
    };

/** Radians the slope turns for each mm that what it lies on, or its size, is off; angle blocks have none. */
export function turnPerMm(setting: SlopeSetting, slope: Rad): number {
  switch (setting.using) {
    case 'strip':
      return Math.cos(slope) ** 2 / setting.base;
    case 'pin':
      return Math.cos(slope / 2) ** 2 / setting.base;
    case 'pins':
      return 1 / (setting.base * Math.cos(slope / 2));
    case 'angle blocks':
      return 0;
  }
}

/** Behind the front edge where a strip's near edge lies: h / tan t. */
export const stripBase = (thickness: Mm, slope: Rad): Mm => mm(thickness / Math.tan(slope));

/** Behind the front edge where one pin's centre lies: d / (2 tan(t / 2)). */
export const pinBase = (diameter: Mm, slope: Rad): Mm => mm(diameter / (2 * Math.tan(slope / 2)));

/** Between the centres of two pins: (d2 - d1) / (2 sin(t / 2)). */
export const pinsBase = (small: Mm, large: Mm, slope: Rad): Mm =>
  mm((large - small) / (2 * Math.sin(slope / 2)));

/** A shim of taper t over `length`: how much thicker at one end, and that along its own face. */
export const shimRise = (length: Mm, slope: Rad): { readonly rise: Mm; readonly alongFace: Mm } => ({
  rise: mm(length * Math.tan(slope)),
  alongFace: mm(length * Math.sin(slope)),
});

/** Under this a base is too short to lay anything against; common practice, no source. */
const SHORTEST_BASE: Mm = mm(10);

/**
 * What the drawer can do, longest base first, none longer than the plate.
 * @param using only this means, or all of them.
 */
export function slopeSettings(
  drawer: Drawer,
  slope: Rad,
  plate: Mm,
  using: SlopeMeans | 'any' = 'any',
): readonly SlopeSetting[] {
  const wanted = (means: SlopeMeans): boolean => using === 'any' || using === means;
  const pins = drawer.pins.toSorted((a, b) => a - b);
  const found: SlopeSetting[] = [
    ...(wanted('strip')
      ? drawer.strips.map(
          (thickness): SlopeSetting => ({ using: 'strip', thickness, base: stripBase(thickness, slope) }),
        )
      : []),
    ...(wanted('pin')
      ? pins.map((diameter): SlopeSetting => ({ using: 'pin', diameter, base: pinBase(diameter, slope) }))
      : []),
    ...(wanted('pins')
      ? pins.flatMap((small, i) =>
          pins
            .slice(i + 1)
            .flatMap((large): readonly SlopeSetting[] =>
              large > small
                ? [{ using: 'pins', diameters: [small, large], base: pinsBase(small, large, slope) }]
                : [],
            ),
        )
      : []),
  ];
  const within = found.filter(
    (setting) => setting.using !== 'angle blocks' && setting.base <= plate && setting.base >= SHORTEST_BASE,
  );
  const blocks = wanted('angle blocks') ? angleBlocksFor(drawer.angleBlocks, slope) : 'none';
  return [...(blocks === 'none' ? [] : [blocks]), ...within.toSorted((a, b) => baseOf(b) - baseOf(a))];
}

/** What the job's drawer makes of its slope, the best first; nothing for a shim or a block whose own sides slope. */
export function settingsFor({ holding, punch }: Pick<Job, 'holding' | 'punch'>): readonly SlopeSetting[] {
  const { using, drawer, plate } = holding.slope;
  if (using === 'shim' || using === 'block sides') return [];
  return slopeSettings(drawer, punch.relief, plate, using === 'sine bar' ? 'any' : using);
}

const baseOf = (setting: SlopeSetting): number => (setting.using === 'angle blocks' ? 0 : setting.base);

/** More blocks than this nobody wrings together. */
const MOST_BLOCKS = 4;
/** An angle this near is the angle wanted: a second of arc. */
const SAME_ANGLE = Math.PI / 180 / 3600;
/** Farther off than this blocks are no help; common practice, no source. */
const OF_NO_USE = Math.PI / 180 / 4;

interface Sum {
  readonly plus: readonly Rad[];
  readonly minus: readonly Rad[];
  readonly total: number;
}

/** Every sum and difference of up to so many blocks, each block once. */
function sums(blocks: readonly Rad[], most: number): readonly Sum[] {
  const [first, ...rest] = blocks;
  if (first === undefined || most === 0) return [{ plus: [], minus: [], total: 0 }];
  const fewer = sums(rest, most - 1);
  return [
    ...sums(rest, most),
    ...fewer.map(({ plus, minus, total }) => ({ plus: [first, ...plus], minus, total: total + first })),
    ...fewer.map(({ plus, minus, total }) => ({ plus, minus: [first, ...minus], total: total - first })),
  ];
}

/** The nearest sum and difference of the blocks at hand, with the fewest blocks; `none` if nothing comes near. */
function angleBlocksFor(blocks: readonly Rad[], slope: Rad): SlopeSetting | 'none' {
  const seconds = ({ total }: Sum): number => Math.round(Math.abs(total - slope) / SAME_ANGLE);
  const count = ({ plus, minus }: Sum): number => plus.length + minus.length;
  const [best] = sums(blocks, MOST_BLOCKS)
    .filter((sum) => count(sum) > 0)
    .toSorted((a, b) => seconds(a) - seconds(b) || count(a) - count(b));
  return best === undefined || Math.abs(best.total - slope) > OF_NO_USE
    ? 'none'
    : { using: 'angle blocks', plus: best.plus, minus: best.minus, off: rad(best.total - slope) };
}
