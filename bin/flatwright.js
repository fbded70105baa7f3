#!/usr/bin/env node
import module from 'node:module';

// Newer Nodes keep the compiled code between runs.
module.enableCompileCache?.();

const [{ run }, { processIo }] = await Promise.all([
  import('../dist/bin/main.js'),
  import('../dist/bin/process-io.js'),
]);
const io = processIo();
process.exitCode = await io.ended(await run(process.argv.slice(2), io));
