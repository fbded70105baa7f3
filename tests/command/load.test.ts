/** The bundled command and the compiled code kept beside it: whatever becomes of that, the command is the same. */
import { execFileSync } from 'node:child_process';
import { cpSync, mkdtempSync, readdirSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';

const root = fileURLToPath(new URL('../../', import.meta.url));
const PARTS = ['bin', 'dist/bin', 'shared', 'samples', 'package.json'];

let folder = '';
let cache = '';
const flatwright = (...argv: readonly string[]): string =>
  execFileSync(process.execPath, [join(folder, 'bin/flatwright.js'), ...argv], {
    cwd: folder,
    encoding: 'utf8',
  });

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'load-'));
  for (const part of PARTS) cpSync(join(root, part), join(folder, part), { recursive: true });
  symlinkSync(join(root, 'node_modules'), join(folder, 'node_modules'));
  const kept = readdirSync(join(folder, 'dist/bin')).filter((name) => name.endsWith('.cache'));
  cache = join(folder, 'dist/bin', kept[0] ?? 'none was built');
});

afterAll(() => rmSync(folder, { recursive: true }));

describe('code kept compiled', () => {
  const job = 'samples/stem-bolt-hex-5.yaml';

  test('is taken, refused or missing: the program is the same to the byte', () => {
    const whole = flatwright('post', job);
    expect(whole).toContain('M30');
    writeFileSync(cache, 'no code at all');
    expect(flatwright('post', job)).toBe(whole);
    rmSync(cache);
    expect(flatwright('post', job)).toBe(whole);
  });
});
