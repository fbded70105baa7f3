/** What a terminal would obey never reaches it, wherever it came from. */
import { spawnSync } from 'node:child_process';
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { paint, shown } from '../../src/command/io.js';

const bin = fileURLToPath(new URL('../../bin/flatwright.js', import.meta.url));
const sample = fileURLToPath(new URL('../../samples/stem-bolt-hex-5.yaml', import.meta.url));
const program = sample.replace('.yaml', '.nc');
let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'shown-'));
});
afterAll(() => rmSync(folder, { recursive: true }));

const OBEYED = /[^\P{Cc}\t\n]|[\u202a-\u202e\u2066-\u2069]/u;
/** Without what `shown` lets through: our colours, and whole line ends. */
const apart = (text: string): string =>
  [31, 32, 33, 39].reduce(
    (rest, code) => rest.replaceAll(`\u001b[${code}m`, ''),
    text.replaceAll('\r\n', ''),
  );

describe('text from outside', () => {
  test('our own colours and line ends stay, the rest is shown as a question mark', () => {
    const { bad, good } = paint(true);
    for (const text of [bad('DO NOT RUN'), good('GOOD\n'), 'a\tb\n', 'a\r\n', 'Größe 5°'])
      expect(shown(text)).toBe(text);
    expect(shown('a\u001b[2Jb\u001b]0;title\u0007c\rd\u202ee')).toBe('a?[2Jb?]0;title?c?d?e');
  });

  test('whatever it holds, nothing is left that a terminal obeys', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (text) => {
        expect(apart(shown(text))).not.toMatch(OBEYED);
      }),
      { seed: 1, numRuns: 1000 },
    );
  });

  test('by the process itself: a job with a title, a key and a file name that hold escapes', () => {
    const title = 'a\u001b]0;b\u0007\u009b2J';
    const job = readFileSync(sample, 'utf8').replace(/^title:.*$/m, `title: ${JSON.stringify(title)}`);
    const name = join(folder, 'j\u001b[8m.yaml');
    writeFileSync(name, job);
    writeFileSync(join(folder, 'p.nc'), `(\u001b[2J)\nG0 \u001b[8mX1\n`);
    writeFileSync(join(folder, 'k.yaml'), `"\\e[2J": 1\n`);
    for (const argv of [
      ['plan', name],
      ['sheet', name, '--text'],
      ['post', name],
      ['check', join(folder, 'p.nc'), '--job', name],
      ['plan', join(folder, 'k.yaml')],
      ['plan', join(folder, 'none\u001b[2J.yaml')],
      ['size', 'hex \u001b[2J'],
      ['\u001b[2J'],
    ]) {
      const { stdout, stderr } = spawnSync(process.execPath, [bin, ...argv], { encoding: 'utf8' });
      expect(stdout + stderr, argv[0]).not.toMatch(OBEYED);
      expect(stdout + stderr).not.toBe('');
    }
  });
});

describe('streams that fail', () => {
  const good = `"${process.execPath}" "${bin}" check "${program}" --job "${sample}"`;
  const bad = `"${process.execPath}" "${bin}" check "${program}" --job "${sample.replace('stem-bolt-hex-5', 'brake-bolt-hex-6')}"`;
  const statusOf = (script: string) => spawnSync('bash', ['-c', script], { encoding: 'utf8' });
  const hasBash = statusOf('exit 0').status === 0;

  test.skipIf(!hasBash)('a reader that is gone changes no exit code', () => {
    expect(statusOf(`${good} | true; exit \${PIPESTATUS[0]}`).status).toBe(0);
    expect(statusOf(`${bad} | true; exit \${PIPESTATUS[0]}`).status).toBe(1);
  });

  test.skipIf(!hasBash || !existsSync('/dev/full'))(
    'a full disk behind standard output is code 2 with one line',
    () => {
      const { status, stderr } = statusOf(`${good} > /dev/full`);
      expect([status, stderr.trim().split('\n').length]).toEqual([2, 1]);
      expect(stderr).toMatch(/standard output: cannot be written/);
    },
  );

  test('a full stick leaves no half program: on a file system of 40 kB', ({ skip }) => {
    const small = join(folder, 'small');
    mkdirSync(small);
    if (spawnSync('mount', ['-t', 'tmpfs', '-o', 'size=40k', 'tmpfs', small]).status !== 0) skip();
    try {
      // Two programs of this size do not fit.
      const first = join(small, 'a.nc');
      const post = (path: string, ...more: string[]) =>
        spawnSync(process.execPath, [bin, 'post', sample, '-o', path, ...more], { encoding: 'utf8' });
      expect(post(first).status).toBe(0);
      const whole = readFileSync(first, 'utf8');
      const second = post(join(small, 'b.nc'));
      expect(second.status).toBe(2);
      expect(second.stderr).toMatch(/b\.nc: cannot be written/);
      expect(readdirSync(small)).toEqual(['a.nc']);
      // Nor is the one that is there lost for the sake of a new one.
      expect(post(first, '--force').status).toBe(2);
      expect(readFileSync(first, 'utf8')).toBe(whole);
    } finally {
      spawnSync('umount', [small]);
    }
  });
});
