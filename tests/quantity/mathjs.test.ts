/**
 * Arithmetic of units held against mathjs, which knows units by itself (the whole library, its own tables of them), and the
 * parser that is in the bundles against the whole library's.
 */
import { createRequire } from 'node:module';
import fc from 'fast-check';
import * as math from 'mathjs';
import { describe, expect, test } from 'vitest';
import { QuantityError, readQuantity } from '../../src/quantity/arithmetic.js';
import { type Dimension, UNITS } from '../../src/quantity/dimension.js';

/** How mathjs names what it names otherwise; it knows no revolution, which counts as one. */
const NAMES: Readonly<Record<string, string>> = {
  in: 'inch',
  thou: 'mil',
  min: 'minute',
  sec: 's',
  in2: 'sqin',
  in3: 'cuin',
};
const INSIDE: Readonly<Partial<Record<Dimension, string>>> = {
  length: 'mm',
  angle: 'rad',
  speed: 'mm/minute',
  surface: 'm/s',
  time: 's',
  volume: 'mm3',
  'removal rate': 'mm3/s',
  'specific removal rate': 'mm2/s',
  power: 'W',
};
/** mathjs has its horsepower to ten digits. */
const WITHIN = 1e-8;
const LENGTHS = ['mm', 'um', 'cm', 'm', 'in', 'inch', 'inches', 'thou'];
const TIMES = ['s', 'sec', 'ms', 'min'];
const ANGLES = ['deg', 'degree', 'degrees', 'arcmin', 'arcsec', 'rad'];

const number = fc.integer({ min: 1, max: 9999 }).map((n) => `${n / 100}`);
const measured = (units: readonly string[]): fc.Arbitrary<string> =>
  fc.tuple(number, fc.constantFrom(...units)).map(([n, unit]) => `${n} ${unit}`);

/** Sums, shares and multiples of quantities that go together. */
const sumOf = (one: fc.Arbitrary<string>): fc.Arbitrary<string> =>
  fc
    .tuple(one, fc.constantFrom(' + ', ' - '), one, fc.constantFrom('*', '/'), number)
    .map(([a, sign, b, by, n]) => `(${a}${sign}${b}) ${by} ${n}`);

const length = sumOf(measured(LENGTHS));
const time = measured(TIMES);
const CASES: readonly (readonly [Dimension, fc.Arbitrary<string>])[] = [
  ['length', length],
  [
    'length',
    fc
      .tuple(measured(LENGTHS), measured(LENGTHS), measured(LENGTHS))
      .map(([a, b, c]) => `(${a}) * (${b}) / (${c})`),
  ],
  ['angle', sumOf(measured(ANGLES))],
  ['time', sumOf(time)],
  ['speed', fc.tuple(length, time).map(([a, t]) => `(${a}) / (${t})`)],
  ['surface', fc.tuple(length, time).map(([a, t]) => `(${a}) / (${t})`)],
  ['volume', sumOf(measured(['mm3', 'in3']))],
  ['removal rate', fc.tuple(sumOf(measured(['mm3', 'in3'])), time).map(([a, t]) => `(${a}) / (${t})`)],
  [
    'specific removal rate',
    fc.tuple(sumOf(measured(['mm2', 'in2'])), time).map(([a, t]) => `(${a}) / (${t})`),
  ],
  ['power', sumOf(measured(['W', 'kW', 'hp']))],
];

const forMathjs = (text: string): string =>
  text.replace(/[a-z]+[23]?/gi, (name) => NAMES[name] ?? name).replaceAll('inches', 'inch');

describe('held against mathjs', () => {
  test.each(CASES)('a %s by arithmetic is what mathjs says', (dimension, texts) => {
    fc.assert(
      fc.property(texts, (text) => {
        const theirs = (math.evaluate(forMathjs(text)) as math.Unit).toNumber(INSIDE[dimension] ?? '');
        const ours = readQuantity(text, dimension, 'mm');
        expect(Math.abs(ours - theirs), text).toBeLessThanOrEqual(WITHIN * Math.max(1, Math.abs(theirs)));
      }),
      { seed: 4, numRuns: 200 },
    );
  });

  test('every unit but turns is as large as mathjs has it', () => {
    for (const [name, { size, powers, turns }] of Object.entries(UNITS)) {
      if (turns) continue;
      const [l, a, t, p] = powers;
      const base = [`mm^${l}`, `rad^${a}`, `s^${t}`, `W^${p}`]
        .filter((each) => !each.endsWith('^0'))
        .join(' * ');
      expect(math.unit(1, forMathjs(name)).toNumber(base), name).toBeCloseTo(size, 6);
    }
  });

  test('what mathjs will not add, or calls another unit, is refused', () => {
    fc.assert(
      fc.property(measured(LENGTHS), measured([...TIMES, ...ANGLES]), (a, b) => {
        const text = `${a} + ${b}`;
        expect(() => math.evaluate(forMathjs(text))).toThrow();
        expect(() => readQuantity(text, 'length', 'mm')).toThrow(QuantityError);
        expect(() => readQuantity(`${a} * ${b}`, 'length', 'mm')).toThrow(/is not a length/);
      }),
      { seed: 5, numRuns: 200 },
    );
  });
});

test('the parser in the bundles makes the tree the whole library makes, or refuses the same text', () => {
  const { parser } = createRequire(import.meta.url)('../../dist/bin/parser.cjs') as {
    parser: () => (text: string) => { toString: () => string; type: string };
  };
  const tree = (parse: (text: string) => { toString: () => string; type: string }, text: string): string => {
    try {
      const node = parse(text);
      return `${node.type} ${node.toString()}`;
    } catch {
      return 'refused';
    }
  };
  const pieces = fc.constantFrom(
    ...'1 .5 2e3 3/4 ( ) + - * / ^ mm inch deg arcmin x sqrt , [ ] = ; : true % !'.split(' '),
    ' ',
    ' ',
  );
  fc.assert(
    fc.property(
      fc.array(pieces, { maxLength: 14 }).map((list) => list.join('')),
      (text) => {
        expect(tree(parser(), text), text).toBe(tree((each) => math.parse(each), text));
      },
    ),
    { seed: 6, numRuns: 3000 },
  );
});
