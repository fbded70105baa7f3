/** An indexing block to make, against sizes worked by hand, against solids cut in space, and readings made of a crooked one. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { BlockError, designBlock, holeOver, measureBlock, sidesFor } from '../../src/hand/block.js';
import { planJob } from '../../src/plan/plan.js';
import { radFromDeg } from '../../src/quantity/angle.js';
import { mm } from '../../src/quantity/unit.js';
import { blockSheet } from '../../src/sheet/hand/block.js';
import { blockPicture } from '../../src/sheet/page.js';
import { sampleJob } from '../arbitrary/samples.js';

const BELL = 'by-hand/bell-cap-square-5';

describe('30 across at the tip, 40 long, 2.5 deg', () => {
  const square = designBlock(sampleJob(BELL), 'sloping');

  test('rear 33.49, from round stock of 47.4', () => {
    // 30 + 2 x 40 tan 2.5 deg = 33.493; / cos 45 deg = 47.37
    expect(square.rear).toBeCloseTo(33.493, 3);
    expect(square.roundStock).toBeCloseTo(47.37, 2);
    expect(square.milledHeight).toBeCloseTo(15 * Math.cos(radFromDeg(2.5)), 9);
  });

  test('a hex from 38.7', () => {
    const hex = designBlock(
      sampleJob(BELL, ['section: square', 'section: hex'], ['sides: 4', 'sides: 6']),
      'sloping',
    );
    expect(hex.roundStock).toBeCloseTo(38.67, 2);
  });

  test('plain, both ends are alike', () => {
    const plain = designBlock(sampleJob(BELL), 'plain');
    expect(plain).toMatchObject({ slope: 0, front: 30, rear: 30 });
  });

  test('laid on any side, its bore points down by the relief', () => {
    // Two points of the side plane of side k, in the block's frame: x along the bore toward the tip, the side at Hf - x tan t.
    const t = square.slope;
    const at = (x: number): number => square.front / 2 - x * Math.tan(t);
    const plane = Math.atan2(at(-square.length) - at(0), square.length);
    expect(plane).toBeCloseTo(radFromDeg(2.5), 12);
    expect(2 * at(-square.length)).toBeCloseTo(square.rear, 12);
  });
});

test('holes: H7 of 8 is +0.015, of 6 +0.012, of 12 +0.018 (ISO 286-2, from memory)', () => {
  expect([8, 6, 12, 3, 25].map((d) => holeOver(mm(d)))).toEqual([0.015, 0.012, 0.018, 0.01, 0.021]);
  expect(() => holeOver(mm(81))).toThrow(BlockError);
});

describe('how many sides', () => {
  test('as many as flats where they are even, twice where odd: a flat faces a corner', () => {
    expect(sidesFor(sampleJob(BELL))).toEqual([4, 8, 12]);
    expect(sidesFor(sampleJob('valve-cap-triangle'))).toEqual([6, 12]);
    expect(sidesFor(sampleJob('pedal-pin-pentagon-lathe'))).toEqual([10]);
    expect(designBlock(sampleJob('pedal-pin-pentagon-lathe'), 'sloping').sides).toBe(10);
  });

  test('one that has no side down for every flat is refused with those that do', () => {
    const job = sampleJob('valve-cap-triangle', ['sides: 6', 'sides: 9']);
    expect(() => designBlock(job, 'plain')).toThrow(
      /a block of 9 sides has none down for every flat; 6, 12 have/,
    );
  });

  test('too little wall for a screw says how much across would do', () => {
    const job = sampleJob(BELL, ['across: 30', 'across: 12']);
    expect(() => designBlock(job, 'plain')).toThrow(/only 2\.243 mm of wall.* 15\.515 mm across/);
  });

  test('a square blank has no bore', () => {
    expect(() => designBlock(sampleJob('crank-bolt-hex-8'), 'plain')).toThrow(/a bore holds a round blank/);
  });
});

describe('measured with a pin', () => {
  test('what is put into a block comes out: bore off, own errors, slope', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(4, 6, 8, 10),
        fc.double({ min: 0, max: 0.05, noNaN: true }),
        fc.double({ min: 0, max: 2 * Math.PI, noNaN: true }),
        fc.double({ min: 1, max: 5, noNaN: true }),
        fc.array(fc.double({ min: -0.01, max: 0.01, noNaN: true }), { minLength: 10, maxLength: 10 }),
        (sides, by, toward, slopeDeg, own) => {
          const t = radFromDeg(slopeDeg);
          // With side k down the bore stands lower when it lies toward that side.
          const front = Array.from({ length: sides }, (_, k) =>
            mm(20 + (own[k] ?? 0) - by * Math.cos((2 * Math.PI * k) / sides - toward)),
          );
          const rear = front.map((read) => mm(read + 25 * Math.tan(t)));
          const found = measureBlock(front, rear, mm(25), sides);
          for (const side of found.sides) expect(side.slope).toBeCloseTo(t, 9);
          const least = Math.min(...front);
          for (const [k, { off }] of found.sides.entries())
            expect(off).toBeCloseTo((front[k] ?? 0) - least, 12);
          if (own.slice(0, sides).every((each) => each === 0)) expect(found.fit.by).toBeCloseTo(by, 9);
        },
      ),
    );
  });

  test('a reading left out is said', () => {
    const three = [1, 2, 3].map(mm);
    expect(() => measureBlock(three, three, mm(20), 4)).toThrow(/3 readings at the front, 4 sides/);
    expect(() => measureBlock(three, three, mm(0), 3)).toThrow(/must lie apart/);
  });
});

test('the drawing stands by itself, with every size on it', () => {
  const job = sampleJob(BELL);
  const svg = blockPicture(blockSheet(job, designBlock(job, 'sloping'), 'none'));
  expect(svg).toMatch(/^<svg xmlns="http:\/\/www\.w3\.org\/2000\/svg" viewBox/);
  for (const size of ['30 mm', '33.493 mm', '40 mm', 'bore 7.5 mm +0.015 mm', '2.5 deg'])
    expect(svg).toContain(`>${size}<`);
  for (const side of [1, 2, 3, 4]) expect(svg).toContain(`>${side}</text>`);
});

test('a job held in such a block is planned like any other', () => {
  expect(planJob(sampleJob(BELL)).findings).toEqual([]);
});
