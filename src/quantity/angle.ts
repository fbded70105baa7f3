/**
 * Radians and degrees, and inverse functions that rounding cannot turn into NaN.
 * Degrees exist only in what people read and write; their names end in Deg.
 */
import { type Rad, rad } from './unit.js';

const RAD_PER_DEG = Math.PI / 180;

export const radFromDeg = (angleDeg: number): Rad => rad(angleDeg * RAD_PER_DEG);
export const degFromRad = (angle: Rad): number => angle / RAD_PER_DEG;

/** The same direction, from 0 up to but not including one turn. */
export function withinTurnDeg(angleDeg: number): number {
  const turned = angleDeg % 360;
  return turned < 0 ? turned + 360 : turned;
}

/** The same in radians. */
export function withinTurn(angle: Rad): Rad {
  const turned = angle % (2 * Math.PI);
  return rad(turned < 0 ? turned + 2 * Math.PI : turned);
}

/** Square root that reads a rounding error below zero as zero; use only where the true value is >= 0. */
export const sqrtClamped = (value: number): number => Math.sqrt(Math.max(0, value));

/** Arc cosine that reads a rounding error past +-1 as +-1. */
export const acosClamped = (value: number): Rad => rad(Math.acos(Math.min(1, Math.max(-1, value))));
