/** Schema pieces that read a quantity and brand it, so that a schema's output type carries the unit. */
import * as z from 'zod';
import { QuantityError, readQuantity } from '../quantity/arithmetic.js';
import type { Dimension, Inside } from '../quantity/dimension.js';
import type { LengthUnit } from '../quantity/unit.js';

/** The units of a file, as people write them beside `mm` and `inch`. */
export const UNITS_WRITTEN: Readonly<Record<string, LengthUnit>> = {
  in: 'inch',
  inches: 'inch',
  '"': 'inch',
  millimetre: 'mm',
  millimetres: 'mm',
  millimeter: 'mm',
  millimeters: 'mm',
  metric: 'mm',
};

/** `mm` or `inch`, or what means it. */
export const lengthUnits = () =>
  z.preprocess(
    (value) => (typeof value === 'string' ? (UNITS_WRITTEN[value.toLowerCase()] ?? value) : value),
    z.enum(['mm', 'inch']),
  );

/** Which values are allowed, in the inside unit, and how to say so. */
export interface Range {
  readonly holds: (value: number) => boolean;
  readonly needs: string;
}

export const MORE_THAN_ZERO: Range = { holds: (value) => value > 0, needs: 'must be more than 0' };
export const NOT_NEGATIVE: Range = { holds: (value) => value >= 0, needs: 'must not be negative' };
export const ANY: Range = { holds: () => true, needs: '' };

/** An angle strictly between 0 and `mostDeg` degrees. */
export const angleBelow = (mostDeg: number, least: 'more than 0' | '0'): Range => ({
  holds: (value) => (least === '0' ? value >= 0 : value > 0) && value < (mostDeg * Math.PI) / 180,
  needs: `must be ${least === '0' ? 'at least 0' : 'more than 0'} and less than ${mostDeg} deg`,
});

function quantity<D extends Dimension>(dimension: D, bare: string, range: Range, description: string) {
  return z
    .union([z.number(), z.string()], { error: 'write a number, or a number with its unit' })
    .transform((text, context): Inside[D] => {
      try {
        const value = readQuantity(text, dimension, bare);
        if (range.holds(value)) return value;
        context.addIssue({ code: 'custom', message: `${text} ${range.needs}` });
      } catch (error) {
        if (!(error instanceof QuantityError)) throw error;
        context.addIssue({ code: 'custom', message: error.message });
      }
      return z.NEVER;
    })
    .describe(description);
}

/** Makes the schema of each unit once, when it is first asked for. */
export function perUnit<Schema>(make: (units: LengthUnit) => Schema): (units: LengthUnit) => Schema {
  const made = new Map<LengthUnit, Schema>();
  return (units) => {
    const known = made.get(units);
    if (known !== undefined) return known;
    const schema = make(units);
    made.set(units, schema);
    return schema;
  };
}

/** The quantities of one file: bare numbers take that file's units. */
export const quantitiesIn = (units: LengthUnit) => ({
  length: (range: Range, description: string) => quantity('length', units, range, description),
  angle: (range: Range, description: string) => quantity('angle', 'deg', range, description),
  speed: (description: string) => quantity('speed', `${units}/min`, MORE_THAN_ZERO, description),
  rotation: (description: string) => quantity('rotation', 'rpm', MORE_THAN_ZERO, description),
  time: (description: string, range: Range = NOT_NEGATIVE) => quantity('time', 's', range, description),
  volume: (description: string) => quantity('volume', 'mm3', MORE_THAN_ZERO, description),
  removalRate: (description: string) => quantity('removal rate', 'mm3/s', MORE_THAN_ZERO, description),
  specificRemovalRate: (description: string) =>
    quantity('specific removal rate', 'mm2/s', MORE_THAN_ZERO, description),
  power: (description: string) => quantity('power', 'W', MORE_THAN_ZERO, description),
});
