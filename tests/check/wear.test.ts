/** A program that lowers its passes for the rim's wear, against a job that orders it or does not. */
import { describe, expect, test } from 'vitest';
import { checkPrograms } from '../../src/check/dry-run.js';
import { planJob } from '../../src/plan/plan.js';
import { postProgram, postSplit } from '../../src/post/program.js';
import { mm } from '../../src/quantity/unit.js';
import { sampleJob } from '../arbitrary/samples.js';

const BRAKE = 'brake-bolt-hex-6';
// Flat by flat, nothing measured on the way.
const STRAIGHT: readonly (readonly [string, string])[] = [
  ['  order: rough first\n  measuringStop: after roughing\n  sequence: opposite pairs\n', ''],
  ['socket: hex 6', 'section: hex\n  acrossFlats: 6.11\n  tolerance: { plus: 0.012, minus: 0.012 }'],
];
const ignoring = () => sampleJob(BRAKE, ...STRAIGHT, ['  wear: compensate\n', '']);
const compensating = () => sampleJob(BRAKE, ...STRAIGHT);
// Planned with room in the tolerance, since a prediction nobody proves on the way is refused without; checked with little.
const programOf = (job: ReturnType<typeof compensating>) => {
  const roomy = { ...job.punch, tolerance: { plus: mm(0.2), minus: mm(0.2) } };
  return postProgram(planJob({ ...job, punch: roomy })).text;
};
const check = (text: string, job: ReturnType<typeof compensating>) =>
  checkPrograms([{ name: 'p.nc', text }], job);

test('a program that removes more than the job holds is refused', () => {
  const held = sampleJob('stem-bolt-hex-5', ['sparkOut: 3', 'sparkOut: 3\n  limit: { removalRate: 0.8 }']);
  const { findings, verdict } = check(programOf(sampleJob('stem-bolt-hex-5')), held);
  expect(verdict).toBe('refused');
  expect(findings.map(({ code }) => code)).toContain('stroke-over-limit');
  expect(check(programOf(held), held).verdict).toBe('run');
});

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

  test('a wheel that does not wear after all bites no deeper than it may and is fed down beside the metal', () => {
    // Flat by flat, a soft wheel: the last flats are told 0.06 mm lower than the first.
    const soft = (wear: string) =>
      sampleJob(
        'stem-bolt-hex-5',
        ['rough first\n  measuringStop: after roughing', 'flat by flat'],
        ['wear: compensate', `wear: ${wear}`],
        ['abrasive: aluminium oxide', 'abrasive: aluminium oxide, grindingRatio: 3'],
      );
    const text = programOf(soft('compensate'));
    expect(check(text, soft('compensate')).verdict).toBe('run');
    const { findings, punch } = check(text, soft('ignore'));
    for (const { deepestBite } of punch.flats) expect(deepestBite).toBeLessThanOrEqual(0.02 * 1.1 + 0.0012);
    const codes = findings.map(({ code }) => code);
    for (const harm of ['rapid-in-stock', 'infeed-in-stock']) expect(codes).not.toContain(harm);
  });

  test('a rapid that only an unworn wheel would drive into metal is refused', () => {
    const text = programOf(compensating());
    const place = text.indexOf('(ROUGH FLAT 6)');
    const job = compensating();
    // The blank's top at the reach, raised by less than the rim is thought to have lost.
    const top = (planJob(job).flats[5]?.stockTop ?? 0) - 0.008;
    const rapid = `G0 Z${top.toFixed(3)}\nG0 X26.593\nG0 X40.696\nG0 Z29.98\n`;
    const { findings } = check(`${text.slice(0, place)}${rapid}${text.slice(place)}`, job);
    expect(findings.map(({ code }) => code)).toContain('rapid-in-stock');
  });

  test('one program a flat: touch off before the first alone', () => {
    const job = sampleJob(
      'valve-cap-triangle',
      ['strokeSpeed: 500', 'strokeSpeed: 500, wear: compensate'],
      ['abrasive: cubic boron nitride', 'abrasive: aluminium oxide'],
    );
    const [first, second, third] = postSplit(planJob(job)).map(({ text }) => text.replaceAll('\n; - ', ' '));
    expect(first).toMatch(/WEAR: TOUCH OFF ONCE, BEFORE THIS FIRST PROGRAM OF THE SET/);
    for (const later of [second, third]) {
      expect(later).toMatch(
        /WEAR: TOUCH OFF OR DRESS BETWEEN THE PROGRAMS OF THIS SET ONLY WHERE ONE BEGINS BY SAYING SO/,
      );
      expect(later).not.toMatch(/TOUCH OFF ONCE|TOUCH OFF ANEW/);
    }
  });

  test('the header says so, and to touch off anew before every run', () => {
    expect(programOf(compensating())).toMatch(/\(WEAR: PASSES LOWERED BY UP TO 0\.014 MM/);
    expect(programOf(compensating())).toMatch(/\(WEAR: TOUCH OFF ANEW BEFORE EVERY RUN/);
    expect(programOf(ignoring())).not.toContain('WEAR');
  });
});
