/** Rewrites what is generated and committed; run by `npm run samples`, never by `npm test`. */
import { readFileSync, writeFileSync } from 'node:fs';
import { test } from 'vitest';
import { sampleNames } from '../arbitrary/samples.js';
import { freshReadme } from './readme-parts.js';
import { samplePrograms } from './sample-programs.js';
import { samplePage } from './sample-sheets.js';
import { schemaFiles } from './schema-files.js';

const root = new URL('../../', import.meta.url);

test('rewrites sample programs and sheets, JSON Schemas and the generated parts of the README', async () => {
  for (const name of sampleNames) {
    for (const { suffix, text } of samplePrograms(name)) {
      writeFileSync(new URL(`samples/${name}${suffix}.nc`, root), text);
    }
    writeFileSync(new URL(`samples/${name}.html`, root), samplePage(name));
  }
  for (const { path, text } of schemaFiles()) writeFileSync(new URL(path, root), text);
  const readme = new URL('README.md', root);
  writeFileSync(readme, await freshReadme(readFileSync(readme, 'utf8')));
});
