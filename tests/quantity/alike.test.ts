import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { alike } from '../../src/quantity/alike.js';

describe('what says the same of itself', () => {
  test('shares a row, all of it, in its order, rows by their first', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 9 })), (things) => {
        const rows = alike(things, (thing) => `${thing % 3}`);
        expect(rows.flatMap(([, group]) => group).toSorted()).toEqual(things.toSorted());
        for (const [said, group] of rows) {
          expect(group).toEqual(things.filter((thing) => `${thing % 3}` === said));
        }
        const firsts = rows.map(([said]) => things.findIndex((thing) => `${thing % 3}` === said));
        expect(firsts).toEqual(firsts.toSorted((a, b) => a - b));
      }),
    );
  });
});
