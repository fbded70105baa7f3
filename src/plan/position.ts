/**
 * Where the wheel stands when nothing may be touched. Clear: beyond the tip's upper edge,
 * u = R sin t + clearance + Rw, with R the circle the blank turns in, since the index happens here; the first infeed after
 * one too, later ones just past the metal (plan/stroke). Index height: over all stock, the holding nose and every box, so
 * that the wheel may come from anywhere above it. Hand height: as high as the travel lets, out of the way of hands, with
 * room for the whole program to run higher, in the air.
 */
import { type Job, layoutOf, onMachine, slopeOf, topOfBox } from '../job/job.js';
import { countsOf, type MachinePoint } from '../job/layout.js';
import { toMm } from '../quantity/length.js';
import { type Mm, mm } from '../quantity/unit.js';
import { circumradius } from '../section/blank.js';
import { noseCorner, stockTop, tipEdge, type WheelPoint } from '../wheel/frame.js';
import { besideEdge } from '../wheel/periphery.js';
import { type FlatPlan, reachAt, shoulderAt } from './flat.js';

export interface Positions {
  /** u of the wheel's centre, clear of the tip. */
  readonly clear: Mm;
  /** w of the rim while the punch is indexed. */
  readonly indexHeight: Mm;
  /** Infeed axis, as programmed, while hands are in. */
  readonly handHeight: number;
  /** Infeed axis in machine coordinates at the top of its travel; `none` where the control is not sent there. */
  readonly machineTop: number | 'none';
  /** How much higher the zero is set for a run in the air: over the blank even with the deepest pass. */
  readonly airRise: Mm;
  /** The most the travel lets it be set higher; `unknown` where work zero is. */
  readonly mostRise: Mm | 'unknown';
}

/** Kept from the end of the travel; common practice, no source. */
const FROM_THE_END: Mm = mm(5);

/** Whole steps of the offset for a run in the air. */
const AIR_STEP = { mm: 1, inch: 0.05 } as const;

/** As the axis counts it: the deepest pass then runs over the blank, with the clearance to spare. */
function airRise(job: Job, flats: readonly FlatPlan[], counts: number): Mm {
  const { units, grinding } = job;
  const step = toMm(AIR_STEP[units], units);
  const { by, angle } = slopeOf(job);
  const deepest = Math.max(0, ...flats.map(({ stock, higher }) => stock + higher)) + grinding.clearance;
  return mm(Math.ceil((counts * deepest) / (by === 'head' ? Math.cos(angle) : 1) / step) * step);
}

/** Where the wheel stands while the punch is indexed. */
export const indexPlace = ({ clear, indexHeight }: Pick<Positions, 'clear' | 'indexHeight'>): WheelPoint => ({
  u: clear,
  v: 0,
  w: indexHeight,
});

/** Clear position and heights; w in the wheel frame, axes as programmed, mm. */
export function planPositions(job: Job, flats: readonly FlatPlan[]): Positions {
  const { clearance, retract } = job.grinding;
  const slope = job.punch.relief;
  const radius = circumradius(job.blank);
  const farthest = mm(Math.min(0, ...flats.map((flat) => reachAt(job, flat, flat.stockTop))));
  // Low beside the tip, a periphery reaches farther than its lowest line; told to go lower for wear, lower by less than an infeed.
  const lowest = Math.min(radius, ...flats.map(({ w }) => w - job.grinding.roughInfeed));
  const raised = Math.max(0, ...flats.map((flat) => flat.higher));
  const beside = besideEdge(job.wheel.periphery, radius * Math.cos(slope) + raised - lowest, clearance);
  const clear = mm(tipEdge(radius, slope) + job.wheel.radius + beside);
  const indexHeight = mm(Math.max(stockTop(radius, farthest, slope) + retract, ...overAll(job, clear)));
  const { axis, sign } = layoutOf(job).up;
  const index = onMachine(job, indexPlace({ clear, indexHeight }))[axis];
  const top = topOfTravel(job);
  const counts = countsOf(layoutOf(job), axis);
  const rise = airRise(job, flats, counts);
  const { handHeight } = job.holding;
  const free = top.end === 'none' ? 'none' : top.end - sign * Math.max(FROM_THE_END, rise);
  const wanted = handHeight === undefined ? free : handHeight * sign * counts;
  const higher = wanted !== 'none' && wanted * sign > index * sign;
  const highest = higher ? wanted : index;
  return {
    clear,
    indexHeight,
    handHeight: highest,
    machineTop: job.machine.program.machineRetract === 'G53' ? top.machine : 'none',
    airRise: rise,
    mostRise: top.end === 'none' ? 'unknown' : mm((top.end - highest) * sign),
  };
}

/** Heights of the rim, at the clear position, clear of nose, blank's back and boxes; with a tilted head the punch is level. */
function overAll(job: Job, clear: Mm): readonly number[] {
  const { by, angle } = slopeOf(job);
  const { stickOut } = job.blank;
  const { clearance } = job.grinding;
  const radius = circumradius(job.blank);
  const boxes = job.holding.boxes.map((box) => topOfBox(layoutOf(job), box));
  if (by === 'fixture') {
    const nose = noseCorner(stickOut, job.holding.nose.halfHeight, angle);
    return [nose.w, stockTop(radius, mm(-stickOut), angle), ...boxes].map((height) => height + clearance);
  }
  const dip = job.wheel.radius * Math.sin(angle);
  // Height over the machine's zero to height over the rim's plane: z = u sin t + w cos t.
  return [job.holding.nose.halfHeight, radius, ...boxes].map(
    (height) => (height + clearance + dip - clear * Math.sin(angle)) / Math.cos(angle),
  );
}

/** Of the infeed axis: a little short of the end of its travel, in machine coordinates; that end as programmed. */
function topOfTravel(job: Job): { readonly machine: number | 'none'; readonly end: number | 'none' } {
  const { travel, workZero } = job.machine;
  const { axis, sign } = layoutOf(job).up;
  const limits = travel[axis];
  const zero = workZero?.[axis];
  if (limits === undefined || zero === undefined) return { machine: 'none', end: 'none' };
  const end = sign > 0 ? limits[1] : limits[0];
  return { machine: end - sign * FROM_THE_END, end: end - zero };
}

/** Every place the wheel stops at, as the machine's axes read it. */
export function machinePlaces(
  job: Job,
  flats: readonly FlatPlan[],
  positions: Positions,
): readonly MachinePoint[] {
  const { clear } = positions;
  const index = indexPlace(positions);
  const places = [
    index,
    ...flats.flatMap((flat) => {
      const top = mm(flat.stockTop + flat.higher);
      return [
        { u: flat.centreEnd, v: 0, w: flat.w },
        { u: clear, v: 0, w: flat.w },
        { u: flat.centreEnd - shoulderAt(job, flat, top), v: 0, w: top },
        { u: clear, v: 0, w: top },
      ];
    }),
  ];
  // Hand wheels go to the passes; for the index the punch is backed off or drawn away as there is room.
  if (job.machine.dials !== undefined) return places.slice(1).map((place) => onMachine(job, place));
  return [
    ...places.map((place) => onMachine(job, place)),
    { ...onMachine(job, index), [layoutOf(job).up.axis]: positions.handHeight },
  ];
}
