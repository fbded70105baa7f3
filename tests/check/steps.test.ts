/**
 * Up to four changes at once to posted programs of every kind, run by a shop whose hands leave the axes
 * anywhere clear at the start and at every stop. What the judge, which shares no code with the checker, sees
 * hurt from any of these places must be refused: the state of unknown places, tried from the outside.
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { checkPrograms } from '../../src/check/dry-run.js';
import { linesOf } from '../../src/check/read/lines.js';
import type { Job } from '../../src/job/job.js';
import { planJob } from '../../src/plan/plan.js';
import { postProgram } from '../../src/post/program.js';
import { sampleJob } from '../arbitrary/samples.js';
import { judge, type Place } from './judge.js';
import { mutations } from './mutations.js';

/** Wear compensation lowers heights on purpose, which the judge, who knows no wear, would call a wrong size. */
const IGNORED = ['wear: compensate', 'wear: ignore'] as const;
const jobs: Readonly<Record<string, Job>> = {
  'rotary axis': sampleJob('stem-bolt-hex-5'),
  'by hand, flat by flat': sampleJob('bearing-cap-square-8'),
  'by hand, lands': sampleJob('axle-key-double-d'),
  'tilted head, clamped axis': sampleJob('crank-bolt-hex-8'),
  lathe: sampleJob('pedal-pin-pentagon-lathe', IGNORED),
  'pairs measured and the wheel dressed': sampleJob(
    'stem-bolt-hex-5',
    ['order: rough first', 'order: flat by flat\n  dressingStop: before finishing'],
    ['measuringStop: after roughing', 'measuringStop: after each pair'],
    IGNORED,
  ),
  'one pass all round': sampleJob(
    'stem-bolt-hex-5',
    ['order: rough first', 'order: one pass all round'],
    ['roughInfeed: 0.02', 'roughInfeed: 0.1'],
    IGNORED,
  ),
};

const RUNS = Number(process.env['FLATWRIGHT_RUNS'] ?? 250);
const SEED = Number(process.env['FLATWRIGHT_SEED'] ?? 20261101);
const fraction = fc.integer({ min: 0, max: 999_999 }).map((n) => n / 1_000_000);
const MUTANTS = Object.keys(mutations).filter((how) => how !== 'a passage gone' && how !== 'cut off');

const changes = fc.array(fc.record({ how: fc.constantFrom(...MUTANTS), at: fraction, other: fraction }), {
  minLength: 1,
  maxLength: 4,
});
/** Where hands leave the axes, stop by stop: above all or past the tip, as fractions of what is free. */
const places = fc.array(
  fc.record({ above: fc.boolean(), x: fraction, y: fraction, z: fraction, a: fraction }),
  { minLength: 12, maxLength: 12 },
);

type Free = typeof places extends fc.Arbitrary<readonly (infer One)[]> ? One : never;

/** A clear place: over everything, or beyond the tip at any height down to the middle of the punch. */
function placed(
  { above, x, y, z, a }: Free,
  job: Job,
  clear: { readonly x: number; readonly z: number },
): Place {
  const counts = job.machine.layout === 'lathe, X as diameter' ? 2 : 1;
  return {
    X: counts * (above ? -20 + x * (clear.x + 40) : clear.x + x * 5),
    Y: job.machine.layout.startsWith('lathe') ? 0 : (y - 0.5) * 4,
    Z: above ? clear.z + z * 5 : z * clear.z,
    A: Math.round(a * 360),
  };
}

describe('in several steps', () => {
  const kinds = Object.entries(jobs).map(([kind, job]) => {
    const plan = planJob(job);
    const { clear, indexHeight } = plan.positions;
    return { kind, job, good: linesOf(postProgram(plan).text), free: { x: clear + 1, z: indexHeight + 1 } };
  });

  test.each(kinds)('$kind: the program as posted hurts from no clear place', ({ job, good, free }) => {
    fc.assert(
      fc.property(places, (list) => {
        let next = 0;
        const hands = (): Place => placed(list[next++ % list.length] as Free, job, free);
        expect(judge(`${good.join('\n')}\n`, job, hands)).toEqual([]);
      }),
      { seed: SEED, numRuns: 20 },
    );
  });

  test.each(kinds)(
    '$kind: what is called good after up to four changes hurts from no clear place',
    ({ kind, job, good, free }) => {
      let [made, harmful, refused] = [0, 0, 0];
      const survivors: string[] = [];
      for (const { steps, list } of fc.sample(fc.record({ steps: changes, list: places }), {
        seed: SEED,
        numRuns: Math.ceil(RUNS / 10),
      })) {
        const lines = steps.reduce<readonly string[]>(
          (before, { how, ...pick }) => mutations[how]?.(before, pick) ?? before,
          good,
        );
        if (lines.join() === good.join()) continue;
        made += 1;
        const text = `${lines.join('\n')}\n`;
        const { verdict } = checkPrograms([{ name: kind, text }], job);
        if (verdict === 'refused') refused += 1;
        let next = 0;
        const harm = judge(text, job, () => placed(list[next++ % list.length] as Free, job, free));
        if (harm.length > 0) harmful += 1;
        if (harm.length > 0 && verdict === 'run')
          survivors.push(
            `${steps.map(({ how, at, other }) => `${how} ${at} ${other}`).join(', ')}: ${harm.join('; ')}`,
          );
      }
      process.stdout.write(
        `${kind}: mutants ${made}, harmful ${harmful}, refused ${refused}, survivors ${survivors.length}\n`,
      );
      expect(survivors).toEqual([]);
      expect(harmful).toBeGreaterThan(made / 3);
    },
  );
});
