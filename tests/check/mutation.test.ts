/**
 * Good programs, broken in ways that hurt. Whatever the judge, which shares no code with the checker, calls
 * harmful must be refused. The rate is printed; a survivor fails the test.
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { checkPrograms } from '../../src/check/dry-run.js';
import { linesOf } from '../../src/check/read/lines.js';
import { sampleJob } from '../arbitrary/samples.js';
import { samplePrograms } from '../scripts/sample-programs.js';
import { judge } from './judge.js';
import { mutations } from './mutations.js';

const EACH = Math.ceil(Number(process.env['FLATWRIGHT_RUNS'] ?? 500) / 250);
const SEED = Number(process.env['FLATWRIGHT_SEED'] ?? 20260301);
const fraction = fc.integer({ min: 0, max: 999_999 }).map((n) => n / 1_000_000);
const SAMPLES = ['stem-bolt-hex-5', 'bearing-cap-square-8', 'axle-key-double-d'];

describe('mutants', () => {
  test('the judge has nothing against the programs as they are', () => {
    for (const name of SAMPLES)
      expect(judge(samplePrograms(name)[0]?.text ?? '', sampleJob(name))).toEqual([]);
  });

  test(`of ${Object.keys(mutations).length} ways to break a program, every harmful mutant is refused`, () => {
    const picks = fc.sample(fc.record({ at: fraction, other: fraction }), { seed: SEED, numRuns: EACH });
    let [made, harmful, refused] = [0, 0, 0];
    const survivors: string[] = [];
    for (const name of SAMPLES) {
      const job = sampleJob(name);
      const good = linesOf(samplePrograms(name)[0]?.text ?? '');
      for (const [how, mutate] of Object.entries(mutations)) {
        for (const pick of picks) {
          const lines = mutate(good, pick);
          const text = `${lines.join('\n')}\n`;
          if (lines.join() === good.join()) continue;
          made += 1;
          const harm = judge(text, job);
          const { verdict } = checkPrograms([{ name, text }], job);
          if (verdict === 'refused') refused += 1;
          if (harm.length === 0) continue;
          harmful += 1;
          if (verdict === 'run')
            survivors.push(`${name}, ${how} at ${pick.at}, ${pick.other}: ${harm.join('; ')}`);
        }
      }
    }
    process.stdout.write(
      `mutants ${made}, harmful ${harmful}, refused ${refused}, survivors ${survivors.length}\n`,
    );
    expect(survivors).toEqual([]);
    // The criterion must bite, or the test proves nothing.
    expect(harmful).toBeGreaterThan(made / 2);
  });
});
