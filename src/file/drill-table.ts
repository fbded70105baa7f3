/** shared/drills.yaml: every drill by its name, metric steps, fractions, numbers and letters. */
import * as z from 'zod';
import type { Drill } from '../job/drill.js';
import { trimmed } from '../quantity/decimal.js';
import { toMm } from '../quantity/length.js';
import { mm } from '../quantity/unit.js';
import { parsedOnce, type TextFile } from './text-file.js';
import { validate } from './validate.js';
import { readYaml } from './yaml-source.js';

const schema = z.strictObject({
  metric: z.strictObject({
    from: z.number().positive(),
    to: z.number().positive(),
    step: z.number().positive(),
    unit: z.literal('mm'),
  }),
  fractions: z.strictObject({ from: z.int().positive(), to: z.int().positive(), of: z.literal(64) }),
  numbers: z.array(z.number().positive()),
  letters: z.record(z.string().length(1), z.number().positive()),
});

/** `13/64 in`, `1/4 in` in its lowest terms. */
function fractionName(parts: number, of: number): string {
  let [above, below] = [parts, of];
  while (above % 2 === 0 && below > 1) [above, below] = [above / 2, below / 2];
  return below === 1 ? `${above} in` : `${above}/${below} in`;
}

/** Metric ones first, so that of two as near the metric one is taken. */
export const readDrills = parsedOnce(({ file, text }: TextFile): readonly Drill[] => {
  const { metric, fractions, numbers, letters } = validate(readYaml(text, file), schema);
  const steps = Math.round((metric.to - metric.from) / metric.step);
  return [
    ...Array.from({ length: steps + 1 }, (_, i): Drill => {
      const diameter = metric.from + i * metric.step;
      return { name: `${trimmed(diameter, 2)} mm`, diameter: mm(diameter) };
    }),
    ...Array.from({ length: fractions.to - fractions.from + 1 }, (_, i): Drill => {
      const parts = fractions.from + i;
      return { name: fractionName(parts, fractions.of), diameter: toMm(parts / fractions.of, 'inch') };
    }),
    ...numbers.map((diameter, i): Drill => ({ name: `no. ${i + 1}`, diameter: toMm(diameter, 'inch') })),
    ...Object.entries(letters).map(
      ([letter, diameter]): Drill => ({
        name: `letter ${letter}`,
        diameter: toMm(diameter, 'inch'),
      }),
    ),
  ];
});
