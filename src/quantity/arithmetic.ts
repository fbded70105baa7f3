/**
 * Reads a quantity as a person writes it: `5.06 mm`, `1/4 in`, `2 deg 30 arcmin`, `0.2 in + 0.02 mm`.
 * mathjs reads the text; only numbers, + - * /, brackets and the units below may come out of it, so no
 * name, function, assignment or matrix is ever evaluated. Neighbours such as `2 deg 30 arcmin` add up.
 * Refuses: any other text, a wrong dimension, NaN, infinity, and numbers outside the asked range.
 */
import { createRequire } from 'node:module';
import type { ConstantNode, MathNode, OperatorNode, ParenthesisNode, SymbolNode, Unit } from 'mathjs';

// The bundled build loads in a tenth of the time of the module tree.
const mathjs = createRequire(import.meta.url)('mathjs/lib/browser/math.js') as typeof import('mathjs');

export type Dimension =
  | 'length'
  | 'angle'
  | 'speed'
  | 'surface'
  | 'rotation'
  | 'time'
  | 'removal rate'
  | 'specific removal rate'
  | 'power'
  | 'plain';

/** What a dimension is measured in here, for mathjs, as written bare, and for the person who reads an error. */
const dimensions: Record<
  Dimension,
  { readonly inside: string; readonly bare: string; readonly example: string }
> = {
  length: { inside: 'mm', bare: 'mm', example: '5.06 mm, 1/4 in' },
  angle: { inside: 'rad', bare: 'rad', example: '2.5 deg, 2 deg 30 arcmin' },
  speed: { inside: 'mm/minute', bare: 'mm/min', example: '600 mm/min, 24 in/min' },
  surface: { inside: 'm/s', bare: 'm/s', example: '30 m/s' },
  rotation: { inside: 'minute^-1', bare: 'rpm', example: '4200 rev/min' },
  time: { inside: 's', bare: 's', example: '5 s' },
  'removal rate': { inside: 'mm3/s', bare: 'mm3/s', example: '2 mm3/s, 0.008 in3/min' },
  'specific removal rate': { inside: 'mm2/s', bare: 'mm2/s', example: '0.5 mm2/s' },
  power: { inside: 'W', bare: 'W', example: '750 W, 1.5 kW, 2 hp' },
  plain: { inside: '', bare: '', example: '40' },
};

/** The unit names a person may write, each as mathjs knows it. */
const unitNames: Readonly<Record<string, string>> = {
  mm: 'mm',
  um: 'um',
  cm: 'cm',
  m: 'm',
  in: 'inch',
  inch: 'inch',
  inches: 'inch',
  thou: 'mil',
  deg: 'deg',
  arcmin: 'arcmin',
  arcsec: 'arcsec',
  rad: 'rad',
  s: 's',
  sec: 's',
  ms: 'ms',
  min: 'minute',
  rev: 'rev',
  rpm: 'rpm',
  mm2: 'mm2',
  mm3: 'mm3',
  in2: 'sqin',
  in3: 'cuin',
  W: 'W',
  kW: 'kW',
  hp: 'hp',
};

/** Names known here that mathjs has not: a revolution counts as one. */
const ownUnits: Readonly<Record<string, MathNode>> = {
  rev: mathjs.parse('1'),
  rpm: mathjs.parse('1/minute'),
};

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
export function readQuantity(text: string | number, dimension: Dimension, bare: string): number {
  const value = typeof text === 'number' ? text : evaluate(text, dimension);
  const inside =
    typeof value === 'number' ? fromBare(value, dimension, bare) : fromUnit(value, text, dimension);
  if (!Number.isFinite(inside)) {
    throw new QuantityError(
      `"${text}" is not a finite number; write for example ${dimensions[dimension].example}`,
    );
  }
  return inside;
}

function evaluate(text: string, dimension: Dimension): number | Unit {
  const example = `write for example ${dimensions[dimension].example}`;
  if (text.length > LONGEST) throw new QuantityError(`longer than ${LONGEST} characters; ${example}`);
  // A comma is a separator to mathjs, and quotes are strings: name them before it gets confused.
  if (/\d,\d/.test(text)) throw new QuantityError(`"${text}" has a decimal comma; write a decimal point`);
  const plain = text
    .replaceAll('°', ' deg ')
    .replace(/[µμ]m\b/g, 'um')
    .replace(/\bin\b/g, 'inch');
  if (/\b0[xob]/i.test(text)) throw new QuantityError(`"${text}" is not decimal; ${example}`);
  let tree: MathNode;
  try {
    tree = mathjs.parse(plain);
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
    return new mathjs.ParenthesisNode(allowed((node as ParenthesisNode).content, asked));
  } else if (node.type === 'OperatorNode') {
    const { op, fn, args, implicit } = node as OperatorNode;
    if (implicit) return sumOfNeighbours(node, asked);
    if (OPERATORS.has(op)) {
      return new mathjs.OperatorNode(
        op,
        fn,
        args.map((arg) => allowed(arg, asked)) as MathNode[],
      ) as MathNode;
    }
  }
  throw new QuantityError(`"${text}" holds more than numbers, units and + - * /; write the value itself`);
}

function unitNode(name: string, { text, dimension }: Asked): MathNode {
  const known = Object.hasOwn(unitNames, name) ? unitNames[name] : undefined;
  if (known === undefined || (known in ownUnits && dimension !== 'rotation')) {
    throw new QuantityError(
      `"${name}" in "${text}" is no unit known here; write for example ${dimensions[dimension].example}`,
    );
  }
  return ownUnits[known] ?? new mathjs.SymbolNode(known);
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
      new mathjs.OperatorNode('*', 'multiply', [allowed(number, asked), allowed(unit, asked)]) as MathNode,
    );
  }
  // In -2 deg 30 arcmin the sign means both, to a person; to arithmetic only the first.
  if (terms.length > 1 && /^\s*[-+]/.test(text)) {
    throw new QuantityError(`"${text}" has a sign before a sum; write it as -(...) or with + and - between`);
  }
  return terms.reduce((sum, term) => new mathjs.OperatorNode('+', 'add', [sum, term]) as MathNode);
}

function fromBare(value: number, dimension: Dimension, bare: string): number {
  // A number in the inside unit already is not sent through a conversion, which may cost its last bit.
  if (dimensions[dimension].bare === bare || dimension === 'plain' || !Number.isFinite(value)) return value;
  return (evaluate(`(${value}) ${bare}`, dimension) as Unit).toNumber(dimensions[dimension].inside);
}

function fromUnit(value: Unit, text: string | number, dimension: Dimension): number {
  const { inside, example } = dimensions[dimension];
  const wanted = inside === '' ? undefined : mathjs.unit(1, inside);
  if (wanted === undefined || !value.equalBase(wanted)) {
    const what =
      dimension === 'plain' ? 'a plain number' : `${/^[aeiou]/.test(dimension) ? 'an' : 'a'} ${dimension}`;
    throw new QuantityError(`"${text}" is not ${what}; write for example ${example}`);
  }
  return value.toNumber(inside);
}
