/**
 * How mathjs parses arithmetic, loaded when a text first asks for it: most jobs hold plain numbers, and it is the slowest
 * thing to load here. Its bundled build loads in a tenth of the time of its module tree; the bundles of the command and of the
 * page put its parser alone in the place of this file.
 */
type Parse = typeof import('mathjs').parse;

const loaded = new Map<'parse', Parse>();

/** @throws Error where neither Node nor the build supplies mathjs. */
export function parser(): Parse {
  const known = loaded.get('parse');
  if (known !== undefined) return known;
  const module = globalThis.process?.getBuiltinModule?.('node:module');
  if (module === undefined) throw new Error('mathjs is not in this build');
  const { parse } = module.createRequire(import.meta.url)('mathjs/lib/browser/math.js') as { parse: Parse };
  loaded.set('parse', parse);
  return parse;
}
