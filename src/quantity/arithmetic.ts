/**
 * Reads a quantity as a person writes it: `5.06 mm`, `1/4 in`, `2 deg 30 arcmin`, `0.2 in + 0.02 mm`. A plain number
 * or fraction with one unit is read directly; of the rest mathjs, slow to load, makes the tree, and what it comes to is worked out
 * here: numbers, + - * /, brackets and the units of quantity/dimension, so no name, function, assignment or matrix is ever
 * evaluated. Sums want like powers, products add them. Neighbours such as `2 deg 30 arcmin` add up.
 * Refuses: any other text, a wrong dimension, NaN, infinity, and numbers outside the asked range.
 */
import type { ConstantNode, MathNode, OperatorNode, ParenthesisNode, SymbolNode } from 'mathjs';
import {
  DIMENSIONS,
  type Dimension,
  type Inside,
  MADE_OF,
  MARKS,
  type Measure,
  type Powers,
  UNITS,
  type UnitRow,
} from './dimension.js';
import { parser } from './mathjs.js';

/** Longest text read: no hand-written quantity is longer. */
const LONGEST = 80;

/** Text that is no quantity; `message` says what is wrong and what would do. */
export class QuantityError extends Error {
  override readonly name = 'QuantityError';
}

/**
 * Reads `text` as a quantity of `dimension`.
 * @param bare the unit of a number written without one, as the person would write it (`mm`, `inch`, `deg`).
 * @returns the value in mm, rad, mm/min, rev/min, s, or the number itself.
 * @throws QuantityError with a sentence for the person at the machine.
 */
export function readQuantity<D extends Dimension>(
  text: string | number,
  dimension: D,
  bare: string,
): Inside[D] {
  const inside = directly(text, dimension, bare) ?? byArithmetic(text, dimension, bare);
  if (!Number.isFinite(inside)) {
    throw new QuantityError(
      `"${text}" is not a finite number; write for example ${DIMENSIONS[dimension].example}`,
    );
  }
  return inside as Inside[D];
}

/** A number or a fraction of whole numbers, and perhaps one unit or one unit over another. */
const PLAIN =
  /^\s*([-+]?(?:\d+\.?\d*|\.\d+)(?:e[-+]?\d+)?)(?:\s*\/\s*(\d+))?\s*([A-Za-z]+[23]?)?(?:\s*\/\s*([A-Za-z]+))?\s*$/;

/** The value of a plain number with its unit, in the inside unit; `undefined` if arithmetic must judge the text. */
function directly(text: string | number, dimension: Dimension, bare: string): number | undefined {
  if (typeof text === 'string' && text.length > LONGEST) return undefined;
  const [, number, parts = '1', over, under] =
    typeof text === 'number' ? ['', `${text}`] : (PLAIN.exec(spelled(text, dimension)) ?? []);
  if (number === undefined || (over === undefined && under !== undefined)) return undefined;
  const value = Number(number) / Number(parts);
  if (over === undefined) return fromBare(value, dimension, bare);
  const size = sizeOf(dimension, over, under);
  return size === undefined ? undefined : value * size;
}

/** The size of a unit, or of one over another, in the inside unit of `dimension`; `undefined` if it is of another one. */
function sizeOf(dimension: Dimension, over: string, under: string | undefined): number | undefined {
  const top = unitOf(over, dimension);
  const bottom = under === undefined ? ONE : unitOf(under, dimension);
  if (dimension === 'plain' || top === undefined || bottom === undefined) return undefined;
  return insideOf(divided(top, bottom), dimension);
}

/** The text with its marks and typeset signs as plain letters: `1/4"` is 1/4 in, `2° 30'` is 2 deg 30 arcmin. */
function spelled(text: string, dimension: Dimension): string {
  const marks: Readonly<Record<string, string>> = dimension === 'angle' ? MARKS.angle : MARKS.other;
  return text
    .replace(/(?<=\d\s*)(?:["”]|'')/g, '″')
    .replace(/(?<=\d\s*)['’]/g, '′')
    .replace(/[°′″]/g, (mark) => (marks[mark] === undefined ? mark : ` ${marks[mark]} `))
    .replace(/[µμ]m\b/g, 'um')
    .replaceAll('−', '-');
}

/** A unit by its name; turns are spoken of only where something rotates. */
function unitOf(name: string, dimension: Dimension): UnitRow | undefined {
  const row = Object.hasOwn(UNITS, name) ? UNITS[name] : undefined;
  return row?.turns === true && dimension !== 'rotation' ? undefined : row;
}

const number = (size: number): Measure => ({ size, powers: MADE_OF.plain.powers });
const ONE = number(1);

const like = (a: Powers, b: Powers): boolean => a.every((power, i) => power === b[i]);
const isNumber = ({ powers }: Measure): boolean => like(powers, ONE.powers);

/** The value in the inside unit of `dimension`; `undefined` if it is of another one. */
function insideOf({ size, powers }: Measure, dimension: Dimension): number | undefined {
  const made = MADE_OF[dimension];
  return like(powers, made.powers) ? size * made.size : undefined;
}

const together = (a: Powers, b: Powers, times: 1 | -1): Powers => [
  a[0] + times * b[0],
  a[1] + times * b[1],
  a[2] + times * b[2],
  a[3] + times * b[3],
];
const multiplied = (a: Measure, b: Measure): Measure => ({
  size: a.size * b.size,
  powers: together(a.powers, b.powers, 1),
});
const divided = (a: Measure, b: Measure): Measure => ({
  size: a.size / b.size,
  powers: together(a.powers, b.powers, -1),
});

/** What the text comes to by arithmetic, for every text. @throws QuantityError */
export function byArithmetic(text: string | number, dimension: Dimension, bare: string): number {
  const value = typeof text === 'number' ? number(text) : evaluate(text, dimension);
  if (isNumber(value)) return fromBare(value.size, dimension, bare);
  const inside = dimension === 'plain' ? undefined : insideOf(value, dimension);
  if (inside !== undefined) return inside;
  const what =
    dimension === 'plain' ? 'a plain number' : `${/^[aeiou]/.test(dimension) ? 'an' : 'a'} ${dimension}`;
  throw new QuantityError(`"${text}" is not ${what}; write for example ${DIMENSIONS[dimension].example}`);
}

/** A number without a unit, which is in the one that goes without saying. */
function fromBare(value: number, dimension: Dimension, bare: string): number {
  // A number in the inside unit already is not sent through a conversion, which may cost its last bit.
  if (DIMENSIONS[dimension].bare === bare || dimension === 'plain') return value;
  const [over = '', under] = bare.split('/');
  return value * (sizeOf(dimension, over, under) ?? Number.NaN);
}

function evaluate(text: string, dimension: Dimension): Measure {
  const example = `write for example ${DIMENSIONS[dimension].example}`;
  if (text.length > LONGEST) throw new QuantityError(`longer than ${LONGEST} characters; ${example}`);
  // A comma is a separator to mathjs, and quotes are strings: name them before it gets confused.
  if (/\d,\d/.test(text)) throw new QuantityError(`"${text}" has a decimal comma; write a decimal point`);
  if (/^\s*\d{4}-\d\d?-\d\d?\b/.test(text)) throw new QuantityError(`"${text}" is a date; ${example}`);
  if (text.includes('%')) throw new QuantityError(`"${text}" has a per cent sign; ${example}`);
  // `in` is a word of mathjs.
  const plain = spelled(text, dimension).replace(/(?<![A-Za-z])in\b/g, 'inch');
  if (/\b0[xob]/i.test(text)) throw new QuantityError(`"${text}" is not decimal; ${example}`);
  let tree: MathNode;
  try {
    tree = parser()(plain);
  } catch {
    const mixed = /^\s*(\d+)\s+(\d+\/\d+)/.exec(text);
    const hint = mixed ? `write (${mixed[1]} + ${mixed[2]}) and the unit` : example;
    throw new QuantityError(`"${text}" cannot be read as a quantity; ${hint}`);
  }
  if (tree.type === 'SymbolNode') throw new QuantityError(`"${text}" lacks a number; ${example}`);
  return measured(tree, { text, dimension });
}

/** The text read, and what it is asked to be. */
interface Asked {
  readonly text: string;
  readonly dimension: Dimension;
}

/** What a tree comes to, if it holds nothing but arithmetic of quantities; neighbouring quantities are a sum. */
function measured(node: MathNode, asked: Asked): Measure {
  if (node.type === 'ConstantNode') {
    const { value } = node as ConstantNode;
    if (typeof value === 'number') return number(value);
  } else if (node.type === 'SymbolNode') {
    return namedUnit((node as SymbolNode).name, asked);
  } else if (node.type === 'ParenthesisNode') {
    return measured((node as ParenthesisNode).content, asked);
  } else if (node.type === 'OperatorNode') {
    const { op, args, implicit } = node as OperatorNode;
    if (implicit) return sumOfNeighbours(node, asked);
    if (Object.hasOwn(OPERATORS, op)) {
      const [first, second] = args.map((arg) => measured(arg, asked));
      // A sign is a sum with nothing before it.
      if (first !== undefined)
        return second === undefined
          ? operate(op, { size: 0, powers: first.powers }, first, asked)
          : operate(op, first, second, asked);
    }
  }
  throw new QuantityError(
    `"${asked.text}" holds more than numbers, units and + - * /; write the value itself`,
  );
}

type Operate = (a: Measure, b: Measure) => Measure | 'unlike';

const sum =
  (times: 1 | -1): Operate =>
  (a, b) =>
    like(a.powers, b.powers) ? { size: a.size + times * b.size, powers: a.powers } : 'unlike';

const OPERATORS: Readonly<Record<string, Operate>> = {
  '+': sum(1),
  '-': sum(-1),
  '*': multiplied,
  '/': divided,
};

function operate(op: string, a: Measure, b: Measure, { text, dimension }: Asked): Measure {
  const found = OPERATORS[op]?.(a, b) ?? 'unlike';
  if (found !== 'unlike') return found;
  throw new QuantityError(
    `"${text}" mixes units that do not go together; write for example ${DIMENSIONS[dimension].example}`,
  );
}

function namedUnit(name: string, { text, dimension }: Asked): Measure {
  const known = unitOf(name, dimension);
  if (known !== undefined) return known;
  throw new QuantityError(
    `"${name}" in "${text}" is no unit known here; write for example ${DIMENSIONS[dimension].example}`,
  );
}

/** `2 deg 30 arcmin` reaches us as ((2 deg) 30) arcmin: pair each number with its unit, and add the pairs. */
function sumOfNeighbours(node: MathNode, asked: Asked): Measure {
  const { text } = asked;
  const factors: MathNode[] = [];
  const flatten = (part: MathNode): void => {
    if (part.type === 'OperatorNode' && (part as OperatorNode).implicit) {
      for (const arg of (part as OperatorNode).args) flatten(arg);
    } else factors.push(part);
  };
  flatten(node);
  const terms: Measure[] = [];
  for (let i = 0; i < factors.length; i += 2) {
    const [factor, unit] = [factors[i], factors[i + 1]];
    if (factor === undefined || factor.type === 'SymbolNode' || unit?.type !== 'SymbolNode') {
      throw new QuantityError(`"${text}" needs one unit after each number, as in 2 deg 30 arcmin`);
    }
    terms.push(multiplied(measured(factor, asked), measured(unit, asked)));
  }
  // In -2 deg 30 arcmin the sign means both, to a person; to arithmetic only the first.
  if (terms.length > 1 && /^\s*[-+]/.test(text)) {
    throw new QuantityError(`"${text}" has a sign before a sum; write it as -(...) or with + and - between`);
  }
  return terms.reduce((so, term) => operate('+', so, term, asked));
}
