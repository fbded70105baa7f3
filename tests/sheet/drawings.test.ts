/** What the drawings of the sheet show, measured in them: which end is raised, where the wheel stands at a touch. */
import { describe, expect, test } from 'vitest';
import { planJob } from '../../src/plan/plan.js';
import { drawSide } from '../../src/sheet/draw/side.js';
import { drawSlope } from '../../src/sheet/draw/slope.js';
import { drawTouch } from '../../src/sheet/draw/touch.js';
import { sampleJob } from '../arbitrary/samples.js';

type Point = readonly [number, number];

/** Every polygon of a class, as points with y up. */
const polygons = (svg: string, of: string): readonly (readonly Point[])[] =>
  [...svg.matchAll(new RegExp(`<polygon class="${of}" points="([^"]+)"`, 'g'))].map(([, points = '']) =>
    points.split(' ').map((point): Point => {
      const [x = Number.NaN, y = Number.NaN] = point.split(',').map(Number);
      return [x, -y];
    }),
  );
const circles = (svg: string): readonly (readonly [number, number, number])[] =>
  [...svg.matchAll(/<circle class="solid" cx="([^"]+)" cy="([^"]+)" r="([^"]+)"/g)].map(
    ([, x, y, r]) => [Number(x), -Number(y), Number(r)] as const,
  );
const of = (name: string, ...exchanges: readonly (readonly [string, string])[]) =>
  planJob(sampleJob(name, ...exchanges));

describe('what sets the slope', () => {
  test('a sine bar: the roll at the shank end stands higher by L sin t, the tip points down to the right', () => {
    const svg = drawSlope(of('stem-bolt-hex-5')).text;
    const [low, high] = circles(svg);
    // Source: 100 mm x sin 2.5 deg = 4.362.
    expect((high?.[1] ?? 0) - (low?.[1] ?? 0)).toBeCloseTo(4.362, 1);
    expect(high?.[0]).toBeCloseTo(-100 * Math.cos((2.5 * Math.PI) / 180), 1);
    // The blank is the last piece drawn; its right end lies lower than its left.
    const blank = polygons(svg, 'metal').at(-1) ?? [];
    const [right, left] = [blank[0] ?? [0, 0], blank[1] ?? [0, 0]];
    expect(right[0]).toBeGreaterThan(left[0]);
    expect(Math.atan2(left[1] - right[1], right[0] - left[0]) * (180 / Math.PI)).toBeCloseTo(2.5, 1);
    expect(svg).toMatch(/shank end raised: blocks 4.362 mm under the roll/);
  });

  test('a pin touches the plate from below: its centre is its radius from the plate, over the table', () => {
    const svg = drawSlope(
      of('stem-bolt-hex-5', [
        'slope: { by: fixture, sineBar: 100 }',
        'slope: { by: fixture, using: pin, drawer: { pins: [4] } }',
      ]),
    ).text;
    const [pin] = circles(svg);
    const t = (2.5 * Math.PI) / 180;
    expect(pin?.[1]).toBeCloseTo(2, 2);
    const distance = -(pin?.[0] ?? 0) * Math.sin(t) - (pin?.[1] ?? 0) * Math.cos(t);
    expect(distance).toBeCloseTo(2, 1);
  });

  test.each(['crank-bolt-hex-8', 'pedal-pin-pentagon-lathe'])(
    '%s: a tilted head, or a plate that stands upright, is not drawn lying on a table',
    (name) => {
      expect(drawSlope(of(name)).text).toBe('');
    },
  );
});

describe('where the wheel stands to find the zero', () => {
  test('the edge of the face first, the rim below it; then over the top, its corner on the blank behind the tip', () => {
    const svg = drawTouch(of('stem-bolt-hex-5')).text;
    const [beside, over] = polygons(svg, 'bold');
    const [blank] = polygons(svg, 'metal');
    const corner = blank?.[1] ?? [0, 0];
    const innerFoot = (wheel: readonly Point[] | undefined): Point => wheel?.[1] ?? [0, 0];
    expect(innerFoot(beside)[0]).toBeCloseTo(corner[0], 2);
    expect(corner[1] - innerFoot(beside)[1]).toBeCloseTo(1, 2);
    expect(corner[0] - innerFoot(over)[0]).toBeCloseTo(2, 2);
    // On the blank's top, which rises toward the shank.
    expect(innerFoot(over)[1] - corner[1]).toBeCloseTo(2 * Math.tan((2.5 * Math.PI) / 180), 1);
  });

  test('a tip that points to -X points to the left', () => {
    const job = sampleJob('stem-bolt-hex-5');
    const turned = planJob({ ...job, machine: { ...job.machine, layout: 'mill, tool along -X' } });
    for (const [svg, way] of [
      [drawTouch(planJob(job)).text, 1],
      [drawTouch(turned).text, -1],
    ] as const) {
      const [shank, corner] = polygons(svg, 'metal')[0] ?? [];
      expect(Math.sign((corner?.[0] ?? 0) - (shank?.[0] ?? 0))).toBe(way);
    }
  });
});

test('the side view breaks the cup off where it goes on', () => {
  expect(drawSide(of('stem-bolt-hex-5')).text.match(/<polyline class="thin"/g)).toHaveLength(1);
});
