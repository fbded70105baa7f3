/** The README says what the code does: its tables and its printed output are made by it. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { freshReadme } from './scripts/readme-parts.js';

const readme = readFileSync(new URL('../README.md', import.meta.url), 'utf8');

test('every generated part of the README is as the code gives it', async () => {
  expect(await freshReadme(readme)).toBe(readme);
});

test('the README opens with the job, then the two commands, then the cautions', () => {
  const commands = [...readme.matchAll(/```sh\n(npm ci && .*)\n```/g)].map((match) => match[1]);
  expect(commands.length).toBe(2);
  expect(commands[0]).toMatch(/^npm ci && npx flatwright post samples\//);
  expect(commands[1]).toBe('npm ci && npm test');
  expect(readme.indexOf('can burst')).toBeGreaterThan(readme.indexOf('npm test'));
  expect(readme.indexOf('can burst')).toBeLessThan(readme.indexOf('## A first punch'));
});
