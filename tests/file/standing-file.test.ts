/** How a punch stands, written and read again: short numbers, the same punch, always stairs. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readStandingFile, standingText } from '../../src/file/standing-file.js';
import { afterStroke, type Floor, type Standing } from '../../src/job/standing.js';
import { mm, rad } from '../../src/quantity/unit.js';
import { sampleJob } from '../arbitrary/samples.js';

const job = sampleJob('stem-bolt-hex-5');
const read = (text: string): Standing => readStandingFile({ file: 'stands.yaml', text }, job);
const number = (min: number, max: number): fc.Arbitrary<number> => fc.double({ min, max, noNaN: true });
const floor: fc.Arbitrary<Floor> = fc.record({ reach: number(-12, 1), w: number(0.5, 4) });
const strokes = fc.array(floor, { minLength: 1, maxLength: 12 });

describe('a file of how a punch stands', () => {
  test('written and read it is the same punch, to the last decimal', () => {
    fc.assert(
      fc.property(strokes, number(0, 2 * Math.PI), number(0, 0.9), (made, at, higher) => {
        const floors = made.reduce<readonly Floor[]>(afterStroke, []);
        const text = standingText(job, [{ at: rad(at), higher: mm(higher), floors }]);
        const [flat] = read(text);
        const turned = Math.abs((flat?.at ?? 9) - at);
        expect(Math.min(turned, 2 * Math.PI - turned)).toBeLessThan(1e-10);
        expect(Math.abs((flat?.higher ?? 9) - higher)).toBeLessThanOrEqual(1e-9);
        // Every stair is there, but for those that a picometre tells apart.
        for (const { reach, w } of floors) {
          const near = flat?.floors.some(
            (each) => Math.abs(each.reach - reach) < 2e-9 && Math.abs(each.w - w) < 2e-9,
          );
          const outdone = floors.some(
            (other) =>
              (other.reach !== reach || other.w !== w) && other.reach <= reach + 2e-9 && other.w <= w + 2e-9,
          );
          expect(near === true || outdone).toBe(true);
        }
      }),
    );
  });

  test('stairs closer than the last decimal are still stairs', () => {
    const close = fc.array(fc.record({ reach: number(-1e-8, 1e-8), w: number(2, 2 + 1e-8) }), {
      minLength: 1,
      maxLength: 9,
    });
    fc.assert(
      fc.property(close, (made) => {
        const ends = [...new Set(made.map(({ reach }) => reach))].toSorted((a, b) => a - b);
        const heights = [...new Set(made.map(({ w }) => w))].toSorted((a, b) => b - a);
        const floors = ends.slice(0, heights.length).map((reach, i) => ({ reach, w: heights[i] ?? 0 }));
        const [flat] = read(standingText(job, [{ at: rad(0), higher: mm(0), floors }]));
        expect(flat?.floors.length).toBeGreaterThan(0);
        // The lowest of all is the flat itself.
        expect(Math.abs((flat?.floors.at(-1)?.w ?? 0) - (floors.at(-1)?.w ?? 9))).toBeLessThan(2e-9);
      }),
    );
  });

  test('numbers are as short as they were meant: 60, 2.5, and a hair under a turn is none', () => {
    const flat = (at: number) => ({
      at: rad(at),
      higher: mm(0.02),
      floors: [{ reach: -10.1, w: 0.1 + 0.2 }],
    });
    const text = standingText(job, [flat(Math.PI / 3), flat(2 * Math.PI - 1e-15)]);
    expect(text).toContain('at: 60\n');
    expect(text).toContain('at: 0\n');
    expect(text).toContain('relief: 2.5\n');
    expect(text).toContain('floors: [[-10.1, 0.3]]');
    expect(read(text)).toHaveLength(2);
  });
});
