/** What a page's build changes of the core: shared by the page and by the bench that weighs it. */
import { readFile } from 'node:fs/promises';

/** gcode-parser reads files by streams too, which a page has none of. */
export const noNode = {
  name: 'no node',
  setup(bundle) {
    bundle.onResolve({ filter: /^(node:.*|events|fs|path|stream|timers|util)$/ }, ({ path }) => ({
      path,
      namespace: 'none',
    }));
    bundle.onLoad({ filter: /.*/, namespace: 'none' }, () => ({
      contents:
        'export default {}; export class Transform {} export class EventEmitter {} export const createReadStream = () => {};',
    }));
  },
};

/**
 * What nothing here ever calls, though libraries name it: matrices that are mostly empty, a schema said as JSON. Of each
 * file only the names of what it exports stay.
 * (csIpvec, of the same folder, is called by lusolve of full matrices.)
 */
const UNUSED =
  /mathjs[\\/]lib[\\/]esm[\\/](function[\\/]algebra[\\/]sparse[\\/]cs[A-HJ-Z]\w+|type[\\/]matrix[\\/](SparseMatrix|Spa|FibonacciHeap))\.js$|zod[\\/]v4[\\/]core[\\/](json-schema-processors|to-json-schema)\.js$/;

export const noUnused = {
  name: 'no unused',
  setup(bundle) {
    bundle.onLoad({ filter: UNUSED }, async ({ path }) => {
      const text = await readFile(path, 'utf8');
      const called = /^var name = '(\w+)'/m.exec(text)?.[1];
      const made = [...text.matchAll(/^export (?:var|const|function) (\w+)(.*)$/gm)].map(([, name, rest]) => {
        // mathjs makes each of its parts by a factory, and asks what it depends on.
        const factory = /factory\(name/.test(rest);
        return factory
          ? `export const ${name} = Object.assign(() => function none() {}, { isFactory: true, fn: '${called}', dependencies: [] });`
          : `export const ${name} = () => () => {};`;
      });
      return { contents: made.join('\n') };
    });
  },
};

/** What quantity/ and measure/ ask of mathjs. */
const NEEDED = [
  'add',
  'subtract',
  'multiply',
  'divide',
  'unaryMinus',
  'unaryPlus',
  'parse',
  'unit',
  'lusolve',
  'ConstantNode',
  'OperatorNode',
  'ParenthesisNode',
  'SymbolNode',
];

/** In a page there is nothing to load mathjs from later: it is there from the start, as small as it goes. */
export const smallMathjs = {
  name: 'small mathjs',
  setup(bundle) {
    // Nothing is ever typeset: its tables of operators in another notation stay out.
    bundle.onLoad({ filter: /mathjs[\\/]lib[\\/]esm[\\/]utils[\\/]latex\.js$/ }, () => ({
      contents: `export const latexSymbols = {};
export const latexOperators = {};
export const latexFunctions = {};
export const defaultTemplate = '';
export const escapeLatex = String;
export const toSymbol = String;`,
    }));
    // Quantities are plain numbers: of arithmetic of any precision, and of fractions, only the name stays.
    bundle.onLoad({ filter: /decimal\.js[\\/]decimal\.mjs$/ }, () => ({
      contents: `const made = () => {
  function Decimal() {}
  return Object.assign(Decimal, { clone: made, config: () => Decimal, EUCLID: 9 });
};
export const Decimal = made();
export default Decimal;`,
    }));
    bundle.onLoad({ filter: /fraction\.js[\\/]dist[\\/]fraction\.mjs$/ }, () => ({
      contents: 'export function Fraction() {} export default Fraction;',
    }));
    bundle.onLoad({ filter: /quantity[\\/]mathjs\.ts$/ }, ({ path }) => {
      const parts = NEEDED.map((name) => `${name}Dependencies`).join(', ');
      return {
        resolveDir: path.slice(0, -'mathjs.ts'.length),
        contents: `import { create, ${parts} } from 'mathjs';
const engine = create({ ${parts} });
export const mathjs = () => engine;`,
      };
    });
  },
};
