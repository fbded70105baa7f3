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
  readonly inchName: string | 'none';
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
        inchName: inchName === undefined ? 'none' : `${inchName} in`,
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
    drive: row.inchName,
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

/** The hex of a cap screw by its thread. Source: ISO 4762:2004, table 1 (from memory). */
const CAP_SCREWS: Readonly<Record<string, string>> = {
  'M1.6': '1.5',
  M2: '1.5',
  'M2.5': '2',
  M3: '2.5',
  M4: '3',
  M5: '4',
  M6: '5',
  M8: '6',
  M10: '8',
  M12: '10',
  M14: '12',
  M16: '14',
  M20: '17',
  M24: '19',
  M30: '22',
  M36: '27',
};

/** As people say it: `hex6`, `5mm hex`, `M6`, `3/8"`; a size alone is the hex of it, where no square is called so. */
function spelledOut(rows: readonly Row[], text: string): string {
  const said = text
    .trim()
    .replace(/["”]|\binch(es)?\b/gi, ' in')
    .replace(/\bhexagon\b/gi, 'hex');
  const screw = CAP_SCREWS[said.toUpperCase()];
  if (screw !== undefined) return `hex ${screw}`;
  const before = /^(hex|square)\s*([\d.].*)$/i.exec(said);
  if (before !== null) return `${before[1]} ${before[2]}`;
  const after = /^([\d.].*?)\s*(hex|square)(?:\s+socket)?$/i.exec(said);
  if (after !== null) return `${after[2]} ${after[1]}`;
  if (!/^[\d.]/.test(said)) return text;
  const size = sizeOf(said.trim());
  const [hex, square] = (['hex', 'square'] as const).map((section) =>
    rows.some((row) => row.kind === 'socket' && row.section === section && isSize(row, size)),
  );
  if (hex === true && square === true)
    throw new SocketError(
      `"${text}" is a hex and a square; write hex ${said.trim()} or square ${said.trim()}`,
    );
  return `${square === true ? 'square' : 'hex'} ${said.trim()}`;
}

/**
 * The socket of that name, as written or as people say it. A bare number is millimetres; inches carry `in`, or are a fraction.
 * @throws SocketError naming the sizes nearest to the one asked for.
 */
export function findSocket(tables: TextFile, text: string): Socket {
  const rows = rowsOf(tables);
  const match = /^\s*(hex|square)\s+(\S.*?)\s*$/i.exec(spelledOut(rows, text));
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
