/** A program read for a machine alone: what it goes through, and what of the rules needs no job. */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { checkPrograms } from '../../src/check/dry-run.js';
import { reading } from '../../src/check/reading.js';
import type { Job } from '../../src/job/job.js';
import { toTheEnd } from '../../src/quantity/in-steps.js';
import { toMm } from '../../src/quantity/length.js';
import { readRows, readWords } from '../../src/wording/reading.js';
import { sampleJob, sampleNames } from '../arbitrary/samples.js';
import { samplePrograms } from '../scripts/sample-programs.js';

const read = (job: Job, ...texts: readonly string[]) =>
  toTheEnd(
    reading(
      texts.map((text, i) => ({ name: `${i + 1}.nc`, text })),
      job.machine,
    ),
  );

describe('what it goes through', () => {
  test.each(sampleNames)('%s: as far as its words say, nothing against it', (name) => {
    const job = sampleJob(name);
    const texts = samplePrograms(name).map(({ text }) => text);
    const report = read(job, ...texts);
    expect([report.verdict, report.findings]).toEqual(['read', []]);
    // Source: the axis words themselves; those after G53 are of another zero.
    for (const axis of ['x', 'z'] as const) {
      const words = texts.flatMap((text) =>
        [...text.replace(/\([^()]*\)|^.*G53.*$/gm, '').matchAll(new RegExp(`${axis}(-?[\\d.]+)`, 'gi'))].map(
          ([, value]) => toMm(Number(value), job.machine.units),
        ),
      );
      expect(report.travel[axis].least).toBeCloseTo(Math.min(...words), 6);
      if (axis === 'x' || !texts.some((text) => text.includes('G53')))
        expect(report.travel[axis].most).toBeCloseTo(Math.max(...words), 6);
    }
    const { travelLeft } = checkPrograms(
      samplePrograms(name).map(({ suffix, text }) => ({ name: suffix, text })),
      job,
    );
    expect(report.left).toEqual(travelLeft);
    expect(report.codes).toContain('G1');
    expect(report.stops).toBe(texts.join('\n').match(/^(N\d+ )?M0$/gm)?.length ?? 0);
    expect(readWords(report, 'mine')).toMatch(/^\d+ lines read, 0 skipped, nothing against it on mine$/);
    expect(readRows(report, job.machine).map(([label]) => label)).toContain('Feeds');
  });
});

describe('what is wrong whatever it makes', () => {
  test.each([
    ['a feed the machine has not', ['F1200.0', 'F9000.0'], 'feed-over-machine'],
    ['a speed the spindle has not', ['S4000', 'S9000'], 'speed-outside-spindle'],
    ['the wrong way round', ['\nM3\n', '\nM4\n'], 'wheel-turns-backward'],
    ['a stop with the wheel on', ['\nM5\nG4 P14.0\n', '\n'], 'stop-while-turning'],
    ['beyond the travel', ['X40.674', 'X400.674'], 'outside-travel'],
    ['no end', ['M30', ''], 'end-missing'],
    ['text after it', ['M30\n', 'M30\nG0 X1.000\n'], 'text-after-end'],
    ['no units', ['G21\n', ''], 'units-unsaid'],
    ['modes unsaid', ['G54\n', ''], 'mode-unsaid'],
    ['a code nobody knows', ['G17\n', 'G17\nG123\n'], 'code-unknown'],
  ] as const)('%s', (_, [from, to], code) => {
    const job = sampleJob('stem-bolt-hex-5');
    const text = samplePrograms('stem-bolt-hex-5')[0]?.text ?? '';
    expect(text).toContain(from);
    const report = read(job, text.replaceAll(from, to));
    expect(report.findings.map((finding) => finding.code)).toContain(code);
    expect(report.verdict).toBe(
      report.findings.some(({ severity }) => severity === 'error') ? 'refused' : 'read',
    );
  });

  test('what it refuses the dry run refuses too, line by line, over every bad program', () => {
    const bad = new URL('../bad/', import.meta.url);
    for (const file of readdirSync(bad).filter((each) => each.endsWith('.nc'))) {
      const text = readFileSync(new URL(file, bad), 'latin1');
      const job = sampleJob(/ job: (\S+?)\)/.exec(text)?.[1] ?? 'stem-bolt-hex-5');
      const whole = checkPrograms([{ name: '1.nc', text }], job).findings.map(
        ({ code, place }) => `${code} ${place.line}`,
      );
      for (const { code, place } of read(job, text).findings)
        if (code !== 'more-findings') expect(whole, file).toContain(`${code} ${place.line}`);
    }
  });

  test('any text is read without a throw, and what was skipped is counted', () => {
    const report = read(sampleJob('stem-bolt-hex-5'), '%\n#1=2\nG1 X[1]\n\u0000\n');
    expect([report.verdict, report.lines > 0, report.skipped > 1]).toEqual(['refused', true, true]);
    expect(read(sampleJob('stem-bolt-hex-5'), '').findings.map(({ code }) => code)).toEqual(['end-missing']);
  });
});
