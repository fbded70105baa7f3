/** What a bundle changes of the core: shared by page, command and the bench that weighs it. */
import { readFile } from 'node:fs/promises';
import { dirname } from 'node:path';

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
 * What nothing here ever calls, though zod names it: a schema said as JSON. Of each file only the names of what it exports
 * stay.
 */
const UNUSED = /zod[\\/]v4[\\/]core[\\/](json-schema-processors|to-json-schema)\.js$/;

export const noUnused = {
  name: 'no unused',
  setup(bundle) {
    bundle.onLoad({ filter: UNUSED }, async ({ path }) => {
      const text = await readFile(path, 'utf8');
      const made = [...text.matchAll(/^export (?:var|const|function) (\w+)/gm)];
      return { contents: made.map(([, name]) => `export const ${name} = () => () => {};`).join('\n') };
    });
  },
};

/** mathjs' parser of plain numbers, and nothing else of it. */
export const PARSER = `import { create, parseDependencies } from 'mathjs/number';
const { parse } = create(parseDependencies);
export const parser = () => parse;`;

/** Nothing is ever typeset: tables of operators in another notation stay out of a parser. */
export const noTypesetting = {
  name: 'no typesetting',
  setup(bundle) {
    bundle.onLoad({ filter: /mathjs[\\/]lib[\\/]esm[\\/]utils[\\/]latex\.js$/ }, () => ({
      contents: `export const latexSymbols = {};
export const latexOperators = {};
export const latexFunctions = {};
export const defaultTemplate = '';
export const escapeLatex = String;
export const toSymbol = String;`,
    }));
  },
};

/** Puts something else in the place of quantity/mathjs, which loads all of it. */
export const parserBy = (contents) => ({
  name: 'parser',
  setup(bundle) {
    bundle.onLoad({ filter: /quantity[\\/]mathjs\.[jt]s$/ }, ({ path }) => ({
      resolveDir: dirname(path),
      contents,
    }));
  },
});

/** For a page, where there is nothing to load from later. */
export const parserInside = [noTypesetting, parserBy(PARSER)];
