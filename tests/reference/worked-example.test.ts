/**
 * A hex 5.06 worked by hand on a machine that can write micrometre fractions, to five decimals, from the geometry of the frames (from memory: t = 2.5 deg,
 * blank 8, wheel 75, flats 10 long, clearance 3, stick-out 24, nose half-height 12).
 */
import { expect, test } from 'vitest';
import { planJob } from '../../src/plan/plan.js';
import { mm, rad } from '../../src/quantity/unit.js';
import { acrossCorners } from '../../src/section/corner.js';
import { noseCorner } from '../../src/wheel/frame.js';
import { sampleJob } from '../arbitrary/samples.js';

test('hex 5.06 at 2.5 deg: every figure of the worked example', () => {
  const read = sampleJob('stem-bolt-hex-5', ['rough first\n  measuringStop: after roughing', 'flat by flat']);
  const { program } = read.machine;
  // What a flat is ordered at is rounded to what the program can write.
  const job = {
    ...read,
    grinding: { ...read.grinding, shoulder: rad(0) },
    machine: { ...read.machine, program: { ...program, decimals: 7 } },
  };
  const { flats, positions } = planJob(job);
  expect(flats.length).toBe(6);
  for (const flat of flats) {
    expect(flat.w).toBeCloseTo(2.52759, 5);
    expect(flat.lengthEnd).toBeCloseTo(-9.89917, 5);
    expect(flat.halfWidth).toBeCloseTo(1.20862, 5);
    expect(flat.centreEnd).toBeCloseTo(27.58135, 5);
    expect(flat.reach).toBeCloseTo(-9.91865, 5);
    expect(flat.stockTop).toBeCloseTo(4.43687, 5);
    expect(flat.stock).toBeCloseTo(1.90928, 5);
  }
  expect(positions.clear).toBeCloseTo(40.67448, 5);
  expect(acrossCorners(mm(5.06), 6)).toBeCloseTo(5.84278, 5);
  expect(noseCorner(mm(24), mm(12), job.punch.relief).u).toBeCloseTo(-23.45372, 5);
});
