/**
 * The bundled command, with the code V8 compiled of it when it was built: a process that lives a quarter of a second
 * spends a good part of that on compiling. Compiled code is run as it is, so it is taken only as a whole: a digest in front of
 * it binds it to this text and this very Node. Without it, or with any doubt, the text is compiled.
 */
const { createHash } = require('node:crypto');
const { readFileSync } = require('node:fs');
const { createRequire, enableCompileCache } = require('node:module');
const { dirname, join } = require('node:path');
const { Script } = require('node:vm');

const FILE = join(__dirname, '..', 'dist', 'bin', 'flatwright.cjs');
const CACHE = `${FILE}.cache`;
const DIGEST_BYTES = 32;

const digestOf = (text, code) =>
  createHash('sha256')
    .update(JSON.stringify([process.versions, process.platform, process.arch]))
    .update(text)
    .update(code)
    .digest();

/** @param code as `createCachedData` gave it, or undefined. The text is ASCII; the names are those Node gives a module. */
const compiled = (text, code) =>
  new Script(`(function (exports, require, module, __filename, __dirname) {${text.toString('latin1')}\n})`, {
    filename: FILE,
    cachedData: code,
  });

/** What is kept of `script`, once it has run what is wanted compiled. */
function kept(text, script) {
  const code = script.createCachedData();
  return Buffer.concat([digestOf(text, code), code]);
}

/** The script with its compiled code; undefined where there is none for it. */
function fromCache() {
  try {
    const [text, whole] = [readFileSync(FILE), readFileSync(CACHE)];
    const code = whole.subarray(DIGEST_BYTES);
    if (!digestOf(text, code).equals(whole.subarray(0, DIGEST_BYTES))) return undefined;
    const script = compiled(text, code);
    return script.cachedDataRejected ? undefined : script;
  } catch {
    // Not there, or not to be read: it only would have been quicker.
    return undefined;
  }
}

/** What the bundle of `script` exports. */
function exportsOf(script) {
  const bundle = { exports: {} };
  script.runInThisContext()(bundle.exports, createRequire(FILE), bundle, FILE, dirname(FILE));
  return bundle.exports;
}

function command() {
  const script = fromCache();
  if (script !== undefined) return exportsOf(script);
  // Newer Nodes keep what they compiled by themselves.
  enableCompileCache?.();
  return require(FILE);
}

module.exports = { CACHE, FILE, command, compiled, exportsOf, fromCache, kept };
