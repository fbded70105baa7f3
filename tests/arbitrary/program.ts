/**
 * Random programs in the subset that reader and executor vouch for: straight moves and arcs in all planes,
 * both units, absolute and incremental, both feed modes, dwells, spindle, coolant, stops; written as people
 * write, with blanks, leading zeros, lower case, comments, words in any order. All data invented.
 */
import fc from 'fast-check';

const coordinate = fc.integer({ min: -50_000, max: 50_000 }).map((n) => n / 1000);

/** One number as one of the ways to write it. */
const written = (value: number): fc.Arbitrary<string> =>
  fc.constantFrom(
    `${value}`,
    value.toFixed(3),
    `${value < 0 ? '-' : '+'}${Math.abs(value)}`,
    `${value < 0 ? '-' : ''}0${Math.abs(value).toFixed(4)}`,
    `${value.toFixed(3)}`.replace(/(\d)$/, ' $1'),
  );

const word = (letter: string, value: fc.Arbitrary<number>): fc.Arbitrary<string> =>
  value
    .chain(written)
    .chain((text) =>
      fc.constantFrom(`${letter}${text}`, `${letter.toLowerCase()}${text}`, `${letter} ${text}`),
    );

const axisWords = fc
  .record({
    x: fc.option(coordinate),
    y: fc.option(coordinate),
    z: fc.option(coordinate),
    a: fc.option(coordinate),
  })
  .filter((axes) => Object.values(axes).some((value) => value !== null))
  .chain((axes) =>
    fc.tuple(
      ...Object.entries(axes)
        .filter((entry): entry is [string, number] => entry[1] !== null)
        .map(([axis, value]) => word(axis.toUpperCase(), fc.constant(value))),
    ),
  )
  .map((words): readonly string[] => words);

const feed = word('F', fc.integer({ min: 1, max: 2000 }));

const straight = fc
  .tuple(fc.constantFrom('G0', 'G1', 'G01', 'g00', 'G 1'), axisWords, feed)
  .map(([code, words, f]) => [code, ...words, f]);

/** A half or full circle by centre: the end lies opposite the start, or on it. Incremental, so it can. */
const planes = { G17: ['X', 'Y', 'I', 'J'], G18: ['X', 'Z', 'I', 'K'], G19: ['Y', 'Z', 'J', 'K'] } as const;
const arc = fc
  .record({
    plane: fc.constantFrom('G17' as const, 'G18' as const, 'G19' as const),
    code: fc.constantFrom('G2', 'G3', 'G03'),
    i: fc.integer({ min: 1, max: 20_000 }),
    j: fc.integer({ min: 1, max: 20_000 }),
    full: fc.boolean(),
    by: fc.constantFrom('centre', 'radius', 'longer'),
    f: feed,
  })
  .map(({ plane, code, i, j, full, by, f }) => {
    const [first, second, firstOffset, secondOffset] = planes[plane];
    const [di, dj] = [i / 1000, j / 1000];
    const end = full && by === 'centre' ? [0, 0] : [2 * di, 2 * dj];
    const radius = Math.hypot(di, dj) * 1.5;
    const how = {
      centre: [`${firstOffset}${di}`, `${secondOffset}${dj}`],
      radius: [`R${radius.toFixed(4)}`],
      longer: [`R-${radius.toFixed(4)}`],
    }[by];
    return [plane, 'G91', code, `${first}${end[0]?.toFixed(4)}`, `${second}${end[1]?.toFixed(4)}`, ...how, f];
  });

const single = fc.oneof(
  fc.constantFrom(
    'G90',
    'G91',
    'G17',
    'G18',
    'G19',
    'G40',
    'G49',
    'G61',
    'G98',
    'M8',
    'M9',
    'M7',
    'M5',
    'M48',
    '(a comment)',
    '',
  ),
  fc.integer({ min: 0, max: 5000 }).map((speed) => `S${speed} M3`),
  fc.integer({ min: 0, max: 9000 }).map((ms) => `G4 P${ms / 1000}`),
  fc.constantFrom('M0', 'M1 (if wanted)', '; rest of the line (all of it'),
);

const line: fc.Arbitrary<string> = fc.oneof(
  {
    weight: 5,
    arbitrary: straight
      .chain((words) => fc.shuffledSubarray(words, { minLength: words.length }))
      .map((words) => words.join(' ')),
  },
  { weight: 2, arbitrary: arc.map((words) => words.join(' ')) },
  { weight: 2, arbitrary: axisWords.map((words) => words.join('')) },
  { weight: 2, arbitrary: single },
  {
    weight: 1,
    arbitrary: fc.tuple(feed, fc.integer({ min: 1, max: 60 })).map(([f, n]) => `G93 G1 X${n} ${f}`),
  },
  { weight: 1, arbitrary: feed.map((f) => `G94 ${f}`) },
);

/** A whole program: units said once at the top, every axis said before the rest, an end. */
export const randomProgram: fc.Arbitrary<string> = fc
  .record({
    units: fc.constantFrom('G20', 'G21', 'g21'),
    lines: fc.array(line, { minLength: 1, maxLength: 40 }),
    numbers: fc.boolean(),
    end: fc.constantFrom('M2', 'M30', 'm02'),
  })
  .map(({ units, lines, numbers, end }) =>
    [units, 'G90 G94', 'G0 X0 Y0 Z0 A0', 'G1 X1 F100', ...lines, end]
      .map((text, i) => (numbers && text !== '' ? `N${10 * i} ${text}` : text))
      .join('\n'),
  );
