import { describe, expect, test } from 'vitest';
import { checkPrograms } from '../../src/check/dry-run.js';
import { sectionDrawing } from '../../src/command/drawing.js';
import { sampleJob } from '../arbitrary/samples.js';
import { samplePrograms } from '../scripts/sample-programs.js';

const drawn = (name: string): string => {
  const job = sampleJob(name);
  const programs = samplePrograms(name).map(({ text }) => ({ name, text }));
  return sectionDrawing(job.blank, checkPrograms(programs, job).punch.flats);
};

describe('the section drawn in characters', () => {
  test('a hex is the same upside down and mirrored, but for its numbers', () => {
    const rows = drawn('stem-bolt-hex-5')
      .trimEnd()
      .split('\n')
      .map((row) => row.replace(/\d/g, ' ').trimEnd());
    expect(rows).toEqual(rows.toReversed());
    for (const row of rows) expect(row.trim()).toBe([...row.trim()].toReversed().join(''));
  });

  test('the share of steel is the share of the area, within the grain of the characters', () => {
    const text = drawn('stem-bolt-hex-5');
    const [steel, gone] = ['#', '.'].map((character) => text.split(character).length - 1);
    const hex = 6 * 2.53 ** 2 * Math.tan(Math.PI / 6);
    expect((steel ?? 0) / ((steel ?? 0) + (gone ?? 0))).toBeCloseTo(hex / (Math.PI * 16), 1);
  });

  test('the flat at index zero is up, the others follow counter-clockwise seen from the tip', () => {
    const rows = drawn('bearing-cap-square-8').trimEnd().split('\n');
    expect(rows[0]?.trim()).toBe('1');
    expect(rows.at(-1)?.trim()).toBe('3');
    const middle = rows.find((row) => row.includes('2')) ?? '';
    expect(middle.indexOf('2')).toBeLessThan(middle.indexOf('4'));
  });
});
