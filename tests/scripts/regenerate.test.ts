/** Rewrites what is generated and committed; run by `npm run samples`, never by `npm test`. */
import { readFileSync, writeFileSync } from 'node:fs';
import { test } from 'vitest';
import { handNames, sampleNames } from '../arbitrary/samples.js';
import { guidePages } from './guide-pages.js';
import { freshPage } from './readme-parts.js';
import { samplePrograms } from './sample-programs.js';
import { handPage, samplePage } from './sample-sheets.js';
import { schemaFiles } from './schema-files.js';

const root = new URL('../../', import.meta.url);

test('rewrites sample programs and sheets, JSON Schemas and the generated parts of README and guide', async () => {
  for (const name of sampleNames) {
    for (const { suffix, text } of samplePrograms(name)) {
      writeFileSync(new URL(`samples/${name}${suffix}.nc`, root), text);
    }
    writeFileSync(new URL(`samples/${name}.html`, root), samplePage(name));
  }
  for (const name of handNames) writeFileSync(new URL(`samples/${name}.html`, root), handPage(name));
  for (const { path, text } of schemaFiles()) writeFileSync(new URL(path, root), text);
  for (const page of guidePages) {
    const place = new URL(page, root);
    writeFileSync(place, await freshPage(readFileSync(place, 'utf8')));
  }
});
