/**
 * The rim is round in plan, so what it leaves ends in an arc. A wheel of outer radius Rw with its
 * centre at uc covers at v all of u >= uc - sqrt(Rw^2 - v^2). Source: circle geometry (sagitta of a
 * chord); Machinery's Handbook, 31st ed., p. 79, segments of a circle. Refuses |v| > Rw: not covered. The lowest line of
 * a plain wheel lies across, its width of it: it covers all of u >= uc within that.
 */
import { type Mm, mm } from '../quantity/unit.js';

/** What of a wheel stands in the plane that grinds. */
export interface RimInPlan {
  readonly shape: string;
  readonly radius: Mm;
  readonly rim: Mm;
}

/** Where the centre must be so that the rim just covers (u, v); `uncovered` if v lies beyond the rim. */
export function centreToCover(u: Mm, v: Mm, wheel: RimInPlan): Mm | 'uncovered' {
  if (wheel.shape === 'plain') return Math.abs(v) > wheel.rim / 2 ? 'uncovered' : u;
  if (Math.abs(v) >= wheel.radius) return 'uncovered';
  return mm(u + Math.sqrt(wheel.radius ** 2 - v ** 2));
}

/** The smallest u that the rim covers at v, with its centre at (centre, centreV); +infinity beside the wheel. */
export function coveredFrom(centre: Mm, centreV: Mm, v: Mm, wheel: RimInPlan): Mm {
  if (wheel.shape === 'plain')
    return Math.abs(v - centreV) > wheel.rim / 2 ? mm(Number.POSITIVE_INFINITY) : centre;
  const across = wheel.radius ** 2 - (v - centreV) ** 2;
  return across <= 0 ? mm(Number.POSITIVE_INFINITY) : mm(centre - Math.sqrt(across));
}

/** How far the centre line reaches past a chord of half-width b: Rw - sqrt(Rw^2 - b^2). */
export const sagitta = (wheelRadius: Mm, halfWidth: Mm): Mm =>
  mm(wheelRadius - Math.sqrt(wheelRadius ** 2 - halfWidth ** 2));
