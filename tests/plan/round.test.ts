/** In which order flats come up, where hands act on the way, and that the punch does not mind. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { checkPrograms } from '../../src/check/dry-run.js';
import { linesOf } from '../../src/check/read/lines.js';
import type { Job } from '../../src/job/job.js';
import { planJob } from '../../src/plan/plan.js';
import { passesIn, type Step } from '../../src/plan/step.js';
import { postProgram, postSplit } from '../../src/post/program.js';
import { mm, mm3 } from '../../src/quantity/unit.js';
import { pairsOf, regularSection } from '../../src/section/flat.js';
import { sampleJob } from '../arbitrary/samples.js';

const HEX = 'stem-bolt-hex-5';
const job = sampleJob(HEX, ['wear: compensate', 'wear: ignore']);
const ordered = (grinding: Partial<Job['grinding']>): Job => ({
  ...job,
  grinding: {
    ...job.grinding,
    order: 'flat by flat',
    measuringStop: 'none',
    sequence: [1, 4, 2, 5, 3, 6],
    ...grinding,
  },
});

/** `1r 4r |1 4 1f 4f`: flats with what they get, stops with what is measured, `d` where the wheel is dressed. */
function shortly(steps: readonly Step[]): string {
  const words: string[] = [];
  steps.forEach((step, i) => {
    if (step.kind === 'stop') words.push(`${step.dresses ? 'd' : ''}|${step.measures.join('+')}`);
    if (step.kind !== 'index') return;
    const rest = steps.slice(i + 1);
    const end = rest.findIndex(({ kind }) => kind !== 'pass');
    const kinds = new Set(passesIn(end < 0 ? rest : rest.slice(0, end)).map(({ pass }) => pass.kind));
    words.push(
      `${step.flat.number}${kinds.has('rough') ? 'r' : ''}${kinds.has('finish') || kinds.has('spark-out') ? 'f' : ''}`,
    );
  });
  return words.join(' ');
}

const inOrder = (grinding: Partial<Job['grinding']>): string => shortly(planJob(ordered(grinding)).steps);

describe('the order of work', () => {
  test.each<[string, Partial<Job['grinding']>, string]>([
    ['flat by flat', {}, '1rf 4rf 2rf 5rf 3rf 6rf'],
    ['rough first', { order: 'rough first' }, '1r 4r 2r 5r 3r 6r 1f 4f 2f 5f 3f 6f'],
    [
      'rough first, measured, finished from the flat that is up',
      { order: 'rough first', measuringStop: 'after roughing', finishSequence: 'reversed' },
      '1r 4r 2r 5r 3r 6r |1+4+2+5+3+6 6f 3f 5f 2f 4f 1f',
    ],
    [
      'the first pair measured, flat by flat',
      { measuringStop: 'after the first pair' },
      '1r 4r |1+4 1f 4f 2rf 5rf 3rf 6rf',
    ],
    [
      'the first pair measured, rough first',
      { order: 'rough first', measuringStop: 'after the first pair' },
      '1r 4r |1+4 2r 5r 3r 6r 1f 4f 2f 5f 3f 6f',
    ],
    [
      'each pair measured',
      { measuringStop: 'after each pair' },
      '1r 4r |1+4 1f 4f 2r 5r |2+5 2f 5f 3r 6r |3+6 3f 6f',
    ],
    [
      'dressed before finishing, where the punch is measured too',
      { order: 'rough first', measuringStop: 'after roughing', dressingStop: 'before finishing' },
      '1r 4r 2r 5r 3r 6r d|1+4+2+5+3+6 1f 4f 2f 5f 3f 6f',
    ],
    [
      'dressed before finishing alone',
      { order: 'rough first', dressingStop: 'before finishing' },
      '1r 4r 2r 5r 3r 6r d| 1f 4f 2f 5f 3f 6f',
    ],
    ['dressed after two flats', { dressingStop: { flats: 2 } }, '1rf 4rf d| 2rf 5rf d| 3rf 6rf'],
    [
      'dressed after more metal than there is',
      { dressingStop: { volume: mm3(1e6) } },
      '1rf 4rf 2rf 5rf 3rf 6rf',
    ],
  ])('%s', (_, grinding, wanted) => {
    expect(inOrder(grinding)).toBe(wanted);
  });

  test('dressed by the metal: after the flat that brings it over, and not twice for the same metal', () => {
    const { steps } = planJob(ordered({ dressingStop: { volume: mm3(100) } }));
    let since = 0;
    for (const step of steps) {
      if (step.kind === 'stop') {
        expect(step.dresses).toBe(true);
        expect(since).toBeGreaterThanOrEqual(100);
        since = 0;
      }
      if (step.kind === 'index') expect(since).toBeLessThan(100);
      if (step.kind === 'pass') since += step.pass.load.volume;
    }
    expect(steps.filter(({ kind }) => kind === 'stop').length).toBeGreaterThan(1);
  });

  test('one pass all round: every flat in turn, once each, until all are down; the heat of one rests five turns', () => {
    const { steps, totals } = planJob(ordered({ order: 'one pass all round' }));
    const visits = shortly(steps).split(' ');
    expect(visits.slice(0, 7).join(' ')).toBe('1r 4r 2r 5r 3r 6r 1r');
    expect(visits).toHaveLength(totals.passes);
    expect(visits.slice(-6).join(' ')).toBe('1f 4f 2f 5f 3f 6f');
  });

  test('where two flats are all there is, they are measured all the same', () => {
    const double = sampleJob('axle-key-double-d');
    const grinding = {
      ...double.grinding,
      order: 'rough first',
      measuringStop: 'after the first pair',
    } as const;
    expect(shortly(planJob({ ...double, grinding }).steps)).toBe('1r 2r |1+2 1f 2f');
  });
});

const ORDERS: readonly [string, Partial<Job['grinding']>][] = [
  ['rough first', { order: 'rough first' }],
  ['one pass all round', { order: 'one pass all round' }],
  ['measured after the first pair', { measuringStop: 'after the first pair' }],
  ['measured after each pair', { measuringStop: 'after each pair' }],
  ['dressed after each flat', { dressingStop: { flats: 1 } }],
];

describe('the punch is the same whatever the order', () => {
  const punchOf = (of: Job) => checkPrograms([{ name: 'p.nc', text: postProgram(planJob(of)).text }], of);
  const plain = punchOf(ordered({ sequence: [1, 2, 3, 4, 5, 6] })).punch.flats;

  test.each(ORDERS)('%s: flat for flat as ground in turn, without wear', (_, grinding) => {
    const report = punchOf(ordered(grinding));
    expect(report.findings).toEqual([]);
    report.punch.flats.forEach(({ distance }, i) => {
      expect(distance).toBeCloseTo(plain[i]?.distance ?? Number.NaN, 9);
    });
  });

  test.each(ORDERS.slice(2))(
    '%s: split at its stops it is a set that is good, and the same punch',
    (_, grinding) => {
      const of = ordered(grinding);
      const plan = planJob(of);
      const set = postSplit(plan).map(({ suffix, text }) => ({ name: `p${suffix}.nc`, text }));
      expect(set).toHaveLength(plan.steps.filter(({ kind }) => kind === 'stop').length + 1);
      const report = checkPrograms(set, of);
      expect(report.findings).toEqual([]);
      report.punch.flats.forEach(({ distance }, i) => {
        expect(distance).toBeCloseTo(plain[i]?.distance ?? Number.NaN, 9);
      });
    },
  );

  test.each(ORDERS.slice(2, 4))('%s: without one of its stops the program is refused', (_, grinding) => {
    const of = ordered(grinding);
    const { text } = postProgram(planJob(of));
    const codes = (changed: string): readonly string[] => {
      expect(changed).not.toBe(text);
      return checkPrograms([{ name: 'p.nc', text: changed }], of).findings.map(({ code }) => code);
    };
    const lines = linesOf(text);
    const stop = lines.lastIndexOf('M0');
    expect(codes([...lines.slice(0, stop), ...lines.slice(stop + 1)].join('\n'))).toContain(
      'measuring-stop-missing',
    );
    // A stop that does not say what it is for, one said at the head, and one before anything is roughed, are none.
    expect(codes(text.replace(/\(MEASURING STOP/, '(A STOP'))).toContain('measuring-stop-missing');
    expect(
      codes(`(MEASURING STOP AFTER ROUGHING)\n${text.replace(/\(MEASURING STOP/, '(A STOP')}`),
    ).toContain('measuring-stop-missing');
  });
});

test('a stop to dress that is ordered and not there is refused', () => {
  const of = ordered({ order: 'rough first', dressingStop: 'before finishing' });
  const { text } = postProgram(planJob(of));
  const codes = (changed: string): readonly string[] =>
    checkPrograms([{ name: 'p.nc', text: changed }], of).findings.map(({ code }) => code);
  expect(codes(text)).toEqual([]);
  expect(codes(text.replace('(DRESSING STOP', '(A STOP'))).toContain('dressing-stop-missing');
});

describe('what hands are told at a stop', () => {
  const textOf = (grinding: Partial<Job['grinding']>): string => postProgram(planJob(ordered(grinding))).text;

  test('a pair is named, and only its readings', () => {
    const [stop = ''] = /\(MEASURING STOP[\s\S]*?M0/.exec(textOf({ measuringStop: 'after each pair' })) ?? [];
    expect(stop).toMatch(/^\(MEASURING STOP AFTER ROUGHING FLATS 1 AND 4: /);
    expect(stop).toContain('UP NOW: FLAT 4 AT A180');
    expect(stop.match(/MEASURE: FLAT/g)).toHaveLength(2);
    // All of the number: at a reading of 5.150 one types 2.558 + 0.015.
    const said = stop.replaceAll(/\)\n\(-? ?/g, ' ');
    expect(said).toMatch(/TYPE Z 2\.558 MM PLUS THE FEELER,/);
    expect(said).toMatch(/PLUS 0\.005 MM FOR EACH 0\.010 MM IT READS MORE/);
    expect(said).toMatch(/READS UNDER 5\.060 MM: STOP/);
  });

  test('dressed and not measured: the number of the flat that is up, as it stands with the wear predicted', () => {
    const plan = planJob(ordered({ dressingStop: { flats: 2 } }));
    const stop = plan.steps.find((step) => step.kind === 'stop');
    if (stop === undefined) throw new Error('no stop');
    const last = passesIn(plan.steps.slice(0, plan.steps.indexOf(stop))).at(-1)?.pass;
    // Source: w = level + loss, the fixture sloped, so Z is w.
    const stands = (last?.level ?? 0) + (last?.loss.taken ?? 0);
    expect(stop.stands).toBeCloseTo(stands, 12);
    const text = postProgram(plan).text.replaceAll(/\)\n\(/g, ' ');
    expect(text).toContain('DRESSING STOP: GUARD ON, EYES PROTECTED');
    expect(text).toContain(`TYPE Z ${stands.toFixed(3)} MM PLUS THE FEELER`);
  });
});

test('pairs of a sequence: two that face each other and follow each other, any other flat alone', () => {
  fc.assert(
    fc.property(fc.integer({ min: 2, max: 6 }), fc.boolean(), (half, together) => {
      const section = regularSection(2 * half, mm(3));
      const inTurn = section.map((_, i) => i + 1);
      const byPairs = inTurn.slice(0, half).flatMap((flat) => [flat, flat + half]);
      const pairs = pairsOf(section, together ? byPairs : inTurn);
      expect(pairs.flat()).toEqual(together ? byPairs : inTurn);
      if (together) expect(pairs.every((pair) => pair.length === 2)).toBe(true);
      else expect(pairs.every((pair) => pair.length === 1)).toBe(true);
    }),
  );
});
