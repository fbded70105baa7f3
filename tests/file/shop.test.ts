/** A job that draws on a shop file: what it takes, whose word counts, where a fault is shown. */
import { describe, expect, test } from 'vitest';
import { InputError } from '../../src/file/problem.js';
import { readJobFile } from '../../src/file/read.js';
import { sampleText, shippedTexts } from '../arbitrary/samples.js';

const SHOP = `units: mm
machine: bench-mill-rotary
wheels:
  white cup: { shape: straight cup, diameter: 75, rim: 8, height: 40, ratedSpeed: 5100, abrasive: aluminium oxide }
blanks:
  round 8: { shape: round, size: 8, material: high-speed steel }
holdings:
  on the axis: { index: rotary axis, slope: { by: fixture, sineBar: 100 }, nose: { halfHeight: 12 } }
punch: { relief: 2.5 deg, headTilt: 1 deg }
grinding:
  roughInfeed: 0.02
  finishInfeed: 0.005
  finishAllowance: 0.03
  sparkOut: 3
  strokeSpeed: 1200
  spindleSpeed: 4000
  order: rough first
  measuringStop: after roughing
  sequence: opposite pairs
  wear: compensate
`;
const JOB = `title: stem-bolt hex 5
punch:
  section: hex
  acrossFlats: 5.06
  flatLength: 10
  tolerance: { plus: 0.015, minus: 0.015 }
blank: { of: round 8, stickOut: 24 }
wheel: white cup
holding: on the axis
`;

const read = (job: string, shop: string | 'none' = SHOP) =>
  readJobFile(
    { file: 'job.yaml', text: job },
    {
      ...shippedTexts,
      shop: () => (shop === 'none' ? 'none' : { file: 'shop.yaml', text: shop }),
    },
  );

const faultOf = (job: string, shop: string | 'none' = SHOP) => {
  try {
    read(job, shop);
  } catch (error) {
    if (error instanceof InputError) return error.problems[0];
    throw error;
  }
  return undefined;
};

describe('a job of nine lines', () => {
  test('is the job written out whole', () => {
    const whole = readJobFile({ file: 'stem.yaml', text: sampleText('stem-bolt-hex-5') }, shippedTexts).job;
    expect(read(JOB).job).toEqual(whole);
  });

  test('says what it took', () => {
    const { shop } = read(JOB).source;
    expect(shop === 'none' ? [] : shop.taken).toEqual([
      'punch',
      'blank round 8',
      'wheel white cup',
      'grinding',
      'holding on the axis',
      'units',
      'machine bench-mill-rotary',
    ]);
  });

  test('what the job says itself counts, key by key', () => {
    const { job } = read(
      `${JOB.replace('wheel: white cup', 'wheel: { of: white cup, land: 2 }')}grinding: { sparkOut: 5 }\nmachine: knee-mill-by-hand\n`.replace(
        'holding: on the axis',
        'holding: { index: by hand, device: { kind: indexing block, sides: 6 }, nose: { halfHeight: 12 } }',
      ),
    );
    expect(job.wheel).toMatchObject({ diameter: 75, land: 2 });
    expect(job.grinding).toMatchObject({ sparkOut: 5, finishAllowance: 0.03 });
    expect(job.machineName).toBe('knee-mill-by-hand');
  });
});

describe('a job that names nothing of a shop', () => {
  test('is read as it stands, whatever lies beside it', () => {
    const text = sampleText('stem-bolt-hex-5');
    const shop = SHOP.replace('sparkOut: 3', 'sparkOut: 9');
    expect(read(text.replace('  sparkOut: 3\n', ''), shop).job.grinding.sparkOut).toBe(3);
    expect(read(text, shop).source.shop).toBe('none');
  });

  test('unless it says shop: then it takes what it does not say', () => {
    const text = `shop: shop.yaml\n${sampleText('stem-bolt-hex-5').replace('  sparkOut: 3\n', '')}`;
    expect(read(text, SHOP.replace('sparkOut: 3', 'sparkOut: 9')).job.grinding.sparkOut).toBe(9);
  });
});

describe('faults are shown where they stand', () => {
  test.each<[string, string, string | 'none', object]>([
    [
      'a wheel that is in no drawer',
      JOB.replace('wheel: white cup', 'wheel: white cop'),
      SHOP,
      {
        file: 'job.yaml',
        line: 8,
        key: 'wheel',
        message: expect.stringMatching(
          /"white cop" is not among the wheels of shop\.yaml; did you mean white cup\?/,
        ),
      },
    ],
    [
      'no shop file at all',
      JOB,
      'none',
      {
        file: 'job.yaml',
        key: 'wheel',
        message: expect.stringMatching(/no shop\.yaml lies beside the job or above/),
      },
    ],
    [
      'a bad value of the shop',
      JOB,
      SHOP.replace('relief: 2.5 deg', 'relief: 25 deg'),
      { file: 'shop.yaml', line: 9, key: 'punch.relief' },
    ],
    [
      'a bad value of an entry',
      JOB,
      SHOP.replace('rim: 8', 'rim: -8'),
      { file: 'shop.yaml', line: 4, key: 'wheel.rim' },
    ],
    [
      'a bad value of the job',
      JOB.replace('stickOut: 24', 'stickOut: 0'),
      SHOP,
      { file: 'job.yaml', line: 7, key: 'blank.stickOut' },
    ],
    [
      'a key the shop has not',
      JOB,
      SHOP.replace('wheels:', 'wheles:'),
      { file: 'shop.yaml', line: 3, key: 'wheles', message: expect.stringMatching(/did you mean wheels\?/) },
    ],
    [
      'other units',
      `units: inch\n${JOB}`,
      SHOP,
      {
        file: 'job.yaml',
        line: 1,
        key: 'units',
        message: expect.stringMatching(/would be read in the other/),
      },
    ],
    ['a shop that is no text', `shop: 3\n${JOB}`, SHOP, { file: 'job.yaml', line: 1, key: 'shop' }],
  ])('%s', (_, job, shop, wanted) => {
    expect(faultOf(job, shop)).toMatchObject(wanted);
  });
});
