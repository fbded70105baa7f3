/**
 * Sources: the worked stack of 58.345 mm (National Physical Laboratory, FAQ Length, 2010); sine-bar heights by
 * Machinery's Handbook 5-inch constants; what can and cannot be stacked, by exhaustive search (derived).
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readGaugeSets } from '../../src/file/gauge-table.js';
import type { GaugeSet } from '../../src/job/gauge.js';
import { mm } from '../../src/quantity/unit.js';
import { type Stack, stackFor } from '../../src/sheet/gauge.js';
import { sampleJob, shippedTexts } from '../arbitrary/samples.js';

const sets = readGaugeSets(shippedTexts.gaugeBlocks());
function set(name: string): GaugeSet {
  const found = sets.find((each) => each.name === name);
  if (found === undefined) throw new Error(`no set ${name}`);
  return found;
}
const inch = 25.4;

/** The stack sums to what it says, every block is in the set and none is used twice. */
function holds(of: GaugeSet, stack: Stack | 'impossible', height: number): void {
  if (stack === 'impossible') throw new Error('a stack');
  const scale = of.units === 'mm' ? 2000 : 10_000;
  const steps = (value: number): number => Math.round(value * scale);
  const sum = stack.blocks.reduce((all, block) => all + steps(block), 0);
  const base = stack.base === 'none' ? 0 : steps(stack.base);
  expect(sum - base).toBe(steps(height));
  const used = [...stack.blocks, ...(stack.base === 'none' ? [] : [stack.base])].map(steps);
  expect(new Set(used).size).toBe(used.length);
  for (const block of used) expect(of.blocks).toContain(block);
  expect(stack.blocks.length).toBeLessThanOrEqual(5);
}

describe('what the sets hold', () => {
  test.each([
    ['metric 112', 112],
    ['metric 88', 88],
    ['metric 87', 87],
    ['metric 56', 55],
    ['metric 47', 47],
    ['metric 45', 45],
    ['inch 81', 81],
  ])('%s: %i blocks, no two alike (25 of the 56 is printed twice)', (name, count) => {
    expect(set(name).blocks.length).toBe(count);
    expect(new Set(set(name).blocks).size).toBe(count);
  });

  test('a set that is not known names the nearest', () => {
    const job = (): unknown =>
      sampleJob('stem-bolt-hex-5', ['sineBar: 100', 'sineBar: 100, gaugeBlocks: metric 86']);
    expect(job).toThrow(/no set known here; did you mean metric 8\d\?/);
  });
});

describe('stacks', () => {
  test.each([
    ['metric 112', 58.345, 4],
    ['metric 88', 3.4905, 3],
    ['metric 87', 3.49, 2],
    ['metric 88', 3.49, 2],
    ['metric 87', 5.234, 3],
    ['metric 88', 5.234, 3],
    ['metric 88', 5.2335, 4],
  ])('%s makes %f mm of %i blocks', (name, height, count) => {
    const stack = stackFor(set(name), mm(height));
    holds(set(name), stack, height);
    expect(stack !== 'impossible' && [stack.blocks.length, stack.base]).toEqual([count, 'none']);
  });

  test.each([
    [0.4358, 3],
    [0.2617, 3],
    [0.8682, 3],
    [2.5, 2],
  ])('inch 81 makes %f in of %i blocks (5-inch sine bar at 5, 3, 10 and 30 deg)', (height, count) => {
    const stack = stackFor(set('inch 81'), mm(height * inch));
    holds(set('inch 81'), stack, height);
    expect(stack !== 'impossible' && [stack.blocks.length, stack.base]).toEqual([count, 'none']);
  });

  test.each([
    ['metric 88', 1.745, 1],
    ['metric 87', 1.745, 1],
    ['inch 81', 0.0873, inch],
    ['inch 81', 0.1745, inch],
  ])('%s cannot make %f alone: a base block goes under the lower roll', (name, height, factor) => {
    const stack = stackFor(set(name), mm(height * factor));
    holds(set(name), stack, height);
    expect(stack !== 'impossible' && stack.base).not.toBe('none');
  });

  test('two wear blocks count as part of the height', () => {
    const stack = stackFor(set('metric 88'), mm(4.362), mm(1));
    holds(set('metric 88'), stack, 2.362);
  });

  test('any height of a sine bar on 100 or 200 mm can be made with the 88 set, exactly', () => {
    fc.assert(
      fc.property(fc.integer({ min: 3000, max: 60_000 }), (steps) => {
        const height = steps / 2000;
        holds(set('metric 88'), stackFor(set('metric 88'), mm(height)), height);
      }),
      { numRuns: 150, endOnFailure: true },
    );
  });
});
