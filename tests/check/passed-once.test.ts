/** Programs that would hurt and once passed: each edit of a good sample must be refused by the code named. */
import { describe, expect, test } from 'vitest';
import { checkPrograms } from '../../src/check/dry-run.js';
import type { CheckCode } from '../../src/check/finding.js';
import { linesOf } from '../../src/check/read/lines.js';
import { createTracer } from '../../src/check/read/trace.js';
import { sampleJob } from '../arbitrary/samples.js';
import { samplePrograms } from '../scripts/sample-programs.js';

const HEX = 'stem-bolt-hex-5';
const textOf = (name: string): string => samplePrograms(name)[0]?.text ?? '';

/** What is found, but for the one thing true of every program here: it has been changed. */
function codesOf(name: string, text: string): readonly CheckCode[] {
  const { findings } = checkPrograms([{ name: 'p.nc', text }], sampleJob(name));
  return findings.map(({ code }) => code).filter((code) => code !== 'text-changed');
}

/** Blocks put in before the wheel is stopped for the end. */
const beforeEnd = (...blocks: readonly string[]): string => {
  const text = textOf(HEX);
  const place = text.lastIndexOf('M5\n');
  return `${text.slice(0, place)}${blocks.join('\n')}\n${text.slice(place)}`;
};

const back = ['G0 Z29.437', 'G0 X40.674', 'G0 Y0.000'];

describe('moves', () => {
  test.each<[string, CheckCode, readonly string[]]>([
    [
      'a rapid across the punch, from one side to the other',
      'rapid-in-stock',
      ['G0 Y-60.', 'G0 X0.', 'G0 Z2.6', 'G0 Y60.', ...back],
    ],
    [
      'a full circle that begins and ends beside the punch',
      'infeed-in-stock',
      ['G0 Y60.', 'G0 Z2.6', 'G2 X40.674 Y60. I0. J-60. F600', ...back],
    ],
    [
      'down beside the punch, over the holding',
      'wheel-near-nose',
      ['G0 Y45.', 'G0 X-60.', 'G0 Z3.', ...back],
    ],
    [
      '2 micrometres from the nose, where the job keeps 3 mm',
      'wheel-near-nose',
      ['G0 Z12.', 'G1 X14.048 F600', 'G1 X40.674', 'G0 Z29.437'],
    ],
    ['a height with its sign lost', 'below-the-flats', ['G0 Z-29.437', 'G0 Z29.437']],
    ['an arc that leaves the travel and comes back', 'outside-travel', ['G2 X40.674 Y0. I100. J0. F600']],
    [
      'a stroke in inverse time, 13 times too fast',
      'stroke-too-fast',
      ['G0 Z2.528', 'G93', 'G1 X27.581 F590', 'G94', 'G1 X40.674 F600', 'G0 Z29.437'],
    ],
  ])('%s', (_, code, blocks) => expect(codesOf(HEX, beforeEnd(...blocks))).toContain(code));

  test('down over the punch while Y is still unsaid', () => {
    const text = textOf(HEX).replace(
      'G53 G0 Z-5.000\nG0 X40.674 Y0.000\n',
      'G0 X20.\nG0 Z-5.\nG0 Y70.\nG0 Z29.437\nG0 X40.674\nG0 Y0.\n',
    );
    expect(codesOf(HEX, text)).toContain('start-unknown');
  });

  test('up to the top of the machine before anything else is as good as any start', () => {
    expect(codesOf(HEX, textOf(HEX).replace('G54\n', 'G54\nG53 G0 Z0.\n'))).toEqual([]);
    expect(codesOf(HEX, textOf(HEX).replace('G53 G0 Z-5.000\n', 'G53 G0 Z-150.\n'))).toContain(
      'start-unknown',
    );
  });

  test('an index with the rim touching the tip', () => {
    expect(
      codesOf(HEX, textOf(HEX).replace(/G0 Z29\.4\d\d\n\(INDEX TO 60/, 'G1 X37.675\n(INDEX TO 60')),
    ).toContain('index-near-work');
  });
});

describe('what the program before may have left on', () => {
  test.each(['G40', 'G49', 'G94', 'G54'])('%s never said', (word) => {
    expect(codesOf(HEX, textOf(HEX).replace(`${word}\n`, ''))).toContain('mode-unsaid');
  });

  test('after a stop nothing is taken for granted: position, speed and feed are said again', () => {
    const text = textOf('bearing-cap-square-8');
    const stop = text.indexOf('M0\n', text.indexOf('INDEX TO 90 DEG'));
    const without = (what: RegExp): string => text.slice(0, stop) + text.slice(stop).replace(what, '');
    expect(codesOf('bearing-cap-square-8', without(/N\d+ S3000\n/))).toContain('speed-missing');
    expect(codesOf('bearing-cap-square-8', without(/N\d+ G0 X53\.209 Y0\.000\n/))).toContain('start-unknown');
    expect(codesOf('bearing-cap-square-8', without(/ F1200\.0/))).toContain('feed-missing');
  });

  test('F in the block that first says the units counts in whatever was before', () => {
    const text = textOf(HEX).replace('G21\n', 'G21 F600\n').replace(' F1200.0', '');
    expect(codesOf(HEX, text)).toContain('feed-missing');
  });
});

describe('stops and ends', () => {
  test('an optional stop turns no punch', () => {
    expect(
      codesOf('bearing-cap-square-8', textOf('bearing-cap-square-8').replaceAll(' M0\n', ' M1\n')),
    ).toContain('index-without-stop');
  });

  test('hands at the end need the coast-down too', () => {
    const text = textOf(HEX);
    expect(
      codesOf(HEX, text.slice(0, text.lastIndexOf('G4 P')) + text.slice(text.lastIndexOf('M30'))),
    ).toContain('hands-before-rest');
  });

  test('hands need the room the job retracts to', () => {
    const text = textOf('bearing-cap-square-8');
    const end = text.indexOf('INDEX TO 180 DEG');
    const low =
      text.slice(0, end).replace(/G0 Z31\.325(\n\S+ )G0 Z84\.000(?![\s\S]*G0 Z84)/, 'G0 Z8.000$1G0 Z8.000') +
      text.slice(end);
    expect(low).not.toBe(text);
    expect(codesOf('bearing-cap-square-8', low)).toContain('stop-too-low');
  });

  test('a control that ignores stops gets none', () => {
    const job = sampleJob('valve-cap-triangle');
    const text = samplePrograms('valve-cap-triangle')[0]?.text.replace('M2\n', 'M0\nM2\n') ?? '';
    expect(checkPrograms([{ name: 'p', text }], job).findings.map(({ code }) => code)).toContain(
      'stop-ignored',
    );
  });

  test('a % in mid-program', () => {
    expect(codesOf(HEX, textOf(HEX).replace('(FINISH FLAT 1)\n', '%\n'))).toContain('percent-misplaced');
  });

  test('a program without a name is a program too', () => {
    const text = linesOf(textOf(HEX)).slice(0, -3).join('\n');
    const codes = checkPrograms([{ name: '', text }], sampleJob(HEX)).findings.map(({ code }) => code);
    expect(codes).toContain('end-missing');
  });
});

describe('the wheel', () => {
  test('a speed other than the job says', () => {
    expect(codesOf(HEX, textOf(HEX).replace('S4000', 'S300'))).toEqual(['speed-slow']);
    expect(codesOf(HEX, textOf(HEX).replace('S4000', 'S4800'))).toContain('speed-not-ordered');
  });

  test('a speed raised while turning needs its spin-up', () => {
    const text = textOf(HEX).replace('S4000\nM3\nG4 P5.0\n', 'S400\nM3\nG4 P5.0\nS4000\n');
    expect(codesOf(HEX, text)).toContain('spin-up-short');
  });

  test('on a lathe T turns the tool post and G99 may change the feed', () => {
    const lathe = textOf('pedal-pin-pentagon-lathe');
    expect(codesOf('pedal-pin-pentagon-lathe', lathe.replace('G97\n', 'G97\nT0202\n'))).toContain(
      'code-refused',
    );
    expect(codesOf('pedal-pin-pentagon-lathe', lathe.replace('G97\n', 'G97\nG99\n'))).toContain(
      'code-refused',
    );
    expect(codesOf('pedal-pin-pentagon-lathe', lathe.replace('G97\n', ''))).toContain('mode-unsaid');
  });
});

describe('text that an interpreter refuses', () => {
  test.each<[string, CheckCode]>([
    ['G1 X2(c)7.5', 'number-malformed'],
    ['G1 N10 X5.', 'block-number-late'],
    ['M7 M8', 'group-twice'],
    ['(PRINT, 1)', 'comment-active'],
    ['N10 /G1 X5.', 'text-unreadable'],
    ['G64', 'code-refused'],
  ])('%s', (line, code) => {
    const tracer = createTracer(sampleJob(HEX).machine);
    const rows = ['G21', 'G90', 'G0 X0 Y0', 'G0 Z0', 'G1 X1. F100', line].flatMap((each) =>
      tracer.line(each),
    );
    const read = rows.at(-1)?.refused?.code ?? codesOf(HEX, `${line}\n`).find((each) => each === code);
    expect(read).toBe(code);
  });

  test('a semicolon where the control knows brackets', () => {
    expect(codesOf(HEX, textOf(HEX).replace('(FINISH FLAT 1)', '; FINISH FLAT 1'))).toContain(
      'comment-style',
    );
  });
});

describe('the punch', () => {
  const shifted = (by: (flat: number) => number): string => {
    let flat = 0;
    return linesOf(textOf(HEX))
      .map((line) => {
        flat = Number(/FLAT (\d) OF/.exec(line)?.[1] ?? flat);
        return line.replace(
          /^(G1 (?:X\S+ Y\S+ )?Z)(\S+)/,
          (_, head: string, z: string) => `${head}${(Number(z) + by(flat)).toFixed(3)}`,
        );
      })
      .join('\n');
  };

  test('a lobed hex measures true across every pair and stays refused', () => {
    const report = checkPrograms(
      [{ name: 'p', text: shifted((flat) => (flat % 2 === 0 ? 0.2 : -0.2)) }],
      sampleJob(HEX),
    );
    const lobes = report.findings.filter(({ code }) => code === 'flat-off');
    expect(lobes.length).toBe(6);
    for (const { across } of report.punch.flats) expect(across).toBeCloseTo(5.061, 2);
  });

  test('a flat 7 mm too long', () => {
    // In infeeds that are allowed: the far end has as much to lose, so only the length tells.
    const text = textOf(HEX)
      .replaceAll('X27.581', 'X24.581')
      .replace(/G1 X40\.674 Y0\.000 Z4\.478/g, 'G1 X40.674 Y0.000 Z4.578');
    expect(codesOf(HEX, text)).toContain('flat-long');
  });
});
