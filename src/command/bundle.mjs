/**
 * Makes dist/bin: the command with its libraries in a few files, a part for each subcommand. A process that loads hundreds
 * of modules spends most of its time with that. mathjs stays apart, loaded when it is needed.
 *   node src/command/bundle.mjs
 */
import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { notices } from '../page/notices.mjs';

const here = (path) => fileURLToPath(new URL(path, import.meta.url));

const { metafile } = await build({
  entryPoints: [here('main.ts'), here('process-io.ts')],
  bundle: true,
  splitting: true,
  format: 'esm',
  platform: 'node',
  target: 'node20',
  charset: 'utf8',
  outdir: here('../../dist/bin'),
  metafile: true,
  // Libraries that were CommonJS ask for Node's own modules in its way.
  banner: {
    js: "import { createRequire as makeRequire } from 'node:module'; const require = makeRequire(import.meta.url);",
  },
  logLevel: 'error',
});
writeFileSync(here('../../dist/bin/LICENCES.txt'), `${notices(metafile)}\n`);
