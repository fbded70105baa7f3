import { readFileSync } from 'node:fs';
import Ajv2020 from 'ajv/dist/2020.js';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { InputError } from '../../src/file/problem.js';
import { readJob, readMachine } from '../../src/file/read.js';
import { readYaml } from '../../src/file/yaml-source.js';
import {
  sampleJob,
  sampleNames,
  sampleRead,
  sampleText,
  shippedProfile,
  shippedTexts,
} from '../arbitrary/samples.js';

const HEX = 'stem-bolt-hex-5';
const MACHINES = [
  'bench-mill-rotary',
  'clamped-rotary-mill',
  'hobby-three-axis',
  'inch-mill',
  'knee-mill-by-hand',
  'lathe-with-tool-post',
];

function problemsOf(from: string, to: string, name = HEX): readonly string[] {
  try {
    sampleJob(name, [from, to]);
  } catch (error) {
    if (error instanceof InputError)
      return error.message.split('\n').map((line) => line.replace(/^samples\/\S+?yaml/, 'job'));
    throw error;
  }
  return [];
}

const WRONG: readonly (readonly [from: string, to: string, said: RegExp])[] = [
  [
    'flatLength: 10',
    'flatLenght: 10',
    /^job:7:3 punch\.flatLenght: unknown key; did you mean flatLength\? known here: section[^\n]*$/,
  ],
  ['  relief: 2.5 deg', '  # none', /punch\.relief: is missing: slope of the flats/],
  [
    'section: hex',
    'section: hexx',
    /^job:5:12 punch\.section: "hexx" is not known here; did you mean hex\?/m,
  ],
  [
    'section: hex\n  acrossFlats: 5.06',
    'socket: hex 5.5',
    /^job:5:11 punch\.socket: no table has "hex 5\.5"; the nearest are .*hex 5, hex 6/m,
  ],
  ['section: hex\n', 'socket: hex 5\n', /punch\.acrossFlats: the socket gives section and size/],
  ['  section: hex\n', '', /punch: section is missing: hex, square, .* or socket: hex 5/],
  ['section: hex', 'section: hex\n  socketShare: 0.5', /punch\.socketShare: goes with socket/],
  [
    'sparkOut: 3',
    'sparkOut: 3\n  limit: {removalRate: 2 mm}',
    /limit\.removalRate: "2 mm" is not a removal rate/,
  ],
  ['wear: compensate', 'wear: yes', /grinding\.wear: .*(known here|must be)/],
  ['section: hex', 'section: {sides: 13}', /punch\.section\.sides: must be at most 12/],
  ['section: hex', 'section: {sides: 5.5}', /punch\.section\.sides: must be a whole number/],
  ['section: hex', 'section: {side: 5}', /punch\.section\.side: unknown key; did you mean sides\?/],
  [
    'section: hex',
    'section: {flats: [{at: 0, distanse: 3}]}',
    /flats\[0\]\.distanse: unknown key; did you mean distance\?/,
  ],
  [
    'section: hex',
    'section: triangle',
    /punch\.acrossFlats: a section of 3 flats is sized by inscribedDiameter/,
  ],
  [
    'acrossFlats: 5.06',
    'inscribedDiameter: 5',
    /punch\.inscribedDiameter: a section of 6 flats is sized by acrossFlats/,
  ],
  ['  acrossFlats: 5.06\n', '', /punch: acrossFlats is missing/],
  ['acrossFlats: 5.06', 'acrossFlats: 5,06 mm', /^job:6:16 punch\.acrossFlats: .*decimal comma/m],
  ['acrossFlats: 5.06', 'acrossFlats: -5', /-5 must be more than 0/],
  ['acrossFlats: 5.06', 'acrossFlats: 5 kg', /"kg" in "5 kg" is no unit/],
  ['acrossFlats: 5.06', 'acrossFlats: [5]', /punch\.acrossFlats: write a number, or a number with its unit/],
  ['relief: 2.5 deg', 'relief: 2.5 mm', /punch\.relief: "2\.5 mm" is not an angle/],
  ['relief: 2.5 deg', 'relief: 25 deg', /must be more than 0 and less than 20 deg/],
  ['diameter: 75', 'diameter: .nan', /wheel\.diameter: .*(not a finite number|write a number)/],
  ['diameter: 75', 'diameter: .inf', /wheel\.diameter: .*(not a finite number|write a number)/],
  ['ratedSpeed: 5100', 'ratedSpeed: fast', /wheel\.ratedSpeed: /],
  ['sparkOut: 3', 'sparkOut: many', /grinding\.sparkOut: must be a number/],
  ['sparkOut: 3', 'sparkOut: -1', /grinding\.sparkOut: must be at least 0/],
  ['units: mm', 'units: cm', /units: "cm" is not known here; did you mean mm\?/],
  ['order: rough first', 'order: rough fist', /did you mean rough first\?/],
  ['  order: rough first\n', '', /measuringStop: needs every flat roughed first/],
  [
    'measuringStop: after roughing',
    'measuringStop: after each pair',
    /measuringStop: after each pair goes only with order: flat by flat/,
  ],
  [
    'measuringStop: after roughing\n  sequence: opposite pairs',
    'measuringStop: after the first pair\n  sequence: [1, 2, 3, 4, 5, 6]',
    /grinding\.sequence: must bring every flat up beside the one that faces it/,
  ],
  [
    'order: rough first\n  measuringStop: after roughing',
    'order: one pass all round\n  measuringStop: after the first pair',
    /measuringStop: roughs two flats before the others/,
  ],
  [
    'order: rough first',
    'order: one pass all round',
    /grinding\.order: wears the rim evenly over the flats already; write wear: ignore/,
  ],
  [
    'order: rough first\n  measuringStop: after roughing',
    'order: flat by flat\n  finishSequence: reversed',
    /finishSequence: needs a round that finishes/,
  ],
  [
    'order: rough first\n  measuringStop: after roughing',
    'order: flat by flat\n  dressingStop: before finishing',
    /dressingStop: needs flats roughed before others are finished/,
  ],
  ['sparkOut: 3', 'sparkOut: 3\n  dressingStop: { flats: 0 }', /dressingStop\.flats: must be at least 1/],
  ['sparkOut: 3', 'sparkOut: 3\n  dressingStop: { volume: 5 mm }', /dressingStop\.volume: .*not a volume/],
  [
    'finishAllowance: 0.03',
    'finishAllowance: 0',
    /grinding\.measuringStop: leaves nothing to correct with a finishAllowance of 0/,
  ],
  ['sparkOut: 3', 'sparkOut: 3\n  approach: 0.01', /grinding\.approach: must be at least 0\.1 mm/],
  ['order: rough first', 'finishAllowance: 1', /this key stands twice in the same part/],
  ['finishInfeed: 0.005', 'finishInfeed: 0.05', /grinding\.finishInfeed: is larger than roughInfeed/],
  ['index: rotary axis', 'index: by hand', /holding\.device: is missing: say what the punch is indexed with/],
  [
    'index: rotary axis',
    'index: rotary axis\n  device: {kind: indexing block, sides: 6}',
    /holding\.device: is not used with a rotary axis/,
  ],
  [
    'index: rotary axis',
    'index: by hand\n  device: {kind: block, sides: 6}',
    /device\.kind: must be indexing block, spin indexer, gear or dividing head/,
  ],
  [
    'machine: bench-mill-rotary',
    'machine: knee-mill-by-hand',
    /holding\.index: knee-mill-by-hand has no rotary axis/,
  ],
  ['  order: rough first', '  order: rough first\n  coolant: flood\n', /^$/],
  [
    'shape: straight cup',
    'shape: straight',
    /wheel\.shape: "straight" grinds with its periphery.*the side of a straight wheel breaks/,
  ],
  ['shape: straight cup', 'shape: Plain wheel', /write plain, on a machine whose spindle lies across/],
  [
    'shape: straight cup',
    'shape: straigth cup',
    /wheel\.shape: "straigth cup" is not known here; did you mean straight cup/,
  ],
  ['  roughInfeed', '\troughInfeed', /^job:14:1: a tab before the key; indent with spaces/m],
];

const BLOCK = 'bearing-cap-square-8';
const RAIL = 'by-hand/bell-cap-square-5';
const PLAIN = 'by-hand/saddle-pin-hex-6';
const ROUND = 'order: rough first\n  measuringStop: after roughing';

/** One key against another, a job for each: what the file of messages shows besides. */
const TOGETHER: readonly (readonly [name: string, from: string, to: string])[] = [
  [BLOCK, 'sides: 4', 'sides: 4, measured: [12, 12.01]'],
  [BLOCK, 'sides: 4', 'sides: 4, measured: [12, 12.9, 12, 12]'],
  [BLOCK, 'sides: 4', 'sides: 4, takeBack: true'],
  ['lathe', 'slope: { by: fixture }', 'slope: { by: head }'],
  [HEX, 'slope: { by: fixture, sineBar: 100 }', 'slope: { by: fixture, using: sine bar }'],
  [HEX, 'slope: { by: fixture, sineBar: 100 }', 'slope: { by: fixture, using: block sides }'],
  [HEX, 'slope: { by: fixture, sineBar: 100 }', 'slope: { by: head, using: strip }'],
  [RAIL, 'using: block sides', 'sineBar: 100'],
  [RAIL, 'spindleSpeed', 'limit: { removalRate: 1 }\n  spindleSpeed'],
  [RAIL, 'spindleSpeed', 'wear: compensate\n  spindleSpeed'],
  [BLOCK, 'order: rough first\n  measuringStop: after roughing', 'order: one pass all round'],
  ['crank-bolt-hex-8', 'order: rough first', 'order: one pass all round'],
  [
    HEX,
    ROUND,
    'order: one pass all round\n  measuringStop: after roughing\n  rest: { every: 20, for: 30 s }',
  ],
  [HEX, 'finishAllowance: 0.03', 'finishAllowance: 0\n  dressingStop: before finishing'],
  [HEX, ROUND, 'order: one pass all round\n  measuringStop: after roughing\n  dressingStop: { flats: 2 }'],
  ['axle-key-double-d', 'spindleSpeed: ', 'aim: 6 mm, spindleSpeed: '],
  [HEX, 'sparkOut: 3', 'sparkOut: 3\n  aim: 5.2 mm'],
  [HEX, 'machine: bench-mill-rotary', 'machine: horizontal-mill-rotary'],
  [PLAIN, 'rim: 13', 'rim: 213'],
  [PLAIN, 'rim: 13', 'rim: 13, land: 2'],
  [PLAIN, 'halfHeight', 'halfHeight: 15 }\n  lean: 0.2 deg\n  nose: { halfHeight'],
  [HEX, 'rim: 8', 'rim: 8, land: 9'],
  ['valve-cap-triangle', 'spindleSpeed: ', 'coolant: flood, spindleSpeed: '],
  [HEX, 'rim: 8', 'rim: 40'],
  [HEX, 'ratedSpeed: 5100', 'ratedSpeed: 51000'],
];

describe('a job that cannot be used says where, what and what would do', () => {
  test('every such message stands in a file, to be read aloud', async () => {
    const told = [
      ...WRONG.map(([from, to]) => [HEX, from, to] as const),
      ...TOGETHER.map(
        ([name, from, to]) => [name === 'lathe' ? 'pedal-pin-pentagon-lathe' : name, from, to] as const,
      ),
    ].flatMap(([name, from, to]) =>
      problemsOf(from, to, name).map((line) => line.replace(/^job:\d+:\d+ /, '')),
    );
    const lines = [...new Set(told)].toSorted();
    expect(lines.length).toBeGreaterThan(WRONG.length);
    await expect(lines.map((line) => `${line}\n`).join('')).toMatchFileSnapshot('../messages/job.txt');
  });

  test.each(TOGETHER)('%s: %s -> %s', (name, from, to) => {
    expect(problemsOf(from, to, name === 'lathe' ? 'pedal-pin-pentagon-lathe' : name)).not.toEqual([]);
  });

  test.each(WRONG)('%s -> %s', (from, to, said) => {
    expect(problemsOf(from, to).join('\n')).toMatch(said);
  });

  test.each([
    ['title: clamp: M8', 'job:1:8: a second colon in one line; put a text that holds a colon in quotes'],
    ['title:x\npunch:\n  shape: hex', 'job:1:1: no colon and space after a key in this line'],
    ['title: x\npunch:\n  shape: hex\n   flats: 6', 'job:3:10: the next line is indented deeper'],
    ['title: x\npunch:\n  a: [1, 2\nb: 3', 'job:4:1: this line starts in another column'],
    ['title: @x', 'job:1:8: a value cannot start with @; put it in quotes'],
    ['title: "x\npunch: 3', 'job:2:9: something is not closed'],
    ["title: 'x'y", 'job:1:11: something follows a value that had ended'],
    ['%\nO0001\nG21', 'job:1:1: this is a program; here belongs a file of keys'],
    ['(brake-bolt hex 6)\nG21 G90', 'job:1:1: this is a program; here belongs a file of keys'],
  ])('what is not YAML is said in words of the trade: %j', (text, said) => {
    expect(() => readYaml(text, 'job')).toThrow(said);
  });

  test('every problem is reported, not the first alone', () => {
    try {
      sampleJob(
        HEX,
        ['flatLength: 10', 'flatLength: no'],
        ['rim: 8', 'rim: 0'],
        ['units: mm', 'units: mm\ncolour: red'],
      );
      expect.unreachable();
    } catch (error) {
      expect((error as InputError).problems.map(({ key }) => key).toSorted()).toEqual([
        'colour',
        'punch.flatLength',
        'wheel.rim',
      ]);
    }
  });

  test('flats that face the same way are refused by number', () => {
    const twin = 'section: {flats: [{at: 10, distance: 3}, {at: 370, distance: 3.1}]}';
    expect(problemsOf('  section: hex\n  acrossFlats: 5.06', `  ${twin}`).join()).toMatch(
      /flats 1 and 2 face the same way/,
    );
  });

  test.each(['', 'just text', '- a\n- list', '{', '\0', 'a: *b', '%YAML 9.9\n---\n: :'])(
    '%j is an InputError',
    (text) => {
      expect(() => readJob({ file: 'job.yaml', text }, shippedTexts)).toThrow(InputError);
    },
  );

  test('a profile with a fault is named with its own line', () => {
    const broken = {
      file: 'mill.yaml',
      text: shippedProfile('bench-mill-rotary').text.replace('rapid: 2500', 'rapid: none'),
    };
    const read = () =>
      readJob({ file: 'job.yaml', text: sampleText(HEX) }, { ...shippedTexts, machine: () => broken });
    expect(read).toThrow(/^mill\.yaml:\d+:\d+ rapid: /);
  });
});

describe('what is read', () => {
  test('a job written in inches is the same job', () => {
    const plain = sampleJob(HEX);
    const inches = sampleJob(
      HEX,
      ['acrossFlats: 5.06', 'acrossFlats: 5.06/25.4 in'],
      ['strokeSpeed: 1200', 'strokeSpeed: 1200/25.4 in/min'],
    );
    expect(inches.punch.section[0]?.distance).toBeCloseTo(plain.punch.section[0]?.distance ?? 0, 12);
    expect(inches.grinding.strokeSpeed).toBeCloseTo(plain.grinding.strokeSpeed, 9);
  });

  test('a speed marked in m/s becomes rev/min of that wheel', () => {
    expect(sampleJob(HEX, ['ratedSpeed: 5100', 'ratedSpeed: 20 m/s']).wheel.ratedSpeed).toBeCloseTo(
      5092.96,
      2,
    );
  });

  test('defaults are listed by key, what is written is not', () => {
    const keys = sampleRead(HEX)
      .source.defaults()
      .map(({ key }) => key);
    expect(keys).toContain('grinding.clearance');
    expect(keys).toContain('punch.corners');
    expect(keys).not.toContain('grinding.roughInfeed');
    // By blank and wheel: boron nitride on tool steel.
    expect(sampleRead('valve-cap-triangle').source.defaults()).toContainEqual({
      key: 'grinding.roughInfeed',
      value: '0.015 mm',
    });
  });

  test.each(MACHINES)('shipped profile %s reads, and its JSON Schema agrees', (name) => {
    expect(readMachine(shippedProfile(name)).title).not.toBe('');
    const schema = JSON.parse(
      readFileSync(new URL('../../shared/schema/machine.schema.json', import.meta.url), 'utf8'),
    );
    const validate = new Ajv2020.default({ strict: false }).compile(schema);
    expect(validate(parse(shippedProfile(name).text)), JSON.stringify(validate.errors)).toBe(true);
    expect(validate({ ...parse(shippedProfile(name).text), colour: 'red' })).toBe(false);
  });

  test.each(sampleNames)('sample %s satisfies the JSON Schema shipped for editors', (name) => {
    const schema = JSON.parse(
      readFileSync(new URL('../../shared/schema/job.schema.json', import.meta.url), 'utf8'),
    );
    const validate = new Ajv2020.default({ strict: false }).compile(schema);
    expect(validate(parse(sampleText(name))), JSON.stringify(validate.errors)).toBe(true);
    expect(validate({ ...parse(sampleText(name)), units: 'cm' })).toBe(false);
  });
});

test.each([
  ['play: -0.01', /must not be negative/],
  ['play: 3 deg', /not a length/],
  ['play: much', /"much" .*write for example/],
])('a machine profile with %s is refused by name', (line, message) => {
  const { file, text } = shippedProfile('clamped-rotary-mill');
  expect(() => readMachine({ file, text: `${text}${line}\n` })).toThrow(message);
});
