/**
 * How much a page would carry: the core, src/index.ts with all it reaches, bundled and minified for a browser, with the
 * Node imports of gcode-parser shimmed and mathjs cut down to its parser. kB of 1000 bytes.
 *   node tests/bench/size.mjs
 */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { noNode, noUnused, parserInside } from '../../src/page/plugins.mjs';

const entry = fileURLToPath(new URL('../../src/index.ts', import.meta.url));

const { outputFiles, metafile } = await build({
  entryPoints: [entry],
  bundle: true,
  minify: true,
  format: 'iife',
  target: 'es2022',
  write: false,
  metafile: true,
  plugins: [noNode, noUnused, ...parserInside],
  logLevel: 'error',
});

const parts = new Map();
for (const [file, { bytesInOutput }] of Object.entries(Object.values(metafile.outputs)[0].inputs)) {
  const part = /node_modules\/((?:@[^/]+\/)?[^/]+)/.exec(file)?.[1] ?? 'our own';
  parts.set(part, (parts.get(part) ?? 0) + bytesInOutput);
}
const { esbuild } = JSON.parse(
  readFileSync(new URL('../../package.json', import.meta.url), 'utf8'),
).devDependencies;
const kB = (bytes) => String(Math.round(bytes / 1000)).padStart(6);
process.stdout.write(`core as a page carries it, kB (esbuild ${esbuild})\n`);
for (const [part, bytes] of [...parts].sort(([, a], [, b]) => b - a))
  process.stdout.write(`  ${part.padEnd(22)}${kB(bytes)}\n`);
process.stdout.write(`  ${'all of it'.padEnd(22)}${kB(outputFiles[0].contents.length)}   wanted 600\n`);
