/** README and guide say what the code does: its tables and its printed output are made by it. */
import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { guidePages } from './scripts/guide-pages.js';
import { freshPage } from './scripts/readme-parts.js';

const readme = readFileSync(new URL('../README.md', import.meta.url), 'utf8');

const textOf = (page: string): string => readFileSync(new URL(`../${page}`, import.meta.url), 'utf8');

test.each(guidePages)(
  '%s: every generated part is as the code gives it, every link leads somewhere',
  async (page) => {
    const text = textOf(page);
    expect(await freshPage(text)).toBe(text);
    const folder = dirname(fileURLToPath(new URL(`../${page}`, import.meta.url)));
    for (const [, link = ''] of text.matchAll(/\]\((?!https?:|#)([^)#]+)/g))
      expect(existsSync(join(folder, link)), `${page}: ${link}`).toBe(true);
  },
);

test('every page of the guide is in the list of the README', () => {
  for (const page of guidePages.slice(1)) expect(readme).toContain(`](${page})`);
});

test('the README opens with the job, then the two commands, then the cautions', () => {
  const commands = [...readme.matchAll(/```sh\n(npm ci && .*)\n```/g)].map((match) => match[1]);
  expect(commands.length).toBe(2);
  expect(commands[0]).toMatch(/^npm ci && npx flatwright post samples\//);
  expect(commands[1]).toBe('npm ci && npm test');
  expect(readme.indexOf('can burst')).toBeGreaterThan(readme.indexOf('npm test'));
  expect(readme.indexOf('can burst')).toBeLessThan(readme.indexOf('## A first punch'));
});
