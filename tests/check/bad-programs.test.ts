/** tests/bad: each program is refused with the code its first line names. */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { checkPrograms } from '../../src/check/dry-run.js';
import { checkSentence } from '../../src/wording/check.js';
import { sampleJob } from '../arbitrary/samples.js';

const folder = new URL('../bad/', import.meta.url);
const files = readdirSync(folder).filter((file) => file.endsWith('.nc'));

describe('bad programs', () => {
  test('there are bad programs to refuse', () => expect(files.length).toBeGreaterThan(80));

  test.each(files)('%s', (file) => {
    const text = readFileSync(new URL(file, folder), 'latin1');
    const [, code, name = 'stem-bolt-hex-5'] = /^\((\S+?)(?: job: (\S+))?\)/.exec(text) ?? [];
    const report = checkPrograms([{ name: file, text }], sampleJob(name));
    expect(report.verdict).toBe('refused');
    const found = report.findings.find((finding) => finding.code === code);
    expect(found, report.findings.map((finding) => finding.code).join()).toBeDefined();
    if (found === undefined) return;
    expect(found.severity).toBe('error');
    expect(checkSentence(found, 'mm')).not.toMatch(/undefined|NaN/);
  });

  test('each finds exactly what it found before, where it found it', async () => {
    const told = files.map((file) => {
      const text = readFileSync(new URL(file, folder), 'latin1');
      const name = / job: (\S+?)\)/.exec(text)?.[1] ?? 'stem-bolt-hex-5';
      const { findings } = checkPrograms([{ name: file, text }], sampleJob(name));
      const one = findings.map((found) => {
        const { line } = found.place;
        return `  ${found.severity} ${found.code}${line > 0 ? ` in line ${line}` : ''}`;
      });
      return `${file}\n${[...new Set(one)].join('\n')}\n`;
    });
    await expect(told.join('')).toMatchFileSnapshot('../bad/findings.txt');
  });
});
