/** The programs each sample gives: one file, or one a flat for the control that ignores program stops. */
import { planJob } from '../../src/plan/plan.js';
import { type Program, postProgram, postSplit } from '../../src/post/program.js';
import { sampleJob } from '../arbitrary/samples.js';

/** Samples whose comment says they are posted one program a flat. */
const PER_FLAT: ReadonlySet<string> = new Set(['valve-cap-triangle']);

export function samplePrograms(name: string): readonly Program[] {
  const plan = planJob(sampleJob(name));
  return PER_FLAT.has(name) ? postSplit(plan) : [postProgram(plan)];
}
