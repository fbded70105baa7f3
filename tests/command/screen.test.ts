/** What fits a screen, and how. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { fitted, labelled, table } from '../../src/command/screen.js';
import { sampleNames } from '../arbitrary/samples.js';
import { createWorld } from './fake-io.js';

describe('lines on a screen', () => {
  test('are broken at words, and go on under where the text began', () => {
    const text = labelled([
      ['Label', 'one two three four five six seven eight nine ten eleven twelve thirteen'],
    ]);
    expect(fitted(text, 40).split('\n')).toEqual([
      '  Label  one two three four five six',
      '         seven eight nine ten eleven',
      '         twelve thirteen',
      '',
    ]);
  });

  test('no word is lost or split, none is too long that could be broken', () => {
    fc.assert(
      fc.property(fc.array(fc.stringMatching(/^[a-z]{1,12}$/), { minLength: 1, maxLength: 60 }), (words) => {
        const lines = fitted(`  ${words.join(' ')}`, 40).split('\n');
        expect(
          lines
            .join(' ')
            .split(/\s+/)
            .filter((word) => word !== ''),
        ).toEqual(words);
        for (const line of lines) expect(line.length).toBeLessThanOrEqual(40);
      }),
    );
  });

  test('a table too wide for it becomes a paragraph a row, with every cell and title', () => {
    const head = ['over', ...Array.from({ length: 9 }, (_, i) => `column number ${i}`)];
    const row = ['1 - 4', ...Array.from({ length: 9 }, (_, i) => `${i}.000`)];
    const text = table(head, [row]);
    for (const cell of [...head.slice(1), ...row]) expect(text.replaceAll(/\s+/g, ' ')).toContain(cell);
    for (const line of text.split('\n')) expect(line.length).toBeLessThanOrEqual(80);
  });
});

test('a sentence needs no title, what does not apply is left out', () => {
  const long = 'wheel at rest beside the front face, well below its upper edge, and kept from starting';
  const text = table(
    ['step', 'do', 'reads', 'done'],
    [
      ['1', long, '-', '____'],
      ['2', 'and in', '1.956', '____'],
    ],
  );
  expect(text.replace(/\s+/g, ' ').trim()).toBe(`1 ${long}, done ____ 2 and in, reads 1.956, done ____`);
});

test.each(sampleNames)('%s: the plan fits a screen of forty rows and eighty columns', async (name) => {
  const world = createWorld();
  try {
    const { out } = await world.run(['plan', `samples/${name}.yaml`]);
    const lines = fitted(out, 80).trimEnd().split('\n');
    expect(lines.length).toBeLessThanOrEqual(40);
    for (const line of lines) expect(line.length).toBeLessThanOrEqual(80);
  } finally {
    world.remove();
  }
});
