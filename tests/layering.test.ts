/** Imports run one way, between folders and between files; what a browser may load needs no Node. */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';

const src = fileURLToPath(new URL('../src/', import.meta.url));

const GEOMETRY = ['wheel', 'section', 'quantity'];
const CORE = ['job', ...GEOMETRY];

/** What each folder may reach besides itself. */
const MAY: Readonly<Record<string, readonly string[]>> = {
  quantity: [],
  section: ['quantity'],
  wheel: ['section', 'quantity'],
  job: GEOMETRY,
  file: CORE,
  plan: CORE,
  check: CORE,
  post: ['plan', ...CORE],
  hand: ['plan', ...CORE],
  measure: ['plan', ...CORE],
  page: ['hand', 'measure', 'sheet', 'wording', 'post', 'check', 'plan', 'file', ...CORE],
  wording: ['hand', 'measure', 'post', 'check', 'plan', 'file', ...CORE],
  sheet: ['hand', 'measure', 'player', 'wording', 'post', 'check', 'plan', ...CORE],
  player: GEOMETRY,
  command: ['hand', 'measure', 'sheet', 'player', 'wording', 'post', 'check', 'plan', 'file', ...CORE],
};

const files = readdirSync(src, { recursive: true, encoding: 'utf8' }).filter(
  (file) => file.endsWith('.ts') && !file.endsWith('.d.ts'),
);

const texts = new Map(files.map((file) => [file, readFileSync(join(src, file), 'utf8')]));

/** The files that `file` names, types included. */
function named(file: string): readonly string[] {
  return [...(texts.get(file) ?? '').matchAll(/(?:from|import\()\s*'(\.[^']+)\.js'/g)].map((match) =>
    relative(src, resolve(src, dirname(file), `${match[1] ?? ''}.ts`)),
  );
}

const folderOf = (file: string): string => (file.includes('/') ? (file.split('/')[0] ?? '') : '');

/** Every file that can be come to from `start`. */
function reachable(start: string, from: (file: string) => readonly string[] = named): ReadonlySet<string> {
  const seen = new Set<string>();
  const visit = (file: string): void => {
    for (const next of from(file)) {
      if (seen.has(next)) continue;
      seen.add(next);
      visit(next);
    }
  };
  visit(start);
  return seen;
}

describe('the folders of src', () => {
  test('are the ones the architecture names', () => {
    const folders = new Set(files.map(folderOf).filter((folder) => folder !== ''));
    expect([...folders].toSorted()).toEqual(Object.keys(MAY).toSorted());
  });

  test.each(files.filter((file) => file.includes('/')))('%s imports only downward', (file) => {
    const own = folderOf(file);
    for (const other of named(file)) expect([own, ...(MAY[own] ?? [])]).toContain(folderOf(other));
  });

  test('no file reaches itself, not even through a type', () => {
    const circles = files.filter((file) => reachable(file).has(file));
    expect(circles).toEqual([]);
  });

  test('every import names a file that is there', () => {
    for (const file of files) for (const other of named(file)) expect(files).toContain(other);
  });

  test('check reaches neither plan nor post, even through another folder', () => {
    const folders = new Set(
      files
        .filter((file) => folderOf(file) === 'check')
        .flatMap((file) => [...reachable(file)].map(folderOf)),
    );
    expect(folders.size).toBeGreaterThan(3);
    expect([...folders]).not.toContain('plan');
    expect([...folders]).not.toContain('post');
  });

  test('what index.ts reaches needs no Node, and no package but those a page can hold', () => {
    for (const file of reachable('index.ts')) {
      expect(texts.get(file), file).not.toMatch(/from 'node:|process\.(?!getBuiltinModule)/);
      expect(folderOf(file)).not.toBe('command');
    }
  });
});
