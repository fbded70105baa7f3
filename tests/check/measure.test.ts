import { describe, expect, test } from 'vitest';
import { checkPrograms } from '../../src/check/dry-run.js';
import { sampleJob } from '../arbitrary/samples.js';
import { samplePrograms } from '../scripts/sample-programs.js';

const punchOf = (name: string, edit: (text: string) => string = (text) => text) => {
  const programs = samplePrograms(name).map(({ text }) => ({ name, text: edit(text) }));
  return checkPrograms(programs, sampleJob(name));
};

describe('the punch a program would leave', () => {
  test('a double-D keeps lands of the blank: chord between the flats 6 mm apart on a 9 mm blank', () => {
    // Source: derived; the lands run from corner to corner of a rectangle 6 high in a circle of 9.
    const { punch } = punchOf('axle-key-double-d');
    expect(punch.land).toBeCloseTo(6, 2);
    expect(punch.flats.map(({ across }) => Number(across.toFixed(2)))).toEqual([6, 6]);
    expect(punchOf('stem-bolt-hex-5').punch.land).toBe('none');
  });

  test('angles between flats come from the words of the program', () => {
    const { punch } = punchOf('pedal-pin-pentagon-lathe');
    for (const { toNext } of punch.flats) expect((toNext * 180) / Math.PI).toBeCloseTo(72, 9);
  });

  test('one flat ground 0.03 mm too far is under size and off the axis by a third of it', () => {
    // Source: derived; least-squares shift of a hexagon, (2 / 6) x the error of one flat.
    const text = samplePrograms('stem-bolt-hex-5')[0]?.text ?? '';
    const start = text.lastIndexOf('(INDEX TO 180 DEG');
    const end = text.lastIndexOf('(INDEX TO 240 DEG');
    const deeper = (part: string): string =>
      part.replace(
        /\bG1 (X\S+ Y\S+ )?Z(\S+)/g,
        (_, axes: string | undefined, z: string) => `G1 ${axes ?? ''}Z${(Number(z) - 0.03).toFixed(3)}`,
      );
    const { punch, findings, verdict } = punchOf(
      'stem-bolt-hex-5',
      () => text.slice(0, start) + deeper(text.slice(start, end)) + text.slice(end),
    );
    expect(verdict).toBe('refused');
    expect(findings.map(({ code }) => code)).toContain('size-under');
    expect(punch.flats[3]?.distance).toBeCloseTo(2.5004, 3);
    expect(punch.offAxis).toBeCloseTo(0.01, 4);
  });

  test('a stroke that ends too early leaves the flat short', () => {
    const { findings } = punchOf('stem-bolt-hex-5', (text) => text.replaceAll('X27.581', 'X28.581'));
    expect(findings.filter(({ code }) => code === 'flat-short').length).toBe(6);
  });

  test('spark-out strokes left out are said', () => {
    const { findings, verdict } = punchOf('stem-bolt-hex-5', (text) =>
      text
        .replaceAll('(SPARK OUT', '(SPARK')
        .replaceAll(/(\(SPARK FLAT \d\)\n)G1 X27.581 F1200.0\n(G1 X38.177\nG1 X27.581\n){2}/g, '$1'),
    );
    const codes = findings.map(({ code }) => code).filter((code) => code !== 'text-changed');
    expect(codes).toEqual(Array(6).fill('spark-out-short'));
    expect(verdict).toBe('run');
  });
});
