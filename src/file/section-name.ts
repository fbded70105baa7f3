/**
 * A section of one's own by its everyday name and size: `triangle 6`, `plain square 10`, `7 sides 8`, `D 6 x 4.5`. A size
 * is across flats of an even number of them and the circle within of an odd one; of a D first its round, then what is
 * left across the flat. `hex` and `square` alone are sockets of the tables.
 */
import type { SizedSection } from '../job/sized-section.js';
import { QuantityError, readQuantity } from '../quantity/arithmetic.js';
import { type LengthUnit, type Mm, mm } from '../quantity/unit.js';

/** Sections a job may name, by their sides. */
export const NAMED_SECTIONS = { triangle: 3, square: 4, hex: 6, octagon: 8 } as const;

/** Sections that keep some of the round, by how many flats they have. */
export const ROUNDED_SECTIONS = { D: 1, 'double-D': 2 } as const;

const SIDES: Readonly<Record<string, number>> = {
  triangle: 3,
  'plain square': 4,
  pentagon: 5,
  'plain hex': 6,
  heptagon: 7,
  octagon: 8,
};

/** Names that help a person who asks for something else. */
export const OWN_SECTIONS = 'triangle 6, plain square 10, 7 sides 8, D 6 x 4.5, double-D 8 x 6';

/** Most flats a section may have, as in a job. */
const MOST_SIDES = 12;

export interface OwnSection {
  readonly section: Exclude<SizedSection, { readonly kind: 'socket' }>;
  readonly name: string;
  readonly units: LengthUnit;
}

/** A size in inches: a mark, a word, or a fraction alone. */
const inInches = (text: string): boolean =>
  /in\b|inch|["”]/.test(text) || /^\s*\d+\s*\/\s*\d+\s*$/.test(text);

/** A unit behind one size goes for all. */
const unitsOf = (...texts: readonly string[]): LengthUnit => (texts.some(inInches) ? 'inch' : 'mm');

/** A name of the list, or a number of sides; then the size. */
const NAMED = new RegExp(`^(${Object.keys(SIDES).join('|')}|(\\d+)[ -]?(?:sides|sided|flats)) (\\S.*)$`);

/**
 * @returns `none` for a text that names no section of one's own.
 * @throws QuantityError for a size that is none, or not more than 0.
 */
export function ownSection(text: string): OwnSection | 'none' {
  const said = text.trim().toLowerCase().replace(/\s+/g, ' ').replace('hexagon', 'hex');
  const round = /^(double[- ]?d|d) (\S.*?)(?: ?x ?| )(\S+(?: in)?)$/.exec(said);
  if (round !== null) {
    const [, kind = '', first = '', second = ''] = round;
    const called = kind === 'd' ? 'D' : 'double-D';
    const units = unitsOf(first, second);
    const [over, across] = [first, second].map((each) => positive(each, readQuantity(each, 'length', units)));
    return {
      section: {
        kind: 'rounded',
        flats: ROUNDED_SECTIONS[called],
        round: over ?? mm(0),
        across: across ?? mm(0),
      },
      name: `${called} ${first} x ${second}`,
      units,
    };
  }
  const named = NAMED.exec(said);
  if (named === null) return 'none';
  const [, name = '', count, size = ''] = named;
  const sides = SIDES[name] ?? Number(count);
  if (!(sides >= 3 && sides <= MOST_SIDES))
    throw new QuantityError(`a section has from 3 to ${MOST_SIDES} flats, not ${sides}`);
  const units = unitsOf(size);
  return {
    section: { kind: 'regular', sides, size: positive(size, readQuantity(size, 'length', units)) },
    name: `${name} ${size}`,
    units,
  };
}

function positive(text: string, size: Mm): Mm {
  if (size > 0) return size;
  throw new QuantityError(`a size of ${text} is none; more than 0, such as 6 mm`);
}
