#!/usr/bin/env node
const { run, processIo } = require('./load.js').command();

const io = processIo();
run(process.argv.slice(2), io)
  .then(io.ended)
  .then((code) => {
    process.exitCode = code;
  });
