#!/usr/bin/env node
// Until it has come to its end it has not: nobody may take silence for a verdict.
process.exitCode = 3;

const { run, processIo } = require('./load.js').command();

const io = processIo();
run(process.argv.slice(2), io)
  .then(io.ended)
  .then((code) => {
    process.exitCode = code;
  });
