/**
 * Where the wheel stands when nothing may be touched. Clear: beyond the tip's upper edge,
 * u = R sin t + clearance + Rw, with R the circle the blank turns in, since the index happens here; the first infeed after
 * one too, later ones just past the metal (plan/stroke). Index height: over all stock and over the holding nose.
 */
import { type Job, layoutOf, slopeOf } from '../job/job.js';
import { type MachinePoint, toMachine } from '../job/layout.js';
import { type Mm, mm } from '../quantity/unit.js';
import { circumradius } from '../section/blank.js';
import { noseCorner, stockTop, tipEdge } from '../wheel/frame.js';
import type { FlatPlan } from './flat.js';

export interface Positions {
  /** u of the wheel's centre, clear of the tip. */
  readonly clear: Mm;
  /** w of the rim while the punch is indexed. */
  readonly indexHeight: Mm;
}

/** Clear position and index height, mm in the wheel frame. */
export function planPositions(job: Job, flats: readonly FlatPlan[]): Positions {
  const { clearance, retract } = job.grinding;
  const slope = job.punch.relief;
  const radius = circumradius(job.blank);
  const farthest = mm(Math.min(0, ...flats.map(({ reach }) => reach)));
  const nose = noseCorner(job.blank.stickOut, job.holding.nose.halfHeight, slope);
  return {
    clear: mm(tipEdge(radius, slope) + clearance + job.wheel.radius),
    indexHeight: mm(Math.max(stockTop(radius, farthest, slope) + retract, nose.w + clearance)),
  };
}

/** Every place the wheel stops at, as the machine's axes read it. */
export function machinePlaces(
  job: Job,
  flats: readonly FlatPlan[],
  positions: Positions,
): readonly MachinePoint[] {
  const { clear, indexHeight } = positions;
  const places = [
    { u: clear, v: 0, w: indexHeight },
    ...flats.flatMap(({ centreEnd, w, stockTop: top }) => [
      { u: centreEnd, v: 0, w },
      { u: clear, v: 0, w },
      { u: centreEnd, v: 0, w: top + job.grinding.startAbove },
      { u: clear, v: 0, w: top + job.grinding.startAbove },
    ]),
  ];
  return places.map((place) => toMachine(layoutOf(job), slopeOf(job), place));
}
