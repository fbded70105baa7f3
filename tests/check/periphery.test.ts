/**
 * A plain wheel on its periphery, against a judge that shares no code with the checker: the punch's top along the centre line
 * as a row of narrow columns, the wheel as a circle over them. Its figures against circle geometry worked by hand.
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { checkPrograms } from '../../src/check/dry-run.js';
import { linesOf } from '../../src/check/read/lines.js';
import { createTracer } from '../../src/check/read/trace.js';
import { highestUnder, stockAfter, stockOf } from '../../src/check/run/stock.js';
import { readJob } from '../../src/file/read.js';
import type { Job } from '../../src/job/job.js';
import type { Floor } from '../../src/job/standing.js';
import { planJob } from '../../src/plan/plan.js';
import { postProgram } from '../../src/post/program.js';
import { radFromDeg } from '../../src/quantity/angle.js';
import { mm } from '../../src/quantity/unit.js';
import { besideEdge, halfChord, liftAt, runOut, tangentRise } from '../../src/wheel/periphery.js';
import { sampleText, shippedTexts } from '../arbitrary/samples.js';

/** The sample for hand wheels, on a machine with a rotary axis. */
const jobOf = (...edits: readonly (readonly [from: string, to: string])[]): Job => {
  const own = [
    ['machine: hand-surface-grinder', 'machine: horizontal-mill-rotary'],
    ['index: by hand', 'index: rotary axis'],
    ['  device: { kind: indexing block, sides: 6, length: 40 }\n', ''],
    ['spindleSpeed: 2850', 'spindleSpeed: 2850\n  strokeSpeed: 3000'],
    ...edits,
  ] as const;
  const text = own.reduce((before, [from, to]) => {
    if (!before.includes(from)) throw new Error(`no "${from}"`);
    return before.replace(from, to);
  }, sampleText('by-hand/saddle-pin-hex-6'));
  return readJob({ file: 'plain.yaml', text }, shippedTexts);
};

const job = jobOf();
const posted = postProgram(planJob(job)).text;
const checked = (text: string) => checkPrograms([{ name: 'p.nc', text }], job);

describe('figures', () => {
  // R / cos t - u tan t - h cos t of the hex 5.06 on 8 mm round, 10 long, 2.5 deg, at the end of its flats.
  const t = radFromDeg(2.5);
  const u = 2.53 * Math.sin(t) - 10 / Math.cos(t);
  const over = (x: number): number => 4 / Math.cos(t) - (u - x) * Math.tan(t) - 2.53 * Math.cos(t);

  test.each([
    [50, 48],
    [90, 86],
  ])('a wheel of radius %f rolls %f um over a slope of 2.5 deg', (radius, micrometres) => {
    expect(1000 * tangentRise(mm(radius), t)).toBeCloseTo(micrometres, 0);
  });

  test.each([
    [50, 15.9],
    [75, 20.3],
    [90, 22.7],
    [100, 24.2],
  ])('behind the flats a wheel of radius %f runs out over %f mm', (radius, length) => {
    // Found by halving: where the curve comes up through the raw top.
    let [near, far] = [0, radius];
    for (let i = 0; i < 60; i += 1) {
      const x = (near + far) / 2;
      if (liftAt(x, mm(radius)) < over(x)) near = x;
      else far = x;
    }
    expect(near).toBeCloseTo(length, 1);
    expect(runOut(mm(radius), over(0), t)).toBeCloseTo(near, 9);
  });

  test('half a chord, and the height it stands at, undo each other', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 5, max: 200, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (radius, share) => {
          const height = share * radius * 0.999;
          expect(liftAt(halfChord(mm(radius), height), mm(radius))).toBeCloseTo(height, 6);
        },
      ),
    );
  });
});

/** Columns of this width. */
const STEP = 0.01;

/** The top of metal along the centre line after strokes, column by column, and how low a wheel may stand over it. */
function columns(support: number, slope: number, radius: number, edge: number, strokes: readonly Floor[]) {
  const from = -60;
  const count = Math.floor((edge - from) / STEP) + 1;
  const at = (i: number): number => from + i * STEP;
  const lift = (x: number): number =>
    Math.abs(x) >= radius ? Number.POSITIVE_INFINITY : radius - Math.sqrt(radius * radius - x * x);
  const top = Array.from({ length: count }, (_, i) => {
    const raw = support / Math.cos(slope) - at(i) * Math.tan(slope);
    return strokes.reduce(
      (least, { reach, w }) => Math.min(least, at(i) >= reach ? w : w + lift(reach - at(i))),
      raw,
    );
  });
  return (u: number): number =>
    top.reduce((highest, height, i) => {
      const rise = lift(at(i) - u);
      return Number.isFinite(rise) ? Math.max(highest, height - rise) : highest;
    }, Number.NEGATIVE_INFINITY);
}

test('the highest under it, after any strokes, is what columns say', () => {
  const slope = radFromDeg(2.5);
  const floor = fc.record({
    reach: fc.double({ min: -12, max: 0, noNaN: true }),
    w: fc.double({ min: 2, max: 4.4, noNaN: true }),
  });
  fc.assert(
    fc.property(
      fc.array(floor, { maxLength: 5 }),
      fc.double({ min: -14, max: 20, noNaN: true }),
      fc.constantFrom(20, 50, 90),
      (strokes, u, radius) => {
        const edge = 4 * Math.sin(slope);
        const empty = stockOf({ support: mm(4), edge: mm(edge), slope, floors: [], periphery: mm(radius) });
        const stock = strokes.reduce(stockAfter, empty);
        const ours = highestUnder(stock, u);
        const theirs = columns(4, slope, radius, edge, strokes)(u);
        fc.pre(theirs > 0);
        // A column may miss the highest place by half its width times the steepest curve there.
        expect(Math.abs(ours - theirs)).toBeLessThan(0.01);
        expect(ours).toBeGreaterThanOrEqual(theirs - 0.002);
      },
    ),
    { seed: 20, numRuns: 120 },
  );
});

const NONE: Floor[] = [];

/** Deepest bite of every feed move of a program and of every rapid, by columns; nothing of the checker in it. */
function bites(
  text: string,
  { punch, blank, wheel, machine }: Job,
): { readonly feed: number; readonly rapid: number } {
  const tracer = createTracer(machine);
  const rows = linesOf(text).flatMap((line) => tracer.line(line));
  const t = punch.relief;
  const edge = (blank.size / 2) * Math.sin(t);
  const ground = new Map<number, Floor[]>();
  let [feed, rapid] = [0, 0];
  let at: { readonly x: number; readonly z: number; readonly a: number } | 'unknown' = 'unknown';
  let over:
    | { readonly a: number; readonly strokes: readonly Floor[]; readonly look: (u: number) => number }
    | 'none' = 'none';
  for (const row of rows) {
    if (row.motion === undefined || row.x === undefined || row.z === undefined || row.a === undefined)
      continue;
    const a = ((row.a % 360) + 360) % 360;
    const strokes = ground.get(a) ?? NONE;
    if (over === 'none' || over.a !== a || over.strokes !== strokes)
      over = {
        a,
        strokes,
        look: columns(blank.size / 2, t, wheel.diameter / 2, edge, strokes),
      };
    // A level or upright move is deepest at an end.
    const depth = over.look(row.x) - row.z;
    if (row.motion === 'rapid') rapid = Math.max(rapid, depth);
    else feed = Math.max(feed, depth);
    if (at !== 'unknown' && row.motion === 'feed' && row.z === at.z && row.x < at.x) {
      const cut = { reach: mm(row.x), w: mm(row.z) };
      ground.set(a, [...strokes.filter(({ w, reach }) => w < cut.w || reach < cut.reach), cut]);
    }
    at = { x: row.x, z: row.z, a };
  }
  return { feed, rapid };
}

describe('a program for it', () => {
  test('is good, and leaves the flats ordered, full width to their length', () => {
    const { findings, punch } = checked(posted);
    expect(findings).toEqual([]);
    for (const { distance, lengthAtCorners } of punch.flats) {
      expect(Math.abs(distance - 3.03)).toBeLessThanOrEqual(0.001);
      expect(lengthAtCorners).toBeCloseTo(9, 2);
    }
  });

  test('bites no deeper than its infeed, and no rapid meets metal, by columns too', () => {
    // One flat, roughed: its first strokes, where the wheel rolls over the slope, and the corner of the tip.
    const first = posted.split('\n').slice(0, 320).join('\n');
    const { feed, rapid } = bites(first, job);
    expect(feed).toBeGreaterThan(0.01);
    expect(feed).toBeLessThanOrEqual(job.grinding.roughInfeed + 0.003);
    expect(rapid).toBeLessThanOrEqual(0.003);
  });

  test.each([
    ['an infeed 0.1 deeper', /^(G1 Z)(\d+\.\d+)/m, (z: number) => z - 0.1],
    ['a first stroke 0.5 deeper', /^(G1 X\S+ Y\S+ Z)(\d+\.\d+)/m, (z: number) => z - 0.5],
  ] as const)('%s is refused, and columns say why', (_, pattern, change) => {
    const bad = posted.replace(pattern, (_all, before: string, value: string) =>
      before.concat(change(Number(value)).toFixed(3)),
    );
    expect(bad).not.toBe(posted);
    const { feed, rapid } = bites(bad.split('\n').slice(0, 320).join('\n'), job);
    expect(Math.max(feed - job.grinding.roughInfeed, rapid)).toBeGreaterThan(0.02);
    expect(checked(bad).verdict).toBe('refused');
  });

  test('a rapid down beside the tip, where only a plane rim would be past it, is refused', () => {
    const bad = posted.replace(/^G0 Z\S+\n\(ROUGH FLAT 1\)$/m, 'G0 X8.000\nG0 Z3.500\n(ROUGH FLAT 1)');
    expect(bad).not.toBe(posted);
    expect(bites(bad.split('\n').slice(0, 320).join('\n'), job).rapid).toBeGreaterThan(0.05);
    expect(checked(bad).findings.map(({ code }) => code)).toContain('rapid-in-stock');
  });

  test('what is called clear keeps the clearance all round the tip, not along the stroke alone', () => {
    // Past the tip the periphery is nearly level: 3.2 along u at the height of the edge is 0.05 of air.
    const low = posted.replace(/^G0 A180\.000$/m, 'G0 Z4.000\nG1 X3.200 F3000.0\nG0 A180.000');
    expect(low).not.toBe(posted);
    expect(checked(low).findings.map(({ code }) => code)).toContain('index-near-work');
    const { positions, flats } = planJob(job);
    const [t, radius, edge] = [job.punch.relief, job.wheel.diameter / 2, 4 * Math.sin(job.punch.relief)];
    const w = Math.min(...flats.map((flat) => flat.w));
    const gap = Math.hypot(positions.clear - edge, w + radius - 4 * Math.cos(t)) - radius;
    expect(gap).toBeGreaterThanOrEqual(job.grinding.clearance - 1e-9);
    fc.assert(
      fc.property(
        fc.double({ min: 5, max: 120, noNaN: true }),
        fc.double({ min: -3, max: 200, noNaN: true }),
        (rg, height) => {
          const beside = besideEdge(mm(rg), height, 3);
          // The circle over its lowest line at 0, the edge beside it at that height.
          const away = Math.hypot(beside, Math.max(0, rg - height)) - rg;
          if (height > -3) expect(away).toBeGreaterThanOrEqual(3 - 1e-9);
        },
      ),
    );
  });

  test('a nose the wheel would run into is refused with the stick-out that clears it', () => {
    const near = planJob(jobOf(['stickOut: 56', 'stickOut: 40']));
    const found = near.findings.find(({ code }) => code === 'nose-in-reach');
    if (found?.code !== 'nose-in-reach') throw new Error('no such finding');
    const cured = jobOf(['stickOut: 56', `stickOut: ${(found.wouldDo + 0.001).toFixed(3)}`]);
    expect(planJob(cured).findings.map(({ code }) => code)).not.toContain('nose-in-reach');
    expect(checkPrograms([{ name: 'p.nc', text: postProgram(planJob(cured)).text }], cured).verdict).toBe(
      'run',
    );
  });

  test('a wheel narrower than the flat is refused with the width that does', () => {
    const narrow = planJob(jobOf(['rim: 13', 'rim: 3']));
    expect(narrow.findings).toContainEqual(expect.objectContaining({ code: 'wheel-too-narrow' }));
  });
});

test.each([
  ['shape: plain', 'shape: straight cup\n  , height: 40', /lies across the punch, where a cup has no face/],
  [
    'machine: horizontal-mill-rotary',
    'machine: bench-mill-rotary',
    /never on its side, and the spindle of bench-mill-rotary/,
  ],
])('%s -> %s goes with the other kind of spindle', (from, to, said) => {
  expect(() => jobOf([from, to])).toThrow(said);
});
