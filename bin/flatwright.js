#!/usr/bin/env node
import { run } from '../dist/command/main.js';
import { processIo } from '../dist/command/process-io.js';

process.exitCode = await run(process.argv.slice(2), processIo());
