/** What a log says of a shop, and that a log cut short anywhere says what its whole lines say. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readLog } from '../../src/file/log.js';
import { learn } from '../../src/measure/learn.js';

const roughed = (raised: number, more: object = {}) => ({
  stage: 'roughed' as const,
  warm: 0,
  raised,
  ...more,
});

describe('what runs propose', () => {
  test('a spread of the touch-off is two standard deviations of the rim found too high', () => {
    // Source: worked by hand; 0.01, 0.02, 0.03 have the mean 0.02 and the sample deviation 0.01.
    const { proposals, bias } = learn([roughed(0.01), roughed(0.02), roughed(0.03)]);
    expect(proposals).toEqual([{ key: 'spreads.touchOff', value: expect.closeTo(0.02, 12), from: 3 }]);
    expect(bias).toBeCloseTo(0.02, 12);
  });

  test('two runs tell no spread, and scatter about nothing no bias', () => {
    expect(learn([roughed(0.01), roughed(0.02)]).proposals).toEqual([]);
    expect(learn([roughed(-0.01), roughed(0.011), roughed(0)]).bias).toBe('none');
  });

  test('grinding ratios are averaged as ratios: of 2 and 8 the middle is 4', () => {
    const { proposals } = learn([roughed(0, { grindingRatio: 2 }), roughed(0, { grindingRatio: 8 })]);
    expect(proposals).toEqual([{ key: 'wheel.grindingRatio', value: expect.closeTo(4, 12), from: 2 }]);
  });

  test('a finished punch says nothing of the first touch, a warm one how warm', () => {
    const finished = { stage: 'finished' as const, warm: 12, raised: 0.4 };
    expect(learn([finished, finished, finished]).proposals).toEqual([
      { key: 'spreads.temperature', value: 12, from: 3 },
    ]);
  });
});

describe('the log', () => {
  const entry = (raised: number): string =>
    `\n- ${JSON.stringify({ at: '2026-01-05T10:00:00Z', stage: 'roughed', warm: 0, raised })}\n`;
  const whole = [0.01, 0.02, 0.03].map(entry).join('');

  test('cut short at any byte, every entry before the cut reads, and what is cut is counted', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: whole.length }), (at) => {
        const { runs, unread } = readLog(whole.slice(0, at));
        const complete = [0.01, 0.02, 0.03].filter(
          (_, i) =>
            at >=
            [0.01, 0.02, 0.03]
              .slice(0, i + 1)
              .map(entry)
              .join('').length -
              1,
        );
        expect(runs.map(({ raised }) => raised)).toEqual(complete);
        expect(unread).toBeLessThanOrEqual(1);
      }),
    );
  });

  test('what was cut short stays by itself: the next entry reads', () => {
    const { runs, unread } = readLog(`${whole.slice(0, -20)}${entry(0.05)}`);
    expect(runs.map(({ raised }) => raised)).toEqual([0.01, 0.02, 0.05]);
    expect(unread).toBe(1);
  });
});
