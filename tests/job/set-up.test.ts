/** One set-up is worded once: plan, sheet and program head say the same of slope, zero, section and what is moved. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { programmedPoint, sectionWords, sizesOf, slopeWords, ZERO } from '../../src/job/set-up.js';
import { planJob } from '../../src/plan/plan.js';
import { postForMachine, postProgram } from '../../src/post/program.js';
import { sampleJob, sampleNames } from '../arbitrary/samples.js';
import { createWorld, type World } from '../command/fake-io.js';

/** A program's comments as one line, continued ones joined. */
const comments = (program: string): string =>
  [...program.matchAll(/^(?:\(([^()]*)\)|; ?(.*))$/gm)]
    .map(([, bracketed, after]) => bracketed ?? after ?? '')
    .join('\n')
    .replaceAll('\n- ', ' ')
    .toLowerCase();

describe('the words of a set-up', () => {
  let world: World;
  beforeAll(() => {
    world = createWorld();
  });
  afterAll(() => world.remove());

  test.each(sampleNames)('%s: plan, sheet and program say the same', async (name) => {
    const job = sampleJob(name);
    const { part, turned, order, way } = slopeWords(job);
    const plan = (await world.run(['plan', `samples/${name}.yaml`])).out.replaceAll(/\s+/g, ' ');
    const sheet = (await world.run(['sheet', `samples/${name}.yaml`, '--text'])).out.replaceAll(/\s+/g, ' ');
    const [first] = postForMachine(planJob(job));
    const head = comments(first?.text ?? '');
    expect(head).toContain(`slope: ${part} ${turned} `);
    for (const text of [plan, head]) {
      expect(text).toContain(part);
      expect(text).toContain(`, ${way}`);
    }
    for (const text of [plan, sheet, head]) {
      expect(text).toContain(ZERO);
      expect(text).toContain(sectionWords(job));
      for (const { name: size } of sizesOf(job).slice(0, 1)) expect(text.toLowerCase()).toContain(size);
    }
    expect(sheet).toContain(order);
    expect(head).toContain(programmedPoint(job));
  });

  test('a sine bar that is in the drawer, but does not set the slope, is not told to be raised', () => {
    const asked: readonly [string, string] = ['sineBar: 100 }', 'sineBar: 100, using: strip }'];
    const job = sampleJob('stem-bolt-hex-5', asked);
    expect(planJob(job).sineBarHeight).toBe('none');
    expect(comments(postProgram(planJob(job)).text)).not.toContain('sine bar');
    // By the bar it is there: 100 x sin 2.5 deg = 4.362.
    expect(comments(postProgram(planJob(sampleJob('stem-bolt-hex-5'))).text)).toContain('raised 4.362 mm');
  });
});
