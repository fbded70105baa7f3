/** Gauge-block sets by name, from shared/gauge-blocks.yaml, which names the source of each. */
import * as z from 'zod';
import { GAUGE_STEP, type GaugeSet } from '../job/gauge.js';
import { parsedOnce, type TextFile } from './text-file.js';
import { validate } from './validate.js';
import { readYaml } from './yaml-source.js';

const setsSchema = z.strictObject({
  sets: z.array(
    z.strictObject({
      name: z.string(),
      units: z.enum(['mm', 'inch']),
      source: z.string(),
      /** First block, step to the next, how many. */
      groups: z.array(z.tuple([z.number().positive(), z.number().min(0), z.int().positive()])),
    }),
  ),
});

/**
 * The sets of shared/gauge-blocks.yaml.
 * @throws InputError if the table is damaged.
 */
export const readGaugeSets = parsedOnce(({ file, text }: TextFile): readonly GaugeSet[] =>
  validate(readYaml(text, file), setsSchema).sets.map(({ name, units, source, groups }) => ({
    name,
    units,
    source,
    blocks: groups.flatMap(([first, step, count]) =>
      Array.from({ length: count }, (_, i) => Math.round((first + i * step) / GAUGE_STEP[units])),
    ),
  })),
);
