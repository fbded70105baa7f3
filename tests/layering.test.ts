/** Imports run one way: command -> sheet, post, check, plan -> job -> section -> quantity. */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';

const src = fileURLToPath(new URL('../src/', import.meta.url));

/** What each folder may reach besides itself. */
const MAY: Readonly<Record<string, readonly string[]>> = {
  quantity: [],
  section: ['quantity'],
  job: ['section', 'quantity'],
  plan: ['job', 'section', 'quantity'],
  check: ['job', 'section', 'quantity'],
  post: ['plan', 'job', 'section', 'quantity'],
  sheet: ['post', 'check', 'plan', 'job', 'section', 'quantity'],
  command: ['sheet', 'post', 'check', 'plan', 'job', 'section', 'quantity'],
};

const files = readdirSync(src, { recursive: true, encoding: 'utf8' }).filter((file) => file.endsWith('.ts'));

function reached(file: string): readonly string[] {
  const text = readFileSync(join(src, file), 'utf8');
  return [...text.matchAll(/from '(\.[^']+)'|import\('(\.[^']+)'\)/g)].map((match) => {
    const target = resolve(src, dirname(file), match[1] ?? match[2] ?? '');
    return relative(src, target).split('/')[0] ?? '';
  });
}

describe('the folders of src', () => {
  test('are the ones the architecture names', () => {
    const folders = new Set(files.filter((file) => file.includes('/')).map((file) => file.split('/')[0]));
    expect([...folders].toSorted()).toEqual(Object.keys(MAY).toSorted());
  });

  test.each(files.filter((file) => file.includes('/')))('%s imports only downward', (file) => {
    const own = file.split('/')[0] ?? '';
    for (const folder of reached(file)) expect([own, ...(MAY[own] ?? [])]).toContain(folder);
  });

  test('check reaches neither plan nor post, even through another folder', () => {
    const seen = new Set<string>();
    const visit = (folder: string): void => {
      if (seen.has(folder)) return;
      seen.add(folder);
      for (const file of files.filter((each) => each.startsWith(`${folder}/`))) reached(file).forEach(visit);
    };
    visit('check');
    expect(seen.size).toBeGreaterThan(3);
    expect([...seen]).not.toContain('plan');
    expect([...seen]).not.toContain('post');
  });
});
