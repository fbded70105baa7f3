import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { checkPrograms } from '../../src/check/dry-run.js';
import { fromRectangle } from '../../src/check/run/fixture.js';
import { clearOf } from '../../src/check/run/place.js';
import { sampleJob } from '../arbitrary/samples.js';
import { samplePrograms } from '../scripts/sample-programs.js';

const HEX = 'stem-bolt-hex-5';
const [program] = samplePrograms(HEX);
const codes = (boxes: string): readonly string[] => {
  const job = sampleJob(HEX, ['index: rotary axis', `index: rotary axis\n  ${boxes}`]);
  return checkPrograms([{ name: 'p.nc', text: program?.text ?? '' }], job).findings.map(({ code }) => code);
};

describe('the fixture given in the job', () => {
  test.each([
    [
      'a clamp bar beside the wheel, too near',
      'boxes: [{name: clamp bar, x: [20, 40], y: [30, 50], z: [-30, 5]}]',
      true,
    ],
    ['the same bar, farther off', 'boxes: [{name: clamp bar, x: [20, 40], y: [41, 61], z: [-30, 5]}]', false],
    [
      'the same bar, below the rim at its lowest',
      'boxes: [{name: clamp bar, x: [20, 40], y: [30, 50], z: [-30, -0.6]}]',
      false,
    ],
    ['a table below', 'table: -40', false],
    ['a table above the lowest pass', 'table: 2.6', true],
  ])('%s', (_, boxes, refused) => {
    expect(codes(boxes).includes('wheel-meets-fixture')).toBe(refused);
    if (!refused) expect(codes(boxes)).toEqual([]);
  });
});

test('distance from a segment to a rectangle is the least over points of both', () => {
  const n = fc.double({ min: -10, max: 10, noNaN: true });
  fc.assert(
    fc.property(n, n, n, n, (x1, y1, x2, y2) => {
      const [a, b] = [
        { x: x1, y: y1, z: 0 },
        { x: x2, y: y2, z: 0 },
      ];
      const box = { left: -2, right: 3, near: -1, far: 4 };
      const distance = fromRectangle(a, b, box);
      let sampled = Number.POSITIVE_INFINITY;
      for (let i = 0; i <= 400; i += 1) {
        const [x, y] = [x1 + ((x2 - x1) * i) / 400, y1 + ((y2 - y1) * i) / 400];
        sampled = Math.min(sampled, Math.hypot(Math.max(-2 - x, 0, x - 3), Math.max(-1 - y, 0, y - 4)));
      }
      expect(distance).toBeLessThanOrEqual(sampled + 1e-9);
      expect(distance).toBeGreaterThan(sampled - 0.1);
    }),
    { seed: 21, numRuns: 500 },
  );
});

describe('the order of indexes by hand', () => {
  const SQUARE = 'bearing-cap-square-8';
  const good = samplePrograms(SQUARE)[0]?.text ?? '';
  const findings = (text: string) => checkPrograms([{ name: 'p.nc', text }], sampleJob(SQUARE)).findings;

  test('two flats exchanged are out of order', () => {
    const exchanged = good
      .replace('INDEX TO 90 DEG - FLAT 2', 'INDEX TO 180 DEG - FLAT x')
      .replace('INDEX TO 180 DEG - FLAT 3', 'INDEX TO 90 DEG - FLAT 2')
      .replace('FLAT x', 'FLAT 3');
    expect(findings(exchanged).map(({ code }) => code)).toContain('index-out-of-order');
  });

  test('an index that nothing is ground at is said', () => {
    const stop = good.indexOf('(INDEX TO 90 DEG');
    const end = good.indexOf('M0\n', stop) + 3;
    const twice = good.slice(0, end) + good.slice(stop, end) + good.slice(end);
    expect(findings(twice).map(({ code }) => code)).toContain('index-again');
  });
});

describe('over everything', () => {
  test('with a tilted head the rim dips on the shank side: it must stand that much higher over a box', () => {
    // Source: derived; top of the box + Rw sin t + clearance, less the rounding of two words.
    const job = sampleJob('crank-bolt-hex-8', [
      'slope: { by: head }',
      'slope: { by: head }\n  boxes: [{ name: vice, x: [-60, -40], y: [-20, 20], z: [-40, 30] }]',
    ]);
    const over = 30 + job.wheel.radius * Math.sin(job.punch.relief) + job.grinding.clearance;
    const { overAll } = clearOf(job);
    expect([overAll(over), overAll(over - 0.01)]).toEqual([true, false]);
  });
});
