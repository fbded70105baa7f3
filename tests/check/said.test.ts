/** What a program says of itself in comments, against what it is. */
import { describe, expect, test } from 'vitest';
import { checkPrograms } from '../../src/check/dry-run.js';
import { sampleJob } from '../arbitrary/samples.js';
import { samplePrograms } from '../scripts/sample-programs.js';

const HEX = 'stem-bolt-hex-5';
const TRIANGLE = 'valve-cap-triangle';
const hexText = samplePrograms(HEX)[0]?.text ?? '';
const hexCodes = (text: string): readonly string[] =>
  checkPrograms([{ name: 'p.nc', text }], sampleJob(HEX)).findings.map(({ code }) => code);

const set = samplePrograms(TRIANGLE).map(({ suffix, text }) => ({ name: `cap${suffix}.nc`, text }));
const setCodes = (order: readonly number[]): readonly string[] => {
  const programs = order.flatMap((number) => set[number - 1] ?? []);
  return checkPrograms(programs, sampleJob(TRIANGLE)).findings.map(({ code }) => code);
};

describe('the mark', () => {
  test('is right in what was posted, whatever the line ends', () => {
    expect(hexCodes(hexText)).toEqual([]);
    expect(hexCodes(hexText.replaceAll('\n', '\r\n'))).toEqual([]);
  });

  test.each([
    ['a digit', (text: string) => text.replace('Z4.478', 'Z4.477')],
    ['a comment', (text: string) => text.replace('(ROUGH FLAT 1)', '(ROUGH FLAT ONE)')],
    ['the mark itself', (text: string) => text.replace(/MARK ..../, 'MARK 0000')],
    ['a block twice', (text: string) => text.replace('G49\n', 'G49\nG49\n')],
  ])('%s changed is told, and is no error', (_, change) => {
    const text = change(hexText);
    expect(text).not.toBe(hexText);
    expect(hexCodes(text)).toEqual(['text-changed']);
  });

  test('a program without one is none the worse', () => {
    expect(hexCodes(hexText.replace(/\(MARK .*\)\n/, ''))).toEqual([]);
  });
});

test('a program headed with another job is told', () => {
  const { findings, verdict } = checkPrograms([{ name: 'p.nc', text: hexText }], {
    ...sampleJob(HEX),
    title: 'seat-post hex 6',
  });
  expect(findings.map(({ code }) => code)).toContain('other-job');
  expect(verdict).toBe('run');
});

describe('a set of programs', () => {
  test('in its order it is good', () => {
    expect(setCodes([1, 2, 3, 4, 5, 6])).toEqual([]);
  });

  test.each([
    ['two changed about', [1, 2, 4, 3, 5, 6], 'set-out-of-order'],
    ['from the last', [6, 5, 4, 3, 2, 1], 'set-out-of-order'],
    ['one missing', [1, 2, 3, 5, 6], 'set-out-of-order'],
    ['one twice', [1, 2, 2, 3, 4, 5, 6], 'set-out-of-order'],
    ['the last missing', [1, 2, 3, 4, 5], 'set-incomplete'],
  ])('%s: %s', (_, order, code) => {
    expect(setCodes(order)).toContain(code);
  });
});
