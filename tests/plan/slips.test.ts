/** Slips of the pen in units are heard: what was written is called what it must have been. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readJob } from '../../src/file/read.js';
import { planJob } from '../../src/plan/plan.js';
import { slipsOf } from '../../src/plan/slips.js';
import { randomJob } from '../arbitrary/job.js';
import { sampleJob, sampleText, shippedTexts } from '../arbitrary/samples.js';

const HEX = 'stem-bolt-hex-5';

describe('a number in other units than it was read in', () => {
  test.each([
    [['size: 8,', 'size: 0.315,'], { key: 'blank.size', meant: 'inches' }],
    [['flatLength: 10', 'flatLength: 254'], { key: 'punch.flatLength', meant: 'mm' }],
    [['relief: 2.5 deg', 'relief: 0.0436'], { key: 'punch.relief', meant: 'radians' }],
    [['spindleSpeed: 4000', 'spindleSpeed: 16'], { key: 'grinding.spindleSpeed', meant: 'm/s' }],
    [['acrossFlats: 5.06', 'acrossFlats: 128.5'], { key: 'punch', meant: 'mm' }],
  ] as const)('%j', (exchange, slip) => {
    expect(slipsOf(planJob(sampleJob(HEX, exchange)))).toContainEqual(slip);
  });

  test('a job that can be planned has none, and one wrong in itself is called no slip', () => {
    fc.assert(
      fc.property(randomJob, ({ job }) => {
        expect(slipsOf(planJob(job))).toEqual([]);
      }),
      { numRuns: 20 },
    );
    expect(slipsOf(planJob(sampleJob(HEX, ['relief: 2.5 deg', 'relief: 0.8 deg'])))).toEqual([]);
  });
});

test.each(['inch', 'in', 'inches', 'IN'])('units: %s is inches', (written) => {
  const text = sampleText('seat-clamp-hex-quarter-inch').replace('units: inch', `units: ${written}`);
  expect(readJob({ file: 'x.yaml', text }, shippedTexts).units).toBe('inch');
});
