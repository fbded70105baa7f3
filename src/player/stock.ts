/**
 * The punch at a step of the dry run: what has been ground at every index, its section, and its outline in the plane
 * of the slope. The top of the stock is R / cos t - u tan t, lowered by every floor that reaches so far; the front
 * face leans, u = w tan t. Source: wheel/frame. Lengths mm.
 */
import { type Mm, mm, type Rad, rad } from '../quantity/unit.js';
import { blankSupport } from '../section/blank.js';
import { between, type CrossPoint, type Section } from '../section/flat.js';
import { outlinePoints } from '../section/outline.js';
import { distanceFromHeight, stockTop, tipEdge, toWheelFrame } from '../wheel/frame.js';
import { liftAt } from '../wheel/periphery.js';
import { FLOORS_FROM, type PlayData } from './data.js';

interface Floor {
  readonly reach: number;
  readonly w: number;
}

/** A point in the plane of the slope: along the stroke, and up from the tool axis. */
export interface PlanePoint {
  readonly u: number;
  readonly w: number;
}

/** Two indexes nearer than this face the same way, radians. */
const SAME_WAY = 1e-4;
/** Places at which the hollow behind a plain wheel is drawn, and how far apart, mm. */
const HOLLOW_POINTS = 40;
const HOLLOW_STEP = 1;

export interface PlayStock {
  /** Distance of the flat ground at an index so far; `none` if nothing is. */
  readonly distance: (index: number, step: number) => Mm | 'none';
  /** The finished section so far. */
  readonly section: (step: number) => readonly CrossPoint[];
  /** The punch in the plane of the slope with `index` up, from the shank over the tip and back. */
  readonly profile: (index: number, step: number, shank: number) => readonly PlanePoint[];
  /** True if something is ever ground at this index. */
  readonly isGround: (index: number) => boolean;
}

export function playStock({ steps, indexes, blank, wheel, slope: angle }: PlayData): PlayStock {
  const slope = rad(angle);
  const periphery = mm(wheel.periphery);
  // The steps that changed the stock of each index.
  const changes = indexes.map((): number[] => []);
  steps.forEach((row, i) => {
    if (row.length > FLOORS_FROM) changes[row[5] ?? 0]?.push(i);
  });

  const floorsAt = (index: number, step: number): readonly Floor[] => {
    const last = changes[index]?.findLast((at) => at <= step);
    const listed =
      last === undefined ? (indexes[index]?.floors ?? []) : (steps[last] ?? []).slice(FLOORS_FROM);
    const floors: Floor[] = [];
    for (let i = 0; i < listed.length; i += 2) {
      floors.push({ reach: (listed[i] ?? 0) / 1000, w: (listed[i + 1] ?? 0) / 1000 });
    }
    return floors;
  };

  const distance = (index: number, step: number): Mm | 'none' => {
    const lowest = floorsAt(index, step).at(-1);
    return lowest === undefined ? 'none' : distanceFromHeight(mm(lowest.w), slope);
  };

  const ground = (step: number): Section =>
    indexes.flatMap(({ at }, index) => {
      const reached = distance(index, step);
      return reached === 'none' ? [] : [{ at: rad(at), distance: reached }];
    });

  const ofPart = (x: number, z: number): PlanePoint => toWheelFrame({ x, y: 0, z }, slope);

  const profile = (index: number, step: number, shank: number): readonly PlanePoint[] => {
    const up = rad(indexes[index]?.at ?? 0);
    const support = blankSupport(blank, up);
    const floors = floorsAt(index, step);
    const top = (u: number): number =>
      floors.reduce(
        (least, floor) =>
          Math.min(
            least,
            floor.reach <= u
              ? floor.w
              : floor.w + (periphery > 0 ? liftAt(floor.reach - u, periphery) : Number.POSITIVE_INFINITY),
          ),
        stockTop(support, mm(u), slope) as number,
      );
    const from = ofPart(-shank, support).u;
    const tip = tipEdge(support, slope);
    const breaks = floors.flatMap(({ reach, w }) => [
      reach - 1e-6,
      reach + 1e-6,
      (support / Math.cos(slope) - w) / Math.tan(slope),
      // Behind a plain wheel the metal is hollow.
      ...(periphery > 0 ? Array.from({ length: HOLLOW_POINTS }, (_, i) => reach - i * HOLLOW_STEP) : []),
    ]);
    const upper = [from, ...breaks, tip]
      .filter((u) => u >= from && u <= tip)
      .toSorted((a, b) => a - b)
      .map((u) => ({ u, w: top(u) }))
      // The front face bounds the metal toward the tip.
      .filter(({ u, w }) => u <= w * Math.tan(slope) + 1e-9);
    const front = Math.min(floors.at(-1)?.w ?? Number.POSITIVE_INFINITY, support * Math.cos(slope));
    return [...upper, { u: front * Math.tan(slope), w: front }, ...underside(up, step, shank)];
  };

  /** The side away from the wheel, from the tip to the shank: the opposite flat where one is ground. */
  const underside = (up: Rad, step: number, shank: number): readonly PlanePoint[] => {
    const under = blankSupport(blank, rad(up + Math.PI));
    const facing = indexes.findIndex(({ at }) => between(rad(at + Math.PI), up) < SAME_WAY);
    const reached = facing < 0 ? 'none' : distance(facing, step);
    const shankEnd = ofPart(-shank, -under);
    if (reached === 'none' || reached >= under) return [ofPart(0, -under), shankEnd];
    const reach = floorsAt(facing, step).reduce((least, floor) => Math.min(least, floor.reach), 0);
    const depth = reached * Math.cos(slope) * Math.sin(slope) - reach * Math.cos(slope);
    return [
      ofPart(0, -reached),
      ofPart(-depth, -(reached - depth * Math.tan(slope))),
      ofPart(-depth, -under),
      shankEnd,
    ];
  };

  return {
    distance,
    profile,
    section: (step) => outlinePoints(ground(step), blank),
    isGround: (index) => (changes[index]?.length ?? 0) + (indexes[index]?.floors.length ?? 0) > 0,
  };
}
