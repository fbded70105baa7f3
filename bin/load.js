/**
 * The bundled command, with the code V8 compiled of it when it was built: a process that lives a quarter of a second
 * spends a good part of that on compiling. V8 itself refuses a cache that is not of this V8 and this text; a Node that
 * has no cache of its own here compiles, and newer Nodes keep what they compiled between runs.
 */
const { existsSync, readFileSync } = require('node:fs');
const { join } = require('node:path');
const { createRequire, enableCompileCache } = require('node:module');
const { Script } = require('node:vm');

const FILE = join(__dirname, '..', 'dist', 'bin', 'flatwright.cjs');
const CACHE = `${FILE}.${process.versions.v8}-${process.arch}.cache`;

/** @param cachedData as `createCachedData` gave it, or undefined. */
const compiled = (cachedData) =>
  // The text is ASCII. The names are those Node gives a module.
  new Script(
    `(function (exports, require, module, __filename, __dirname) {${readFileSync(FILE, 'latin1')}\n})`,
    {
      filename: FILE,
      cachedData,
    },
  );

/** What the bundle of `script` exports. */
function exportsOf(script) {
  const bundle = { exports: {} };
  script.runInThisContext()(bundle.exports, createRequire(FILE), bundle, FILE, join(FILE, '..'));
  return bundle.exports;
}

function command() {
  if (existsSync(CACHE)) return exportsOf(compiled(readFileSync(CACHE)));
  enableCompileCache?.();
  return require(FILE);
}

module.exports = { CACHE, command, compiled, exportsOf };
