/**
 * Layouts: how the wheel frame (u, v, w) lies in the machine's axes. A row says which axis carries the
 * tool axis, and which way, which carries v, and whether X is written as a diameter. On a lathe either the wheel
 * turns in its spindle and the sloped punch stands in the tool post, or the punch is chucked, square to the axes, and
 * the wheel's own spindle stands on the slide, swivelled. On a bench grinder a block slides along a rail. With the fixture
 * sloped, u, v, w are machine directions; with the head tilted by t the machine stays square to the
 * punch, so a point is turned into the part frame first and strokes interpolate two axes:
 *   x' = u cos t - w sin t,   z' = u sin t + w cos t.
 * Work zero is the centre of the front face; the programmed point is the centre of the rim plane.
 * Source: rotation by t about v; axis names as ISO 841 (from memory).
 */
import type { Rad } from '../quantity/unit.js';
import { toPartFrame, toWheelFrame, type WheelPoint } from '../wheel/frame.js';

export type LinearAxis = 'x' | 'y' | 'z';

/** Programmed coordinates, mm; X doubled where the layout writes diameters. An absent axis stays 0. */
export interface MachinePoint {
  readonly x: number;
  readonly y: number;
  readonly z: number;
}

interface AxisWay {
  readonly axis: LinearAxis;
  readonly sign: 1 | -1;
}

/** What kind of machine a layout belongs to, where words and rules hang on it. */
export type MachineKind =
  | 'mill'
  | 'lathe, wheel in the spindle'
  | 'lathe, punch in the spindle'
  | 'bench grinder with a rail'
  | 'surface grinder';

export interface Layout {
  readonly kind: MachineKind;
  /** What grinds there: the face of a cup, or the periphery of a plain wheel whose spindle lies across the punch. */
  readonly wheel: 'cup' | 'plain';
  readonly along: AxisWay;
  readonly across: AxisWay | 'none';
  readonly up: AxisWay;
  /** How a person measures X. */
  readonly xWritten: 'radius' | 'diameter';
  /** What can slope: the punch in its fixture, or the wheel's head, strokes then interpolated or along a swivelled slide. */
  readonly slopes: readonly Slope['by'][];
  /** +1 if a standard rotary axis along the tool axis counts as the section's angles do, seen from the tip. */
  readonly indexSign: 1 | -1;
  /** Plane, and on a lathe a wheel speed that does not follow the diameter; said at every start. */
  readonly startCodes: readonly ('G17' | 'G18' | 'G97')[];
}

const mill = (along: AxisWay, across: AxisWay, indexSign: 1 | -1): Layout => ({
  kind: 'mill',
  wheel: 'cup',
  along,
  across,
  up: { axis: 'z', sign: 1 },
  xWritten: 'radius',
  slopes: ['fixture', 'head'],
  indexSign,
  startCodes: ['G17'],
});

const wheelInSpindle = (xWritten: Layout['xWritten']): Layout => ({
  kind: 'lathe, wheel in the spindle',
  wheel: 'cup',
  along: { axis: 'x', sign: 1 },
  across: 'none',
  up: { axis: 'z', sign: 1 },
  xWritten,
  slopes: ['fixture'],
  indexSign: 1,
  startCodes: ['G18', 'G97'],
});

/** The tip points away from the chuck, along +Z; the cross slide brings the wheel in. */
const punchInSpindle = (xWritten: Layout['xWritten']): Layout => ({
  kind: 'lathe, punch in the spindle',
  wheel: 'cup',
  along: { axis: 'z', sign: 1 },
  across: 'none',
  up: { axis: 'x', sign: 1 },
  xWritten,
  slopes: ['head'],
  indexSign: 1,
  startCodes: ['G18', 'G97'],
});

/** Along the rail, and by the screw toward the wheel; no control moves it. */
const rail: Layout = {
  kind: 'bench grinder with a rail',
  wheel: 'cup',
  along: { axis: 'x', sign: 1 },
  across: 'none',
  up: { axis: 'z', sign: 1 },
  xWritten: 'radius',
  slopes: ['fixture'],
  indexSign: 1,
  startCodes: ['G17'],
};

/** A spindle that lies across the punch, on a surface grinder or a mill with such a spindle. */
const across = (along: AxisWay, beside: AxisWay, indexSign: 1 | -1): Layout => ({
  ...mill(along, beside, indexSign),
  kind: 'surface grinder',
  wheel: 'plain',
  slopes: ['fixture'],
});

/** The tip points along the named direction; on a lathe the wheel is in the spindle, unless the punch is. */
export const layouts = {
  'mill, tool along +X': mill({ axis: 'x', sign: 1 }, { axis: 'y', sign: 1 }, 1),
  'mill, tool along -X': mill({ axis: 'x', sign: -1 }, { axis: 'y', sign: -1 }, -1),
  'mill, tool along +Y': mill({ axis: 'y', sign: 1 }, { axis: 'x', sign: -1 }, 1),
  'mill, tool along -Y': mill({ axis: 'y', sign: -1 }, { axis: 'x', sign: 1 }, -1),
  'lathe, X as radius': wheelInSpindle('radius'),
  'lathe, X as diameter': wheelInSpindle('diameter'),
  'lathe, punch in the spindle, X as radius': punchInSpindle('radius'),
  'lathe, punch in the spindle, X as diameter': punchInSpindle('diameter'),
  'bench grinder with a rail': rail,
  'surface grinder, tool along +X': across({ axis: 'x', sign: 1 }, { axis: 'y', sign: 1 }, 1),
  'surface grinder, tool along -X': across({ axis: 'x', sign: -1 }, { axis: 'y', sign: -1 }, -1),
} as const satisfies Record<string, Layout>;

export type LayoutName = keyof typeof layouts;

export const kindOf = (name: LayoutName): MachineKind => layouts[name].kind;

/** A lathe, whichever of wheel and punch turns in its spindle. */
export const isLathe = (name: LayoutName): boolean =>
  kindOf(name) === 'lathe, wheel in the spindle' || kindOf(name) === 'lathe, punch in the spindle';

/** The wheel comes from above, and the flat to be ground is up; elsewhere it stands toward the wheel. */
export const wheelAbove = (name: LayoutName): boolean =>
  kindOf(name) === 'mill' || kindOf(name) === 'surface grinder';

/** The spindle a program speaks to holds the punch, and must never turn while the wheel is near. */
export const punchTurns = (name: LayoutName): boolean => kindOf(name) === 'lathe, punch in the spindle';

/** How the punch is sloped under the wheel: by `angle`, with the fixture or with the head. */
export interface Slope {
  readonly by: 'fixture' | 'head';
  readonly angle: Rad;
}

/** +1 or -1: the way a rotary axis of `sense` counts against the section's angles. */
export const rotarySign = (layout: Layout, sense: 'standard' | 'reversed'): 1 | -1 =>
  (sense === 'reversed' ? -layout.indexSign : layout.indexSign) as 1 | -1;

/** What a millimetre along an axis counts in a program: two where X is a diameter. */
export const countsOf = ({ xWritten }: Layout, axis: LinearAxis): 1 | 2 =>
  axis === 'x' && xWritten === 'diameter' ? 2 : 1;

/** Wheel frame to programmed coordinates. */
export function toMachine(layout: Layout, slope: Slope, point: WheelPoint): MachinePoint {
  const {
    x: along,
    y: across,
    z: up,
  } = slope.by === 'head' ? toPartFrame(point, slope.angle) : { x: point.u, y: point.v, z: point.w };
  const machine = { x: 0, y: 0, z: 0 };
  machine[layout.along.axis] = layout.along.sign * along;
  if (layout.across !== 'none') machine[layout.across.axis] = layout.across.sign * across;
  machine[layout.up.axis] = layout.up.sign * up;
  return { ...machine, x: machine.x * countsOf(layout, 'x') };
}

/** Programmed coordinates to the wheel frame; undoes `toMachine`. */
export function fromMachine(layout: Layout, slope: Slope, machine: MachinePoint): WheelPoint {
  const square = { ...machine, x: machine.x / countsOf(layout, 'x') };
  const along = layout.along.sign * square[layout.along.axis];
  const across = layout.across === 'none' ? 0 : layout.across.sign * square[layout.across.axis];
  const up = layout.up.sign * square[layout.up.axis];
  return slope.by === 'head'
    ? toWheelFrame({ x: along, y: across, z: up }, slope.angle)
    : { u: along, v: across, w: up };
}
