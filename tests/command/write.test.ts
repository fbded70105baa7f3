/** Files are written whole, all of them or none, and only where the user meant it. */
import { spawnSync } from 'node:child_process';
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  readlinkSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, expect, test } from 'vitest';
import type { Io } from '../../src/command/io.js';
import { writeFiles } from '../../src/command/write.js';

const bin = fileURLToPath(new URL('../../bin/flatwright.js', import.meta.url));
let folder = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'write-'));
});
afterEach(() => rmSync(folder, { recursive: true }));

const at = (name: string): string => join(folder, name);
const write = (names: readonly string[], force: boolean, inputs: readonly string[] = []): void =>
  writeFiles(
    names.map((path) => ({ path, text: `new ${path}` })),
    force,
    { cwd: folder } as Io,
    inputs,
  );

test('of a set all are written or none, and nothing is left beside them', () => {
  mkdirSync(at('c.nc'));
  expect(() => write(['a.nc', 'b.nc', 'c.nc'], true)).toThrow(/c\.nc: this is a folder/);
  expect(() => write(['a.nc', `${'x'.repeat(300)}.nc`], false)).toThrow(/cannot be written/);
  expect(readdirSync(folder)).toEqual(['c.nc']);
});

test('a name as long as the file system takes is no trouble', () => {
  const long = `${'x'.repeat(252)}.nc`;
  write([long], false);
  expect(readFileSync(at(long), 'utf8')).toBe(`new ${long}`);
});

test('a link is followed: the file it leads to is replaced, the link stays', () => {
  writeFileSync(at('real.nc'), 'old');
  symlinkSync('real.nc', at('link.nc'));
  expect(() => write(['link.nc'], false)).toThrow(/already there/);
  write(['link.nc'], true);
  expect(readlinkSync(at('link.nc'))).toBe('real.nc');
  expect(readFileSync(at('real.nc'), 'utf8')).toBe('new link.nc');
});

test('what a command reads it does not write over, by whatever name', () => {
  writeFileSync(at('job.yaml'), 'job');
  symlinkSync('job.yaml', at('alias.yaml'));
  for (const name of ['job.yaml', './job.yaml', 'alias.yaml'])
    expect(() => write([name], true, ['job.yaml'])).toThrow(/read by the same command/);
  expect(readFileSync(at('job.yaml'), 'utf8')).toBe('job');
});

test('--force replaces no device and no pipe', () => {
  const { status } = spawnSync('mkfifo', [at('pipe')]);
  const place = status === 0 ? 'pipe' : '/dev/null';
  expect(() => write([place], true)).toThrow(/a device or a pipe/);
  expect(existsSync(join(folder, place === 'pipe' ? 'pipe' : ''))).toBe(true);
});

test('no file is called -', () => {
  expect(() => write(['-'], true)).toThrow(/goes there without -o/);
  expect(readdirSync(folder)).toEqual([]);
});

test('standard input can be read once', () => {
  const job = fileURLToPath(new URL('../../samples/stem-bolt-hex-5.yaml', import.meta.url));
  const { status, stderr } = spawnSync(process.execPath, [bin, 'check', '-', '-', '--job', job], {
    encoding: 'utf8',
    input: 'M30\n',
  });
  expect([status, stderr]).toEqual([2, expect.stringContaining('standard input can be read once')]);
});
