/**
 * Sockets by name: `hex 5`, `hex 1/4 in`, `square 3/8 in`. From shared/sockets.yaml, which names the source of
 * each table. Where several tables know a size the first is used and the others are kept beside it.
 */
import * as z from 'zod';
import { SECTION_SIDES, type SizeLimits, type Socket, type SocketSection } from '../job/socket.js';
import { QuantityError, readQuantity } from '../quantity/arithmetic.js';
import { toMm } from '../quantity/length.js';
import type { LengthUnit, Mm } from '../quantity/unit.js';
import { parsedOnce, type TextFile } from './text-file.js';
import { validate } from './validate.js';
import { readYaml } from './yaml-source.js';

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

interface Row extends SizeLimits {
  readonly name: string;
  readonly kind: 'socket' | 'key';
  readonly section: SocketSection;
  readonly nominal: Mm;
  readonly units: LengthUnit;
  /** Other ways to write the size: a metric square's name in inches. */
  readonly alias: Mm | 'none';
}

const rowsOf = parsedOnce(({ file, text }: TextFile): readonly Row[] => {
  const { tables } = validate(readYaml(text, file), tablesSchema);
  return tables.flatMap(({ title, kind, section, units, source, inchNames, rows: written }) =>
    written.map(([nominal, least, most], i): Row => {
      const inchName = inchNames?.[i];
      return {
        name: `${section} ${nominal}${units === 'inch' ? ' in' : ''}`,
        kind,
        section,
        units,
        nominal: readQuantity(nominal, 'length', units),
        alias: inchName === undefined ? 'none' : readQuantity(inchName, 'length', 'inch'),
        least: toMm(least, units),
        most: toMm(most, units),
        table: title,
        source,
      };
    }),
  );
});

/** Two sizes written this close are one size. */
const SAME_SIZE = 1e-6;

const isSize = (row: Row, size: Mm): boolean =>
  Math.abs(row.nominal - size) < SAME_SIZE ||
  (row.alias !== 'none' && Math.abs(row.alias - size) < SAME_SIZE);

const limitsOf = ({ least, most, table, source }: Row): SizeLimits => ({ least, most, table, source });

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
    return readQuantity(written, 'length', bare);
  } catch (error) {
    if (error instanceof QuantityError) throw new SocketError(error.message);
    throw error;
  }
}
