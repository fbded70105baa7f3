/**
 * How the blank's material and the wheel's abrasive behave: specific energy, grinding ratio (volume of metal
 * over volume of wheel), elasticity, expansion. From shared/grinding.yaml, which names the source of each
 * figure. A job writes material and abrasive in its own words; the row with the longest word found in them is taken.
 */
import * as z from 'zod';
import { jPerMm3, mm } from '../quantity/unit.js';
import type { Figures } from '../wheel/material.js';
import { parsedOnce, type TextFile } from './text-file.js';
import { validate } from './validate.js';
import { readYaml } from './yaml-source.js';

const names = z.array(z.string().min(1)).min(1);
const span = z.tuple([z.number().positive(), z.number().positive()]).refine(([least, most]) => least <= most);
const grades = z.tuple([z.string().length(1), z.string().length(1)]).refine(([soft, hard]) => soft <= hard);

const figuresSchema = z.strictObject({
  materials: z.array(
    z.strictObject({
      name: z.string(),
      words: names,
      elasticity: z.number().positive(),
      expansion: z.number().positive(),
      conductivity: z.number().positive(),
      temper: z.number().positive(),
      source: z.string(),
    }),
  ),
  abrasives: z.array(z.strictObject({ name: z.string(), words: names })),
  pairs: z.array(
    z.strictObject({
      material: z.string(),
      abrasive: z.string(),
      energy: span,
      energySource: z.string(),
      infeed: z.tuple([z.number().positive(), z.number().positive()]),
      ratio: span,
      ratioSource: z.string(),
      usual: z.strictObject({ grit: span, dry: grades, wet: grades, source: z.string() }).optional(),
    }),
  ),
  never: z.array(z.strictObject({ material: z.string(), abrasive: z.string(), instead: z.string() })),
  otherwise: z.strictObject({ material: z.string(), abrasive: z.string() }),
});

export type GrindingTable = z.output<typeof figuresSchema>;

/** @throws InputError if the shipped table is damaged. */
export const readGrindingTable = parsedOnce(
  ({ file, text }: TextFile): GrindingTable => validate(readYaml(text, file), figuresSchema),
);

/** Figures for a blank and a wheel in the job's own words; `ratio` is the job's own grinding ratio, if it has one. */
export function figuresFor(
  table: GrindingTable,
  material: string,
  abrasive: string,
  ratio?: number,
): Figures {
  const found = { material: rowOf(table.materials, material), abrasive: rowOf(table.abrasives, abrasive) };
  const pairOf = (of: { material: string | undefined; abrasive: string | undefined }) =>
    table.pairs.find((pair) => pair.material === of.material && pair.abrasive === of.abrasive);
  const own = pairOf({ material: found.material?.name, abrasive: found.abrasive?.name });
  const pair = own ?? pairOf(table.otherwise);
  const row = found.material ?? table.materials.find(({ name }) => name === table.otherwise.material);
  if (pair === undefined || row === undefined)
    throw new Error('the grinding table lacks its own `otherwise` pair');
  const [least, most] = pair.ratio;
  return {
    material: row.name,
    abrasive: pair.abrasive,
    assumed: own === undefined,
    instead:
      table.never.find(
        (each) => each.material === found.material?.name && each.abrasive === found.abrasive?.name,
      )?.instead ?? 'none',
    infeed: { rough: mm(pair.infeed[0]), finish: mm(pair.infeed[1]) },
    conductivity: row.conductivity,
    temper: row.temper,
    energy: { least: jPerMm3(pair.energy[0]), most: jPerMm3(pair.energy[1]), source: pair.energySource },
    ratio:
      ratio === undefined
        ? { least, most, taken: Math.sqrt(least * most), source: pair.ratioSource }
        : { least: ratio, most: ratio, taken: ratio, source: 'the job' },
    elasticity: row.elasticity * 1000,
    expansion: row.expansion * 1e-6,
    usual: own?.usual ?? 'none',
  };
}

/** The abrasive a job's words name, `none` where the table has no such words. */
export const abrasiveNamed = ({ abrasives }: GrindingTable, words: string): string | 'none' =>
  rowOf(abrasives, words)?.name ?? 'none';

interface Named {
  readonly name: string;
  readonly words: readonly string[];
}

/** The row whose longest word stands in `text` as a word of its own. */
function rowOf<Row extends Named>(rows: readonly Row[], text: string): Row | undefined {
  const plain = ` ${text.toLowerCase().replace(/[^a-z0-9]+/g, ' ')} `;
  const best = (row: Row): number =>
    Math.max(
      0,
      ...row.words.map((word) => (plain.includes(` ${word.replace(/[^a-z0-9]+/g, ' ')} `) ? word.length : 0)),
    );
  const sorted = rows.toSorted((a, b) => best(b) - best(a));
  return sorted[0] !== undefined && best(sorted[0]) > 0 ? sorted[0] : undefined;
}
