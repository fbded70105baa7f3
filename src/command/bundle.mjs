/**
 * Makes dist/bin: the command with its libraries in one file, and beside it what V8 compiles of it in the runs below. A
 * process that loads hundreds of modules spends most of its time with that, and one that lives a quarter of a second a
 * good part of the rest on compiling.
 *   node src/command/bundle.mjs
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { CACHE, compiled, exportsOf, FILE, kept } from '../../bin/load.js';
import { notices } from '../page/notices.mjs';
import { noTypesetting, PARSER, parserBy } from '../page/plugins.mjs';

const here = (path) => fileURLToPath(new URL(path, import.meta.url));

const common = {
  bundle: true,
  format: 'cjs',
  platform: 'node',
  target: 'node20',
  write: false,
  metafile: true,
  charset: 'ascii',
  logLevel: 'error',
};

const whole = await build({
  ...common,
  entryPoints: [here('whole.ts')],
  // A script with a cache has no module to import from.
  supported: { 'dynamic-import': false },
  // Small, but faults still name our functions.
  minifyWhitespace: true,
  minifySyntax: true,
  // Few jobs hold arithmetic, and these load a parser for it.
  plugins: [parserBy("export const parser = () => require('./parser.cjs').parser();")],
  external: ['./parser.cjs'],
  // Files we ship are found from where this file lies.
  define: { 'import.meta.url': '__url' },
  banner: { js: "const __url = require('node:url').pathToFileURL(__filename).href;" },
});
const parser = await build({
  ...common,
  stdin: { contents: PARSER, resolveDir: here('.') },
  minify: true,
  plugins: [noTypesetting],
});

// Regular expressions keep their letters whatever the charset; the text is read as bytes, so none may be left.
const escape16 = (unit) => `\\u${unit.charCodeAt(0).toString(16).padStart(4, '0')}`;
const escaped = (text) => text.replaceAll(/\P{ASCII}/gu, (letter) => letter.split('').map(escape16).join(''));
const textOf = ({ outputFiles: [file] }) => Buffer.from(escaped(file.text), 'latin1');
const folder = dirname(FILE);
mkdirSync(folder, { recursive: true });
const text = textOf(whole);
writeFileSync(FILE, text);
writeFileSync(join(folder, 'parser.cjs'), textOf(parser));
const inputs = { ...whole.metafile.inputs, ...parser.metafile.inputs };
writeFileSync(join(folder, 'LICENCES.txt'), `${notices({ inputs })}\n`);

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
