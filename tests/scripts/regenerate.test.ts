/** Rewrites what is generated and committed; run by `npm run samples`, never by `npm test`. */
import { writeFileSync } from 'node:fs';
import { test } from 'vitest';
import { sampleNames } from '../arbitrary/samples.js';
import { samplePrograms } from './sample-programs.js';
import { schemaFiles } from './schema-files.js';

const root = new URL('../../', import.meta.url);

test('rewrites sample programs and JSON Schemas', () => {
  for (const name of sampleNames) {
    for (const { suffix, text } of samplePrograms(name)) {
      writeFileSync(new URL(`samples/${name}${suffix}.nc`, root), text);
    }
  }
  for (const { path, text } of schemaFiles()) writeFileSync(new URL(path, root), text);
});
