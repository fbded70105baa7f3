/** Runs that are to cut nothing: the whole program higher over the punch, and a program that only shows places. */
import { describe, expect, test } from 'vitest';
import { type CheckReport, checkPrograms } from '../../src/check/dry-run.js';
import type { Job } from '../../src/job/job.js';
import { layoutOf } from '../../src/job/job.js';
import { planJob } from '../../src/plan/plan.js';
import { passesIn } from '../../src/plan/step.js';
import { postOutline } from '../../src/post/outline.js';
import { postForMachine, postSplit } from '../../src/post/program.js';
import { type Mm, mm } from '../../src/quantity/unit.js';
import { sampleJob, sampleNames } from '../arbitrary/samples.js';

const inTheAir = (job: Job, raised: Mm): CheckReport =>
  checkPrograms(
    postForMachine(planJob(job)).map(({ suffix, text }) => ({ name: `p${suffix}.nc`, text })),
    job,
    { purpose: { raised } },
  );

describe('the run in the air that the sheet asks for', () => {
  test.each(sampleNames)(
    '%s: nothing is cut, nothing is against it, and no limit of the travel is met',
    (name) => {
      const job = sampleJob(name);
      const { airRise, mostRise } = planJob(job).positions;
      const { findings, air, verdict } = inTheAir(job, airRise);
      expect(findings.filter(({ severity }) => severity === 'error')).toEqual([]);
      expect(verdict).toBe('run');
      if (air === 'none' || air.nearest === 'never over the punch') throw new Error('it runs over the punch');
      // Over the blank by what the rise has more than the deepest pass.
      expect(air.nearest).toBeGreaterThanOrEqual(job.grinding.clearance - 1e-9);
      expect(mostRise).toBeGreaterThanOrEqual(airRise - 1e-9);
    },
  );

  test.each(sampleNames)('%s: as far as the travel allows, and not a hair more', (name) => {
    const job = sampleJob(name);
    const { mostRise } = planJob(job).positions;
    if (mostRise === 'unknown') return;
    const codes = (raised: number): readonly string[] =>
      inTheAir(job, mm(raised)).findings.map(({ code }) => code);
    expect(codes(mostRise)).not.toContain('outside-travel');
    expect(codes(mostRise + 0.01)).toContain('outside-travel');
  });

  test('too low it cuts: said once with what would do, beside the strokes that are too deep', () => {
    const job = sampleJob('stem-bolt-hex-5');
    const { findings, verdict } = inTheAir(job, mm(1));
    expect(verdict).toBe('refused');
    const cuts = findings.filter(({ code }) => code === 'cuts-in-the-air');
    expect(cuts).toHaveLength(1);
    // Stock of 1.916 above a flat, less the raise: what is left is cut, pass by pass.
    expect(findings.some(({ code }) => code === 'flat-missing')).toBe(false);
    expect(cuts[0]).toMatchObject({ wouldDo: expect.any(Number) });
    expect(inTheAir(job, mm(Number((cuts[0] as { wouldDo?: number }).wouldDo))).verdict).toBe('run');
  });

  test('words of motion, travel and index are judged as ever', () => {
    const job = sampleJob('stem-bolt-hex-5');
    const [program] = postForMachine(planJob(job));
    const text = (program?.text ?? '').replace('F1200.0', 'F9000.0').replace('M3\n', 'M4\n');
    const codes = checkPrograms([{ name: 'p.nc', text }], job, { purpose: { raised: mm(5) } }).findings.map(
      ({ code }) => code,
    );
    expect(codes).toContain('feed-over-machine');
    expect(codes).toContain('wheel-turns-backward');
  });
});

describe('a program that shows the farthest places', () => {
  const stopping = sampleNames.filter((name) => sampleJob(name).machine.program.stops === 'honoured');
  const look = (job: Job, change: (text: string) => string = (text) => text): CheckReport =>
    checkPrograms([{ name: 'o.nc', text: change(postOutline(planJob(job)).text) }], job, { purpose: 'look' });

  test.each(stopping)('%s: nothing against it, nothing cut, the spindle never on', (name) => {
    const job = sampleJob(name);
    expect(look(job).findings).toEqual([]);
    expect(postOutline(planJob(job)).text).not.toMatch(/^(N\d+ )?(M[3478]|S\d.*)$/m);
  });

  test('it goes to the lowest height and to the end of the stroke, each with a stop of its own', () => {
    const job = sampleJob('stem-bolt-hex-5');
    const { steps, positions } = planJob(job);
    const { text } = postOutline(planJob(job));
    const passes = passesIn(steps).map(({ pass }) => pass);
    // The upper passes reach farther by the shoulder, a compensated one goes lower: what the program itself says.
    const words = [...(postForMachine(planJob(job))[0]?.text.matchAll(/G1 X(\S+)/g) ?? [])].map(([, x]) =>
      Number(x),
    );
    const farthest = Math.min(...words.filter(Number.isFinite));
    // Source: design of the stroke, Z is w and X is u; 2.528 and 27.581 in the worked example.
    const lowest = Math.min(...passes.map(({ w }) => w));
    expect(text).toMatch(new RegExp(`G1 Z${lowest.toFixed(3)} F400.0\\n\\(PLACE`));
    expect(farthest).toBeLessThan(27.5);
    expect(text).toMatch(new RegExp(`G1 X${farthest.toFixed(3)} F400.0\\n\\(PLACE`));
    expect(text).toMatch(/G0 A300.000\n\(PLACE/);
    expect(text.match(/^M0$/gm)).toHaveLength(5);
    expect(positions.clear).toBeGreaterThan(farthest);
  });

  test('a spindle that starts in it is refused, and so is a move into the punch', () => {
    const job = sampleJob('stem-bolt-hex-5');
    const started = look(job, (text) => text.replace('\nM0', '\nS4000\nM3\nG4 P5.0\nM0'));
    expect(started.findings.map(({ code }) => code)).toContain('wheel-not-at-rest');
    const { up } = layoutOf(job);
    const into = look(job, (text) =>
      text.replace(/(G1 X27\.\d+ F400\.0\n)/, `$1G0 ${up.axis.toUpperCase()}3.000\n`),
    );
    expect(into.verdict).toBe('refused');
  });
});

test('a set split at its stops runs in the air too', () => {
  const job = sampleJob('stem-bolt-hex-5');
  const set = postSplit(planJob(job)).map(({ suffix, text }) => ({ name: `p${suffix}.nc`, text }));
  const report = checkPrograms(set, job, { purpose: { raised: mm(5) } });
  expect(report.findings).toEqual([]);
});
