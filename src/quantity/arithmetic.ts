/**
 * Reads a quantity as a person writes it: `5.06 mm`, `1/4 in`, `2 deg 30 arcmin`, `0.2 in + 0.02 mm`. A plain number
 * or fraction with one unit is read directly; mathjs, slow to load, reads the rest and is the judge of it: only numbers, + - * /,
 * brackets and the units below may come out of it, so no name, function, assignment or matrix is ever evaluated. Neighbours such as `2 deg 30 arcmin` add up.
 * Refuses: any other text, a wrong dimension, NaN, infinity, and numbers outside the asked range.
 */
import type { ConstantNode, MathNode, OperatorNode, ParenthesisNode, SymbolNode, Unit } from 'mathjs';
import { DIMENSIONS, type Dimension, type Inside, MADE_OF, MARKS, UNITS } from './dimension.js';
import { mathjs } from './mathjs.js';

const OPERATORS = new Set(['+', '-', '*', '/']);

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
  // In the inside unit already: not sent through a conversion, which may cost its last bit.
  if (over === undefined && (dimension === 'plain' || DIMENSIONS[dimension].bare === bare)) return value;
  const [bareOver, bareUnder] = bare.split('/');
  const size =
    over === undefined ? sizeOf(dimension, bareOver ?? '', bareUnder) : sizeOf(dimension, over, under);
  return size === undefined ? undefined : value * size;
}

/** The size of a unit, or of one over another, in the inside unit of `dimension`; `undefined` if it is of another one. */
function sizeOf(dimension: Dimension, over: string, under: string | undefined): number | undefined {
  const made = MADE_OF[dimension];
  const [top, bottom] = [unitRow(over), under === undefined ? 'none' : unitRow(under)] as const;
  if (made === 'number' || top === undefined || bottom === undefined) return undefined;
  if (bottom === 'none') {
    if (dimension === 'rotation' && top.kind === 'rotation') return top.size;
    return made.per === 'none' && top.kind === made.of ? top.size * made.scale : undefined;
  }
  return top.kind === made.of && bottom.kind === made.per ? (top.size / bottom.size) * made.scale : undefined;
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

const unitRow = (name: string) => (Object.hasOwn(UNITS, name) ? UNITS[name] : undefined);

/** The same by mathjs, for every text. @throws QuantityError */
export function byArithmetic(text: string | number, dimension: Dimension, bare: string): number {
  const value = typeof text === 'number' ? text : evaluate(text, dimension);
  return typeof value === 'number' ? fromBare(value, dimension, bare) : fromUnit(value, text, dimension);
}

function evaluate(text: string, dimension: Dimension): number | Unit {
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
    tree = mathjs().parse(plain);
  } catch {
    const mixed = /^\s*(\d+)\s+(\d+\/\d+)/.exec(text);
    const hint = mixed ? `write (${mixed[1]} + ${mixed[2]}) and the unit` : example;
    throw new QuantityError(`"${text}" cannot be read as a quantity; ${hint}`);
  }
  if (tree.type === 'SymbolNode') throw new QuantityError(`"${text}" lacks a number; ${example}`);
  try {
    return allowed(tree, { text, dimension }).compile().evaluate() as number | Unit;
  } catch (error) {
    if (error instanceof QuantityError) throw error;
    throw new QuantityError(`"${text}" mixes units that do not go together; ${example}`);
  }
}

/** The text read, and what it is asked to be. */
interface Asked {
  readonly text: string;
  readonly dimension: Dimension;
}

/** The same tree if it holds nothing but arithmetic of quantities; neighbouring quantities become a sum. */
function allowed(node: MathNode, asked: Asked): MathNode {
  const { text } = asked;
  if (node.type === 'ConstantNode') {
    if (typeof (node as ConstantNode).value === 'number') return node;
  } else if (node.type === 'SymbolNode') {
    return unitNode((node as SymbolNode).name, asked);
  } else if (node.type === 'ParenthesisNode') {
    return new (mathjs().ParenthesisNode)(allowed((node as ParenthesisNode).content, asked));
  } else if (node.type === 'OperatorNode') {
    const { op, fn, args, implicit } = node as OperatorNode;
    if (implicit) return sumOfNeighbours(node, asked);
    if (OPERATORS.has(op)) {
      return new (mathjs().OperatorNode)(
        op,
        fn,
        args.map((arg) => allowed(arg, asked)) as MathNode[],
      ) as MathNode;
    }
  }
  throw new QuantityError(`"${text}" holds more than numbers, units and + - * /; write the value itself`);
}

function unitNode(name: string, { text, dimension }: Asked): MathNode {
  const known = unitRow(name);
  const ofTurns = known?.kind === 'turn' || known?.kind === 'rotation';
  if (known === undefined || (ofTurns && dimension !== 'rotation')) {
    throw new QuantityError(
      `"${name}" in "${text}" is no unit known here; write for example ${DIMENSIONS[dimension].example}`,
    );
  }
  // mathjs knows no revolution: it counts as one.
  if (known.kind === 'turn') return mathjs().parse('1');
  if (known.kind === 'rotation') return mathjs().parse('1/minute');
  return new (mathjs().SymbolNode)(known.mathjs);
}

/** `2 deg 30 arcmin` reaches us as ((2 deg) 30) arcmin: pair each number with its unit, and add the pairs. */
function sumOfNeighbours(node: MathNode, asked: Asked): MathNode {
  const { text } = asked;
  const factors: MathNode[] = [];
  const flatten = (part: MathNode): void => {
    if (part.type === 'OperatorNode' && (part as OperatorNode).implicit) {
      for (const arg of (part as OperatorNode).args) flatten(arg);
    } else factors.push(part);
  };
  flatten(node);
  const terms: MathNode[] = [];
  for (let i = 0; i < factors.length; i += 2) {
    const [number, unit] = [factors[i], factors[i + 1]];
    if (number === undefined || number.type === 'SymbolNode' || unit?.type !== 'SymbolNode') {
      throw new QuantityError(`"${text}" needs one unit after each number, as in 2 deg 30 arcmin`);
    }
    terms.push(
      new (mathjs().OperatorNode)('*', 'multiply', [
        allowed(number, asked),
        allowed(unit, asked),
      ]) as MathNode,
    );
  }
  // In -2 deg 30 arcmin the sign means both, to a person; to arithmetic only the first.
  if (terms.length > 1 && /^\s*[-+]/.test(text)) {
    throw new QuantityError(`"${text}" has a sign before a sum; write it as -(...) or with + and - between`);
  }
  return terms.reduce((sum, term) => new (mathjs().OperatorNode)('+', 'add', [sum, term]) as MathNode);
}

function fromBare(value: number, dimension: Dimension, bare: string): number {
  // A number in the inside unit already is not sent through a conversion, which may cost its last bit.
  if (DIMENSIONS[dimension].bare === bare || dimension === 'plain' || !Number.isFinite(value)) return value;
  return (evaluate(`(${value}) ${bare}`, dimension) as Unit).toNumber(DIMENSIONS[dimension].inside);
}

function fromUnit(value: Unit, text: string | number, dimension: Dimension): number {
  const { inside, example } = DIMENSIONS[dimension];
  const wanted = inside === '' ? undefined : mathjs().unit(1, inside);
  if (wanted === undefined || !value.equalBase(wanted)) {
    const what =
      dimension === 'plain' ? 'a plain number' : `${/^[aeiou]/.test(dimension) ? 'an' : 'a'} ${dimension}`;
    throw new QuantityError(`"${text}" is not ${what}; write for example ${example}`);
  }
  return value.toNumber(inside);
}
