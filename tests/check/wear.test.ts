/** A program that lowers its passes for the rim's wear, against a job that orders it or does not. */
import { describe, expect, test } from 'vitest';
import { checkPrograms } from '../../src/check/dry-run.js';
import { planJob } from '../../src/plan/plan.js';
import { postProgram } from '../../src/post/program.js';
import { sampleJob } from '../arbitrary/samples.js';

const BRAKE = 'brake-bolt-hex-6';
const ignoring = () => sampleJob(BRAKE, ['  wear: compensate\n', '']);
const compensating = () => sampleJob(BRAKE);
const programOf = (job: ReturnType<typeof compensating>) => postProgram(planJob(job)).text;
const check = (text: string, job: ReturnType<typeof compensating>) =>
  checkPrograms([{ name: 'p.nc', text }], job);

describe('wear compensated', () => {
  test('the last flat is told 0.02 mm lower than the first, and both come out alike', () => {
    const text = programOf(compensating());
    const lowest = (flat: number): number => {
      const part = text.slice(
        text.indexOf(`(FINISH FLAT ${flat})`),
        text.indexOf(`(SPARK OUT FLAT ${flat})`),
      );
      return Math.min(...[...part.matchAll(/Z(\S+)/g)].map((match) => Number(match[1])));
    };
    expect(lowest(1) - lowest(6)).toBeGreaterThan(0.01);
    const { verdict, punch } = check(text, compensating());
    expect(verdict).toBe('run');
    for (const { distance, ordered } of punch.flats)
      expect(Math.abs(distance - Number(ordered))).toBeLessThan(0.001);
  });

  test('the same program for a wheel that does not wear is refused: too small', () => {
    const { verdict, findings } = check(programOf(compensating()), ignoring());
    expect(verdict).toBe('refused');
    expect(findings.map(({ code }) => code)).toContain('size-under');
  });

  test('a program without compensation for a job that orders it is refused: too large', () => {
    const { verdict, findings } = check(programOf(ignoring()), compensating());
    expect(verdict).toBe('refused');
    expect(findings.map(({ code }) => code)).toContain('size-over');
  });

  test('the header says so, and to touch off anew before every run', () => {
    expect(programOf(compensating())).toMatch(/\(WEAR: PASSES LOWERED BY UP TO 0\.020 MM/);
    expect(programOf(compensating())).toMatch(/\(WEAR: TOUCH OFF ANEW BEFORE EVERY RUN/);
    expect(programOf(ignoring())).not.toContain('WEAR');
  });
});
