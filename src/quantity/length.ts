/**
 * Millimetres and inches: 1 in = 25.4 mm exactly.
 * Source: ISO 80000-3, the inch as 25.4 mm; the inverse is computed from it, never typed.
 */
import { type LengthUnit, type Mm, mm } from './unit.js';

const MM_PER_INCH = 25.4;

const mmPer: Record<LengthUnit, number> = { mm: 1, inch: MM_PER_INCH };

/** A number written in `unit`, as millimetres. */
export const toMm = (value: number, unit: LengthUnit): Mm => mm(value * mmPer[unit]);

/** Millimetres as a number in `unit`. */
export const fromMm = (length: Mm, unit: LengthUnit): number => length / mmPer[unit];
