import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { fromMachine, type LayoutName, layouts, rotarySign, toMachine } from '../../src/job/layout.js';
import { rad } from '../../src/quantity/unit.js';

const names = Object.keys(layouts) as LayoutName[];
const coordinate = fc.double({ min: -500, max: 500, noNaN: true });

describe.each(names)('%s', (name) => {
  const layout = layouts[name];
  const ways = layout.slopes;

  test.each(ways)('by %s: the inverse undoes the map', (by) => {
    fc.assert(
      fc.property(
        coordinate,
        coordinate,
        coordinate,
        fc.double({ min: 0, max: 0.3, noNaN: true }),
        (u, v, w, t) => {
          const slope = { by, angle: rad(t) };
          const across = layout.across === 'none' ? 0 : v;
          const back = fromMachine(layout, slope, toMachine(layout, slope, { u, v: across, w }));
          expect(Math.hypot(back.u - u, back.v - across, back.w - w)).toBeLessThan(1e-9);
        },
      ),
      { seed: 11 },
    );
  });

  test('keeps distance, and on a mill handedness', () => {
    const slope = { by: 'fixture', angle: rad(0.04) } as const;
    const at = (u: number, v: number, w: number): readonly number[] => {
      const { x, y, z } = toMachine(layout, slope, { u, v, w });
      return [layout.xWritten === 'diameter' ? x / 2 : x, y, z];
    };
    const [u, v, w] = [at(1, 0, 0), at(0, 1, 0), at(0, 0, 1)];
    expect(Math.hypot(...u)).toBe(1);
    expect(Math.hypot(...w)).toBe(1);
    if (layout.across === 'none') return;
    const cross = (a: readonly number[], b: readonly number[]): number[] => [
      (a[1] ?? 0) * (b[2] ?? 0) - (a[2] ?? 0) * (b[1] ?? 0),
      (a[2] ?? 0) * (b[0] ?? 0) - (a[0] ?? 0) * (b[2] ?? 0),
      (a[0] ?? 0) * (b[1] ?? 0) - (a[1] ?? 0) * (b[0] ?? 0),
    ];
    for (const [i, value] of cross(u, v).entries()) expect(value).toBeCloseTo(w[i] ?? Number.NaN, 12);
  });
});

test('a lathe that chucks the punch brings the wheel in along X, its tip toward +Z', () => {
  const layout = layouts['lathe, punch in the spindle, X as diameter'];
  const slope = { by: 'head', angle: rad(0.05) } as const;
  const { x, y, z } = toMachine(layout, slope, { u: 10, v: 0, w: 2 });
  // Rotation by t about v: x' = u cos t - w sin t, z' = u sin t + w cos t; X is a diameter.
  expect(z).toBeCloseTo(10 * Math.cos(0.05) - 2 * Math.sin(0.05), 12);
  expect(x).toBeCloseTo(2 * (10 * Math.sin(0.05) + 2 * Math.cos(0.05)), 12);
  expect(y).toBe(0);
});

test('with the head tilted a stroke toward the tip rises by the sine of the tilt', () => {
  const layout = layouts['mill, tool along +X'];
  const slope = { by: 'head', angle: rad(0.05) } as const;
  const [a, b] = [
    toMachine(layout, slope, { u: 0, v: 0, w: 2 }),
    toMachine(layout, slope, { u: 10, v: 0, w: 2 }),
  ];
  expect(b.x - a.x).toBeCloseTo(10 * Math.cos(0.05), 12);
  expect(b.z - a.z).toBeCloseTo(10 * Math.sin(0.05), 12);
});

test('a tool that points the other way turns the index about', () => {
  expect(rotarySign(layouts['mill, tool along +X'], 'standard')).toBe(1);
  expect(rotarySign(layouts['mill, tool along -X'], 'standard')).toBe(-1);
  expect(rotarySign(layouts['mill, tool along -X'], 'reversed')).toBe(1);
});
