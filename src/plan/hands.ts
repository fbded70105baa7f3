/**
 * What hands do to find the zero, and to find it again when a flat is roughed, as an ordered list: where to touch, what
 * the display must then read. Order across, along, height, since the height of a sloping blank depends on the place.
 *   edge of the front face   along = R sin t + Rw + f, wheel at rest beside it, f a feeler
 *   top of the blank         height = R / cos t - u tan t + f, by plan/touch-off
 *   a ground flat            height = (h + (M - M0) / share) cos t + f, M what it reads across and M0 what it should:
 *                            for a section that reads share x h this is M / share x cos t
 * all in the wheel frame; a display shows them through the machine's layout, where a tilted head moves both axes. A blank
 * that runs out touches differently all round: the mean of two opposite touches counts.
 * Source: geometry of wheel/frame.
 */
import { takenBack } from '../job/block.js';
import { type Job, layoutOf, onMachine, slopeOf } from '../job/job.js';
import type { LinearAxis } from '../job/layout.js';
import { distanceOf, farthestOf, heightAt, reachToward, standingAt } from '../job/standing.js';
import { toMm } from '../quantity/length.js';
import { type Mm, mm, type Rad, rad } from '../quantity/unit.js';
import { blankSupport } from '../section/blank.js';
import type { Flat, Section } from '../section/flat.js';
import { acrossFlat, readingShare } from '../section/outline.js';
import { measuredTo } from '../section/polygon.js';
import { distanceFromHeight, flatHeight, tipEdge } from '../wheel/frame.js';
import { halfChord } from '../wheel/periphery.js';
import { isGround, sectionAt, shareOf } from './stage.js';
import type { TouchOff } from './touch-off.js';

/** What an axis shows, as programmed: a diameter where X is one. */
export interface Shown {
  readonly axis: LinearAxis;
  readonly reads: Mm;
}

/** What the display of an axis is made to read at a touch; a feeler between adds `perFeeler` for each mm of it. */
export interface Typed extends Shown {
  readonly perFeeler: number;
}

export type HandStep =
  | { readonly kind: 'level a flat of the blank'; readonly at: Rad }
  | {
      readonly kind: 'touch the edge of the front face';
      /** How far the rim stands below the edge; by eye unless `stand` says what the display reads there. */
      readonly below: Mm;
      readonly stand: Shown | 'by eye';
      readonly type: Typed;
      /** Typed nearer to zero for each mm of a chamfer at that edge, measured on the face: its foot stands c sin t back. */
      readonly perChamfer: number;
    }
  | { readonly kind: 'centre across'; readonly type: Shown }
  | {
      readonly kind: 'touch the top of the blank';
      /** Good enough to find the edge by; it is done again. */
      readonly roughly: boolean;
      /** Index angles it is touched at; the mean of the places counts. */
      readonly at: readonly Rad[];
      readonly stand: Shown;
      readonly type: Typed;
    }
  | FlatTouch;

/** After roughing, dressing or a worn rim: a ground flat is touched. Any of `flats`, whichever is up. */
export interface FlatTouch {
  readonly kind: 'touch a ground flat';
  readonly flats: readonly number[];
  readonly ground: 'as it stands' | 'roughed' | 'finished';
  readonly stand: Shown;
  /** Typed if it reads across what it should. */
  readonly type: Typed;
  readonly reading: Mm;
  /** Typed more for each mm it reads more. */
  readonly perReading: number;
}

/** How far below the edge of the front face the rim stands; common practice, no source. */
const BELOW = { mm: 1, inch: 0.04 } as const;

/** The steps before the first stroke, in order, then a touch for every kind of flat, roughed and finished. */
export function planHands(job: Job, touchOff: TouchOff): readonly HandStep[] {
  const { across } = layoutOf(job);
  const display = displayOf(job);
  const first = job.punch.section[0]?.at ?? rad(0);
  const top = { u: touchOff.u, w: touchOff.w };
  const touchTop = (at: readonly Rad[], roughly: boolean): HandStep => ({
    kind: 'touch the top of the blank',
    roughly,
    at,
    stand: display.along(top),
    type: display.height({ ...top, w: mm(top.w + touchOff.rise) }),
  });
  const stands = standingAt(job, first) !== 'none';
  return [
    ...(job.blank.shape === 'round' && !stands
      ? []
      : [{ kind: 'level a flat of the blank', at: first } as const]),
    // A tilted head moves both axes: the height is found roughly first, or the edge would be where it is not.
    ...(heightFirst(job) ? [touchTop([first], true)] : []),
    // Beside the middle a round rim would meet the edge with less than its radius.
    ...(across === 'none'
      ? []
      : [{ kind: 'centre across', type: { axis: across.axis, reads: mm(0) } } as const]),
    edgeTouch(job, first, display),
    // Where a flat stands there is no raw top: it is touched as it stands.
    ...(stands ? [] : [touchTop(touchOff.at, false)]),
    ...flatTouches(job, touchOff),
  ];
}

/** Where the place along hangs on the height: of a tilted head, and of a periphery, whose width hangs on how low it stands. */
const heightFirst = (job: Job): boolean => slopeOf(job).by === 'head' || job.wheel.periphery > 0;

/**
 * A feeler between the edge of the face and a periphery lies square to that: how much farther out the wheel stands for each mm
 * of it, sqrt((Rg + f)^2 - (Rg - below)^2) by f at 0.
 */
const alongPerFeeler = (periphery: Mm, below: Mm): number =>
  periphery > 0 ? periphery / halfChord(periphery, below) : 1;

/** Where the wheel's centre stands with the rim against the upper edge of the front face, `below` under it. */
export function facePlace(job: Job, at: Rad): Place & { readonly below: Mm } {
  const reach = reachToward(job, at);
  const t = job.punch.relief;
  const below = mm(Math.min(toMm(BELOW[job.units], job.units), reach / 2));
  // A flaring cup is widest at its rim, which meets the leaning face below the edge.
  const back = job.wheel.shape === 'flaring cup' ? below * Math.tan(t) : 0;
  return {
    u: mm(tipEdge(reach, t) - back + job.wheel.radius + halfChord(job.wheel.periphery, below)),
    w: mm(reach * Math.cos(t) - below),
    below,
  };
}

function edgeTouch(job: Job, at: Rad, display: Display): HandStep {
  const t = job.punch.relief;
  const { below, ...place } = facePlace(job, at);
  const type = display.beside(place);
  return {
    kind: 'touch the edge of the front face',
    below,
    stand: heightFirst(job) ? display.height(place) : 'by eye',
    type: { ...type, perFeeler: type.perFeeler * alongPerFeeler(job.wheel.periphery, below) },
    perChamfer: job.wheel.shape !== 'straight cup' ? 0 : Math.abs(type.perFeeler) * Math.sin(t),
  };
}

/** Where a flat at `distance` from the axis is touched, and what the display is to read there. */
export function groundTouch(
  job: Job,
  touchOff: TouchOff,
  { at, distance }: Flat,
): { readonly stand: Shown; readonly type: Typed } {
  const display = displayOf(job);
  const place = { u: touchOff.u, w: flatHeight(distance, job.punch.relief) };
  return {
    stand: display.along(place),
    type: display.height({ ...place, w: mm(place.w + takenBack(job, at)) }),
  };
}

/** Flats at one distance that read alike are touched alike. */
function flatTouches(job: Job, touchOff: TouchOff): readonly FlatTouch[] {
  const t = job.punch.relief;
  const edge = touchOff.u - job.wheel.radius;
  const kinds = [
    { ground: 'as it stands', section: standingSection(job) },
    { ground: 'roughed', section: sectionAt(job, 'roughed') },
    { ground: 'finished', section: sectionAt(job, 'finished') },
  ] as const;
  return kinds.flatMap(({ ground, section }) => {
    const alike = new Map<string, FlatTouch>();
    section.forEach((flat, i) => {
      const { at, distance } = flat;
      const stands = standingAt(job, at);
      // As it stands it is touched only where it is a flat already; ground, only where it is ground now.
      const isThere = stands !== 'none' && farthestOf(stands) <= edge;
      if (ground === 'as it stands' ? !isThere : !isGround(job, flat)) return;
      const reading = acrossFlat(section, job.blank, i);
      const share = ground === 'as it stands' ? standingShare(job, i) : shareOf(job, i);
      // One that stands at a slope of its own is higher there than at its front.
      const there =
        ground === 'as it stands' && stands !== 'none'
          ? distanceFromHeight(heightAt(stands, edge), t)
          : distance;
      const key = [there, reading, share, takenBack(job, at)].map((each) => each.toFixed(4)).join();
      const { stand, type } = groundTouch(job, touchOff, { at, distance: there });
      alike.set(key, {
        kind: 'touch a ground flat',
        flats: [...(alike.get(key)?.flats ?? []), i + 1],
        ground,
        stand,
        type,
        reading,
        perReading: (type.perFeeler * Math.cos(t)) / share,
      });
    });
    return [...alike.values()];
  });
}

/** How far a reading moves with the flats of a pair that stand: one of them alone where the blank is raw opposite. */
function standingShare(job: Job, index: number): number {
  const facing = measuredTo(job.punch.section, index);
  if (typeof facing !== 'number') return readingShare(job.punch.section, job.blank, index);
  return [index, facing].filter((i) => standingAt(job, job.punch.section[i]?.at ?? rad(0)) !== 'none').length;
}

/** The flats as they stand before the work; the blank's outside where none does. */
const standingSection = (job: Job): Section =>
  job.punch.section.map(({ at }) => {
    const flat = standingAt(job, at);
    const distance = flat === 'none' ? blankSupport(job.blank, at) : distanceOf(flat, job.punch.relief);
    return { at, distance };
  });

interface Place {
  readonly u: Mm;
  readonly w: Mm;
}

interface Display {
  readonly along: (place: Place) => Shown;
  readonly beside: (place: Place) => Typed;
  readonly height: (place: Place) => Typed;
}

/** Places in the wheel frame as the displays show them; both axes depend on both where the head is tilted. */
function displayOf(job: Job): Display {
  const { along: alongWay, up: upWay } = layoutOf(job);
  const [along, up] = [alongWay.axis, upWay.axis];
  const at = (axis: LinearAxis, { u, w }: Place): Mm => mm(onMachine(job, { u, v: 0, w })[axis]);
  const by = (axis: LinearAxis, place: Place, du: number, dw: number): number =>
    at(axis, { u: mm(place.u + du), w: mm(place.w + dw) }) - at(axis, place);
  return {
    along: (place) => ({ axis: along, reads: at(along, place) }),
    beside: (place) => ({
      axis: along,
      reads: at(along, place),
      perFeeler: by(along, place, 1, -by(up, place, 1, 0) / by(up, place, 0, 1)),
    }),
    height: (place) => ({
      axis: up,
      reads: at(up, place),
      // The other axis holds still: a step of w at constant along is a step of u too.
      perFeeler: by(up, place, -by(along, place, 0, 1) / by(along, place, 1, 0), 1),
    }),
  };
}
