/** The committed samples are what the code gives, byte for byte, and every one passes its check. */
import { readdirSync, readFileSync } from 'node:fs';
import { build } from 'esbuild';
import { describe, expect, test } from 'vitest';
import { checkPrograms } from '../src/check/dry-run.js';
import { handNames, sampleJob, sampleNames } from './arbitrary/samples.js';
import { samplePrograms } from './scripts/sample-programs.js';
import { handPage, handSheet, samplePage } from './scripts/sample-sheets.js';
import { schemaFiles } from './scripts/schema-files.js';

const root = new URL('../', import.meta.url);
const committed = (path: string): string => readFileSync(new URL(path, root), 'utf8');

describe.each(sampleNames)('sample %s', (name) => {
  test('gives the committed programs', () => {
    for (const { suffix, text } of samplePrograms(name))
      expect(text).toBe(committed(`samples/${name}${suffix}.nc`));
  });

  test('gives the committed set-up sheet', () => {
    expect(samplePage(name)).toBe(committed(`samples/${name}.html`));
  });

  test('passes its own check without a warning', () => {
    const programs = samplePrograms(name).map(({ suffix, text }) => ({ name: `${name}${suffix}.nc`, text }));
    expect(checkPrograms(programs, sampleJob(name))).toMatchObject({ verdict: 'run', findings: [] });
  });
});

describe.each(handNames)('sample %s', (name) => {
  test('gives the committed sheet for hand wheels, without a finding', () => {
    expect(handPage(name)).toBe(committed(`samples/${name}.html`));
    expect(handSheet(name)).toMatchObject({ verdict: 'run', findings: [] });
  });
});

test('there are at least six samples and no program without its job', () => {
  expect(sampleNames.length).toBeGreaterThanOrEqual(6);
  const programs = readdirSync(new URL('samples/', root)).filter((file) => file.endsWith('.nc'));
  const expected = sampleNames.flatMap((name) =>
    samplePrograms(name).map(({ suffix }) => `${name}${suffix}.nc`),
  );
  expect(programs.toSorted()).toEqual(expected.toSorted());
});

test.each(schemaFiles())('$path is generated from the schema that reads the files', ({ path, text }) => {
  expect(committed(path)).toBe(text);
});

test('the player of the page is bundled from src/player', async () => {
  const { scripts } = JSON.parse(committed('package.json')) as { scripts: { player: string } };
  const flags = scripts.player.split(' ');
  expect(flags).toContain('--format=iife');
  const { outputFiles } = await build({
    entryPoints: [new URL('src/player/player.ts', root).pathname],
    bundle: true,
    format: 'iife',
    target: 'es2022',
    charset: 'utf8',
    minifySyntax: true,
    minifyWhitespace: true,
    write: false,
  });
  expect(outputFiles[0]?.text).toBe(committed('shared/sheet/player.js'));
});
