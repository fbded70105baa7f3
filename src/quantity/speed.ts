/**
 * Surface speed of a wheel: v = pi D N / 60, with D in metres, N in rev/min, v in m/s.
 * Source: identity (surface speed of a rotating rim); 100 mm at 3000 rev/min is 15.708 m/s.
 */
import { type Mm, type MPerS, mPerS, type RevPerMin, revPerMin } from './unit.js';

/** Surface speed of a rim of `diameter` at `speed`. */
export const surfaceSpeed = (diameter: Mm, speed: RevPerMin): MPerS =>
  mPerS((Math.PI * (diameter / 1000) * speed) / 60);

/** The rotational speed at which a rim of `diameter` runs at `surface`. */
export const speedAtSurface = (diameter: Mm, surface: MPerS): RevPerMin =>
  revPerMin((surface * 60) / (Math.PI * (diameter / 1000)));

/** 1 surface foot per minute in m/s: 0.3048 / 60. */
export const M_PER_S_PER_SFPM = 0.3048 / 60;
