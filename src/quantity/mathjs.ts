/**
 * mathjs, loaded when a text first asks for real arithmetic: most jobs hold plain numbers, and it is the slowest
 * thing to load here. Its bundled build loads in a tenth of the time of its module tree. In a page there is nothing to
 * load from: the page's build puts a static import in the place of this file.
 */
type MathJs = typeof import('mathjs');

const loaded = new Map<'mathjs', MathJs>();

/** @throws Error where neither Node nor the page's build supplies mathjs. */
export function mathjs(): MathJs {
  const known = loaded.get('mathjs');
  if (known !== undefined) return known;
  const module = globalThis.process?.getBuiltinModule?.('node:module');
  if (module === undefined) throw new Error('mathjs is not in this build');
  const engine = module.createRequire(import.meta.url)('mathjs/lib/browser/math.js') as MathJs;
  loaded.set('mathjs', engine);
  return engine;
}
