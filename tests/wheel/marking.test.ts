/**
 * Order of the places and letters: ISO 525 and ISO 6104, from memory; `51 A 36 L 5 V 23` is the example that charts of
 * wheel makers who cite ISO 525 share. Grades a step harder when wet: makers' manuals on choosing a wheel.
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { figuresFor, readGrindingTable } from '../../src/file/grinding-table.js';
import { InputError } from '../../src/file/problem.js';
import { planJob } from '../../src/plan/plan.js';
import { isHarder, readMarking } from '../../src/wheel/marking.js';
import { sampleJob, shippedTexts } from '../arbitrary/samples.js';

const SAMPLE = 'brake-bolt-hex-6';
const MARKED = 'marking: A 60 J 8 V, ';
const planned = (wheel: string, grinding = '') =>
  planJob(
    sampleJob(SAMPLE, [MARKED, wheel], ['sequence: opposite pairs', `sequence: opposite pairs${grinding}`]),
  );
const codes = (...of: Parameters<typeof planned>) => planned(...of).findings.map(({ code }) => code);

describe('a marking by its places', () => {
  test.each([
    ['51A-36-L-5-V-23', '51 A 36 L 5 V 23', 'aluminium oxide', 36, 'L', 'vitrified'],
    ['wa 60 k v', 'WA 60 K V', 'aluminium oxide', 60, 'K', 'vitrified'],
    ['A46H8V', 'A 46 H 8 V', 'aluminium oxide', 46, 'H', 'vitrified'],
    ['GC80/I6V', 'GC 80 I 6 V', 'silicon carbide', 80, 'I', 'vitrified'],
    ['A 36 Q 4 BF', 'A 36 Q 4 BF', 'aluminium oxide', 36, 'Q', 'reinforced resinoid'],
    ['A 60 J 8 MG', 'A 60 J 8 MG', 'aluminium oxide', 60, 'J', 'magnesia'],
    ['3SG60KVX', '3 SG 60 K V X', 'unknown', 60, 'K', 'vitrified'],
    ['D126 R 100 B', 'D 126 R 100 B', 'diamond', 126, 'R', 'resinoid'],
    ['B126', 'B 126', 'cubic boron nitride', 126, 'none', 'none'],
  ])('%s', (marking, text, abrasive, grit, grade, bond) => {
    expect(readMarking(marking)).toEqual({ text, abrasive, grit, grade, bond });
  });

  test.each([
    '',
    '60 J 8 V',
    'A J 8 V',
    'A 60 V',
    'A 60 J 8',
    'A 2 J 8 V',
    'A 9999 J V',
    '5100 rpm',
    'white cup',
  ])('not read: "%s"', (marking) => {
    expect(readMarking(marking)).toBe('unread');
  });

  test('whatever stands between its places, it is the same marking', () => {
    const gap = fc.constantFrom('', ' ', '-', ' - ', '.', '/');
    fc.assert(
      fc.property(
        fc.constantFrom('A', 'WA', 'C', 'GC'),
        fc.integer({ min: 4, max: 1200 }),
        fc.constantFrom(...'ABCDEFGHIJKLMNOPQRSTUVWXYZ'),
        fc.option(fc.integer({ min: 0, max: 14 }), { nil: undefined }),
        fc.constantFrom('V', 'B', 'BF', 'R', 'RF', 'E', 'PL'),
        fc.array(gap, { minLength: 5, maxLength: 5 }),
        (letters, grit, grade, structure, bond, gaps) => {
          const places = [letters, grit, grade, ...(structure === undefined ? [] : [structure]), bond];
          const read = readMarking(places.map((place, i) => `${place}${gaps[i]}`).join(''));
          expect(read).toMatchObject({ text: places.join(' '), grit, grade });
        },
      ),
    );
  });

  test('anything at all is read or not, and what is read reads alike again', () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 20 }), (text) => {
        const read = readMarking(text);
        if (read !== 'unread') expect(readMarking(read.text)).toEqual(read);
      }),
    );
  });
});

describe('what it says of a job', () => {
  test('the abrasive need not be written again', () => {
    expect(planned('marking: B126 R 100 B, ').job.figures.abrasive).toBe('cubic boron nitride');
    expect(planned('marking: A 60 J 8 V, ').job.wheel.abrasive).toBe('aluminium oxide');
    expect(planned('').job.wheel.abrasive).toBe('aluminium oxide');
    expect(planned('marking: 3SG60JV, ').job.wheel.abrasive).toBe('aluminium oxide');
  });

  test('another abrasive than the letter says is refused, a kind of the same is not', () => {
    expect(() => planned('marking: A 60 J 8 V, abrasive: diamond, ')).toThrow(InputError);
    expect(() => planned('marking: A 60 J 8 V, abrasive: diamond, ')).toThrow(
      /wheel\.abrasive: is diamond, the marking "A 60 J 8 V" says aluminium oxide/,
    );
    expect(planned('marking: A 60 J 8 V, abrasive: pink alumina, ').job.wheel.abrasive).toBe('pink alumina');
  });

  test('one out of order is refused with the order', () => {
    expect(() => planned('marking: 60 J 8 V, ')).toThrow(/abrasive, grit, grade, structure, bond/);
  });

  test('harder than usual is warned of, by a grade later when wet', () => {
    const wet = '\n  coolant: flood';
    expect(codes('marking: A 60 J 8 V, ')).not.toContain('grade-hard');
    expect(codes('marking: A 60 K 8 V, ')).toContain('grade-hard');
    expect(codes('marking: A 60 K 8 V, ', wet)).not.toContain('grade-hard');
    expect(codes('marking: A 60 L 8 V, ', wet)).toContain('grade-hard');
    expect(codes('')).not.toContain('grade-hard');
  });

  test('marked faster than its bond usually is: 33 m/s vitrified, 48 m/s organic, metal bodies by their own mark', () => {
    // 75 mm at 10,000 rev/min runs at 39.3 m/s, at 15,100 at 59.3.
    const fast = (marking: string, speed: number) =>
      planJob(
        sampleJob(SAMPLE, [MARKED, marking], ['ratedSpeed: 5100', `ratedSpeed: ${speed}`]),
      ).findings.map(({ code }) => code);
    expect(fast(MARKED, 10_000)).toContain('marked-fast');
    expect(fast('marking: A 60 J 8 B, ', 10_000)).not.toContain('marked-fast');
    expect(fast('', 10_000)).not.toContain('marked-fast');
    expect(fast('', 15_100)).toContain('marked-fast');
    expect(fast('marking: B126, ', 15_100)).not.toContain('marked-fast');
    // 35 m/s is how 6500 ft/min is marked in metres.
    expect(fast(MARKED, 8900)).not.toContain('marked-fast');
  });

  test('every steel has a usual wheel; wet allows a harder grade, the softer steel the hardest', () => {
    const table = readGrindingTable(shippedTexts.grinding());
    const usual = ['high-speed steel', 'high-vanadium', 'tool steel', 'mild steel'].map((material) => {
      const figures = figuresFor(table, material, 'aluminium oxide');
      if (figures.usual === 'none') throw new Error(material);
      return figures.usual;
    });
    for (const { dry, wet } of usual) expect(isHarder(wet[1], dry[1])).toBe(true);
    const hardest = usual
      .map(({ dry }) => dry[1])
      .toSorted()
      .at(-1);
    expect(hardest).toBe(usual.at(-1)?.dry[1]);
    expect(figuresFor(table, 'unobtainium', 'aluminium oxide').usual).toBe('none');
  });
});
