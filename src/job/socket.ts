/**
 * Sockets by name: `hex 5`, `hex 1/4 in`, `square 3/8 in`. From shared/sockets.yaml, which names the source of
 * each table. Where several tables know a size the first is used and the others are kept beside it. The size to
 * grind a new punch to is a share of the way up the socket's limits, least + share (most - least): high, so
 * that it can be resharpened, and under the top, since a punch cuts a hair over its size.
 */
import { z } from 'zod';
import { readQuantity } from '../quantity/arithmetic.js';
import { fromMm, toMm } from '../quantity/length.js';
import { type LengthUnit, type Mm, mm } from '../quantity/unit.js';
import type { TextFile } from './text-file.js';
import { validate } from './validate.js';
import { readYaml } from './yaml-source.js';

const SECTION_SIDES = { hex: 6, square: 4 } as const;
export type SocketSection = keyof typeof SECTION_SIDES;

const tablesSchema = z.strictObject({
  tables: z.array(
    z.strictObject({
      title: z.string(),
      kind: z.enum(['socket', 'key']),
      section: z.enum(['hex', 'square']),
      units: z.enum(['mm', 'inch']),
      source: z.string(),
      inchNames: z.array(z.string()).optional(),
      rows: z.array(
        z
          .tuple([z.union([z.number(), z.string()]), z.number().positive(), z.number().positive()])
          .refine(([, least, most]) => least < most),
      ),
    }),
  ),
});

/** Limits of one size in one table. */
export interface Limits {
  readonly least: Mm;
  readonly most: Mm;
  readonly table: string;
  readonly source: string;
}

export interface Socket extends Limits {
  /** `hex 5`, `hex 1/4 in`. */
  readonly name: string;
  readonly section: SocketSection;
  readonly sides: number;
  readonly nominal: Mm;
  /** Units of the table it comes from. */
  readonly units: LengthUnit;
  /** What other tables say of the same size. */
  readonly others: readonly Limits[];
  /** The key that goes in; `none` where no table has it. */
  readonly key: Limits | 'none';
}

/**
 * New punches are ground this share of the way up the socket's limits; common practice, no source. From hex 2.5 up
 * it also stays within the older tighter limits.
 */
export const USUAL_SHARE = 0.6;

interface Row extends Limits {
  readonly name: string;
  readonly kind: 'socket' | 'key';
  readonly section: SocketSection;
  readonly nominal: Mm;
  readonly units: LengthUnit;
  /** Other ways to write the size: a metric square's name in inches. */
  readonly alias: Mm | 'none';
}

/** The tables last read: every job of a run reads the same ones. */
let last: { readonly text: string; readonly rows: readonly Row[] } | undefined;

function rowsOf({ file, text }: TextFile): readonly Row[] {
  if (last?.text === text) return last.rows;
  const { tables } = validate(readYaml(text, file), tablesSchema);
  const rows = tables.flatMap(({ title, kind, section, units, source, inchNames, rows: written }) =>
    written.map(([nominal, least, most], i): Row => {
      const inchName = inchNames?.[i];
      return {
        name: `${section} ${nominal}${units === 'inch' ? ' in' : ''}`,
        kind,
        section,
        units,
        nominal: mm(readQuantity(`${nominal} ${units}`, 'length', units)),
        alias: inchName === undefined ? 'none' : mm(readQuantity(`${inchName} inch`, 'length', 'inch')),
        least: toMm(least, units),
        most: toMm(most, units),
        table: title,
        source,
      };
    }),
  );
  last = { text, rows };
  return rows;
}

/** Two sizes written this close are one size. */
const SAME_SIZE = 1e-6;

const isSize = (row: Row, size: Mm): boolean =>
  Math.abs(row.nominal - size) < SAME_SIZE ||
  (row.alias !== 'none' && Math.abs(row.alias - size) < SAME_SIZE);

const limitsOf = ({ least, most, table, source }: Row): Limits => ({ least, most, table, source });

function socketOf(rows: readonly Row[], row: Row): Socket {
  const alike = rows.filter(
    (other) => other.section === row.section && other.units === row.units && isSize(other, row.nominal),
  );
  const key = alike.find(({ kind }) => kind === 'key');
  return {
    ...limitsOf(row),
    name: row.name,
    section: row.section,
    sides: SECTION_SIDES[row.section],
    nominal: row.nominal,
    units: row.units,
    others: alike.filter((other) => other.kind === 'socket' && other !== row).map(limitsOf),
    key: key === undefined ? 'none' : limitsOf(key),
  };
}

/** Every size once, in the order of the tables. */
export function allSockets(tables: TextFile): readonly Socket[] {
  const rows = rowsOf(tables);
  const sockets = rows.filter(({ kind }) => kind === 'socket');
  return sockets
    .filter((row, i) => sockets.findIndex(({ name }) => name === row.name) === i)
    .map((row) => socketOf(rows, row))
    .toSorted(
      (a, b) => a.section.localeCompare(b.section) || b.units.localeCompare(a.units) || a.nominal - b.nominal,
    );
}

/** A text that names no socket; `message` says which are near. */
export class SocketError extends Error {
  override readonly name = 'SocketError';
}

/** So many near sizes are worth naming. */
const NEAR = 4;

/**
 * The socket of that name. A bare number is millimetres; inches carry `in`, or are a fraction.
 * @throws SocketError naming the sizes nearest to the one asked for.
 */
export function findSocket(tables: TextFile, text: string): Socket {
  const rows = rowsOf(tables);
  const match = /^\s*(hex|square)\s+(\S.*?)\s*$/i.exec(text);
  if (match === null) {
    throw new SocketError(
      `"${text}" names no socket; write hex or square and a size, such as hex 5, hex 1/4 in`,
    );
  }
  const section = match[1]?.toLowerCase() as SocketSection;
  const written = match[2] ?? '';
  const sizes = rows.filter((row) => row.kind === 'socket' && row.section === section);
  const size = sizeOf(written);
  const found = sizes.find((row) => isSize(row, size));
  if (found !== undefined) return socketOf(rows, found);
  const near = sizes
    .toSorted((a, b) => Math.abs(a.nominal - size) - Math.abs(b.nominal - size))
    .map(({ name }) => name);
  const names = [...new Set(near)].slice(0, NEAR).join(', ');
  throw new SocketError(`no table has "${text}"; the nearest are ${names}. flatwright size --list shows all`);
}

function sizeOf(written: string): Mm {
  const bare = /^\d+\s*\/\s*\d+$/.test(written) ? 'inch' : 'mm';
  try {
    const unitless = /^[\d.]+$/.test(written) || bare === 'inch';
    return mm(readQuantity(unitless ? `(${written}) ${bare}` : written, 'length', 'mm'));
  } catch (error) {
    throw new SocketError(error instanceof Error ? error.message : String(error));
  }
}

/** Decimals a size is given to, in the units of its table. */
export const SIZE_DECIMALS: Record<LengthUnit, number> = { mm: 3, inch: 4 };

/** The size to grind a new punch to, rounded down to what a micrometer reads. */
export function sizeToGrind({ least, most, units }: Socket, share: number): Mm {
  const scale = 10 ** SIZE_DECIMALS[units];
  const size = fromMm(mm(least + share * (most - least)), units);
  return toMm(Math.floor(size * scale + SAME_SIZE) / scale, units);
}
