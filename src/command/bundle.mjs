/**
 * Makes dist/bin: the command with its libraries in one file, and beside it what V8 compiles of it in the runs below. A
 * process that loads hundreds of modules spends most of its time with that, and one that lives a quarter of a second a
 * good part of the rest on compiling. mathjs stays apart, loaded when it is needed.
 *   node src/command/bundle.mjs
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { CACHE, compiled, exportsOf, FILE, kept } from '../../bin/load.js';
import { notices } from '../page/notices.mjs';

const here = (path) => fileURLToPath(new URL(path, import.meta.url));

const { metafile, outputFiles } = await build({
  entryPoints: { flatwright: here('whole.ts') },
  bundle: true,
  format: 'cjs',
  platform: 'node',
  target: 'node20',
  // A script with a cache has no module to import from.
  supported: { 'dynamic-import': false },
  // Small, but faults still name our functions.
  charset: 'ascii',
  minifyWhitespace: true,
  minifySyntax: true,
  outdir: here('../../dist/bin'),
  outExtension: { '.js': '.cjs' },
  write: false,
  metafile: true,
  // Files we ship are found from where this file lies.
  define: { 'import.meta.url': '__url' },
  banner: { js: "const __url = require('node:url').pathToFileURL(__filename).href;" },
  logLevel: 'error',
});
// Regular expressions keep their letters whatever the charset; the text is read as bytes, so none may be left.
const escape16 = (unit) => `\\u${unit.charCodeAt(0).toString(16).padStart(4, '0')}`;
const escaped = (text) => text.replaceAll(/\P{ASCII}/gu, (letter) => letter.split('').map(escape16).join(''));
mkdirSync(dirname(FILE), { recursive: true });
const text = Buffer.from(escaped(outputFiles[0].text), 'latin1');
writeFileSync(FILE, text);
writeFileSync(here('../../dist/bin/LICENCES.txt'), `${notices(metafile)}\n`);

/** The runs whose functions are kept compiled: what people wait for. */
const job = here('../../samples/stem-bolt-hex-5');
const RUNS = [
  ['--version'],
  ['size', 'hex', '5'],
  ['plan', `${job}.yaml`],
  ['post', `${job}.yaml`],
  ['check', `${job}.nc`, '--job', `${job}.yaml`],
];
const script = compiled(text);
const { run } = exportsOf(script);
for (const argv of RUNS) {
  const silent = { out: () => {}, err: () => {}, ask: 'no terminal', colour: { out: false, err: false } };
  const code = await run(argv, { ...silent, cwd: here('.') });
  if (code !== 0) throw new Error(`${argv.join(' ')} ends with ${code}`);
}
writeFileSync(CACHE, kept(text, script));
