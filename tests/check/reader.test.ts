import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { checkPrograms } from '../../src/check/dry-run.js';
import { linesOf, splitLines } from '../../src/check/read/lines.js';
import { readLine } from '../../src/check/read/reader.js';
import { sampleJob } from '../arbitrary/samples.js';
import { samplePrograms } from '../scripts/sample-programs.js';

const job = sampleJob('stem-bolt-hex-5');
const [program] = samplePrograms('stem-bolt-hex-5');
const good = program?.text ?? '';

const report = (text: string) => checkPrograms([{ name: 'p.nc', text }], job);

test('a return alone ends no line: it is refused by name, wherever it stands', () => {
  const hidden = good.replace('G0 Z', 'G1 X40.\rG0 Z');
  expect(report(hidden).findings[0]?.code).toBe('return-alone');
});

describe('the same program, written another way, is the same program', () => {
  const plain = report(good).punch;
  test.each<[string, (text: string) => string]>([
    ['CRLF', (text) => text.replaceAll('\n', '\r\n')],
    ['lower case', (text) => text.replace(/^[^(].*$/gm, (line) => line.toLowerCase())],
    ['leading zeros', (text) => text.replace(/\bG([01])\b/g, 'G0$1')],
    ['blanks in blocks', (text) => text.replace(/^G1 X(\d)/gm, 'G 1  X $1 ')],
    ['no blanks', (text) => text.replace(/^[GSM].*$/gm, (line) => line.replaceAll(' ', ''))],
    ['a tape with %', (text) => `%\n${text}%\n`],
    ['block numbers', (text) => text.replace(/^(?=[GSM])/gm, 'N10 ')],
    ['no last line end', (text) => text.trimEnd()],
    ['empty lines', (text) => text.replaceAll('\n', '\n\n')],
    [
      'inches',
      (text) =>
        text
          .replaceAll('G21', 'G20')
          .replace(/([XYZF])(-?[\d.]+)/g, (_, letter, value) => `${letter}${Number(value) / 25.4}`),
    ],
  ])('%s', (_, rewrite) => {
    const rewritten = rewrite(good);
    expect(rewritten).not.toBe(good);
    const { verdict, punch, findings } = report(rewritten);
    expect(findings.filter(({ code }) => code !== 'text-changed')).toEqual([]);
    expect(verdict).toBe('run');
    for (const [i, flat] of punch.flats.entries()) {
      expect(flat.distance).toBeCloseTo(plain.flats[i]?.distance ?? 0, 9);
    }
  });

  test('block delete: skipped with the switch on, executed with it off, refused unsaid', () => {
    const stroke = good.replace('G1 Z4.298 F1200.0\n', '/G1 Z4.298 F1200.0\n');
    expect(report(stroke).findings.map(({ code }) => code)).toContain('block-delete');
    expect(checkPrograms([{ name: 'p', text: stroke }], job, { blockDelete: 'off' }).verdict).toBe('run');
    // Without that infeed the next one is twice as deep.
    const on = checkPrograms([{ name: 'p', text: stroke }], job, { blockDelete: 'on' });
    expect(on.findings.map(({ code }) => code)).toContain('stroke-too-deep');
  });
});

describe('hostile text', () => {
  const piece = fc.oneof(
    fc.constantFrom(
      'G0',
      'G1',
      'X',
      'X1',
      'Y-.5',
      'Z4',
      'A60',
      'F600',
      'S4000',
      'M3',
      'M0',
      'M30',
      '(',
      ')',
      ';',
      '%',
      '/',
      '#1',
      '[1]',
      '\n',
      '\r\n',
      ' ',
      'N5',
      'G2',
      'I1',
      'R-3',
    ),
    fc.string({ maxLength: 3 }),
  );
  const anyText = fc.array(piece, { maxLength: 80 }).map((list) => list.join(''));

  test('any text at all gives a verdict, and never a good one for a punch not made', () => {
    fc.assert(
      fc.property(anyText, (text) => {
        expect(report(text).verdict).toBe('refused');
      }),
      { seed: 14, numRuns: 1500 },
    );
  });

  test('every character of a block read is accounted for: words put together again give the block', () => {
    fc.assert(
      fc.property(
        fc.array(piece, { maxLength: 12 }).map((list) => list.join('')),
        (text) => {
          const [line = ''] = linesOf(text);
          const read = readLine(line);
          if (read.kind !== 'block') return;
          const outside = line
            .replace(/\([^)]*\)/g, '')
            .replace(/;.*/, '')
            .replace(/\s/g, '')
            .replace(/^\//, '')
            .toUpperCase();
          const values = outside.match(/[A-Z][^A-Z]*/g) ?? [];
          const numbered = read.number === 'none' ? [] : [`N${read.number}`];
          const ours = [...numbered, ...read.words.map(({ letter, value }) => `${letter}${value}`)];
          expect(ours.toSorted()).toEqual(
            values.map((word) => `${word[0]}${Number(word.slice(1))}`).toSorted(),
          );
        },
      ),
      { seed: 15, numRuns: 3000 },
    );
  });

  test('cut off anywhere, the program is refused', () => {
    const lines = linesOf(good);
    fc.assert(
      fc.property(fc.integer({ min: 1, max: lines.length - 1 }), (keep) => {
        expect(report(lines.slice(0, keep).join('\n')).verdict).toBe('refused');
      }),
      { seed: 16, numRuns: 60 },
    );
  });
});

test('a stream cut into chunks anywhere gives the lines of the text', async () => {
  const text = fc
    .array(fc.constantFrom('G1 X1', '\r\n', '\n', '\r', '(c)'), { maxLength: 20 })
    .map((list) => list.join(''));
  await fc.assert(
    fc.asyncProperty(text, fc.array(fc.nat(60)), async (whole, cuts) => {
      const places = [0, ...cuts.filter((cut) => cut < whole.length).toSorted((a, b) => a - b), whole.length];
      const chunks = places.slice(1).map((end, i) => whole.slice(places[i], end));
      async function* stream(): AsyncGenerator<string> {
        yield* chunks;
      }
      const lines: string[] = [];
      for await (const line of splitLines(stream())) lines.push(line);
      expect(lines).toEqual(linesOf(whole));
    }),
    { seed: 17 },
  );
});
