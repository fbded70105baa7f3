/**
 * Programs that would hurt and once were called good (tests/hostile), each refused now at the block that would do it,
 * and honest ones that once were refused (tests/honest), each passed now, with the warnings named and no others.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { checkPrograms } from '../../src/check/dry-run.js';
import type { CheckCode } from '../../src/check/finding.js';
import { readJob } from '../../src/file/read.js';
import type { Job } from '../../src/job/job.js';
import { checkSentence } from '../../src/wording/check.js';
import { shippedProfile, shippedTexts } from '../arbitrary/samples.js';

const hostile = new URL('../hostile/', import.meta.url);
const honest = new URL('../honest/', import.meta.url);
const text = (folder: URL, name: string): string => readFileSync(new URL(`${name}.nc`, folder), 'latin1');

function jobOf(name: string): Job {
  const file = new URL(`jobs/${name}.yaml`, hostile);
  const folder = `${dirname(fileURLToPath(file))}/`;
  return readJob(
    { file: `${name}.yaml`, text: readFileSync(file, 'utf8') },
    {
      ...shippedTexts,
      machine: (machine) =>
        machine.endsWith('.yaml')
          ? { file: machine, text: readFileSync(`${folder}${machine}`, 'utf8') }
          : shippedProfile(machine),
    },
  );
}

/** Program, job, and the first error: its code and line; 0 for the program as a whole. */
const REFUSED: readonly (readonly [program: string, job: string, code: CheckCode, line: number])[] = [
  ['M0-then-rapid-through-all', 'r', 'stop-too-low', 92],
  ['after-M0-low-X-over-work', 'r', 'stop-too-low', 92],
  ['after-M1-low-X-over-work', 'r', 'stop-too-low', 92],
  ['first-X-over-shank-unknown-Z', 'r', 'start-unknown', 31],
  ['M0-then-diagonal-rapid', 'r', 'start-unknown', 95],
  ['M1-then-diagonal-rapid', 'r', 'wheel-near-nose', 95],
  ['A-circle-after-all', 'r', 'index-while-moving', 333],
  ['spindle-stop-in-cut', 'r', 'wheel-near-metal', 63],
  ['S-drop-in-stock', 'r', 'wheel-near-metal', 63],
  ['start-wheel-1um-over-metal', 'r', 'wheel-near-metal', 41],
  ['noDecimal-retract', 'r', 'point-missing', 32],
  ['rough-5mm-too-long', 'r', 'roughed-long', 0],
  ['micro-bites-on-a-corner', 'r', 'flat-not-ordered', 0],
  ['creep-plunge', 'r', 'infeed-in-stock', 320],
  ['rapid-4um-over-raw-stock', 'r', 'rapid-near-stock', 41],
  ['rapid-plunge-3um-beside-metal', 'r', 'plunge-near-stock', 41],
  ['approach-3um', 'r', 'plunge-near-stock', 43],
  ['G94-restated-mid-stroke', 'r', 'feed-missing', 64],
  ['G4-with-axis', 'r', 'dwell-with-axis', 63],
  ['A-not-restated-after-M0', 'r', 'index-unknown', 101],
  ['A-incremental-after-M0', 'r', 'index-unknown', 101],
  ['T-word', 'r', 'code-refused', 87],
  ['R-arc-plane-unsaid', 'r', 'arc-plane-unsaid', 88],
  ['dwell-10min-in-cut', 'r', 'dwell-in-contact', 63],
  ['feed-tiny', 'r', 'feed-crawls', 44],
  ['M0-low-rotary', 'r', 'stop-too-low', 90],
  ['lone-CR-in-block', 'r', 'return-alone', 330],
  ['stop-over-shank-then-diagonal-rapid', 'h', 'start-unknown', 121],
  ['rotary-words-on-by-hand-job', 'hr', 'axis-turns-nothing', 33],
  ['box-dogleg-rapid', 'rbox', 'start-unknown', 31],
  ['box-after-stop-straight-through2', 'rbox', 'start-unknown', 31],
  ['first-move-through-box-unknown-Z', 'rbox', 'start-unknown', 31],
  ['lathe-box-everywhere', 'lbox', 'start-unknown', 32],
  ['box-0.01-away-table-0.03-under', 'rclose', 'start-unknown', 31],
  ['relief-below-tilt', 'tilt', 'job-unsafe', 0],
  ['hexblock-other-sides', 'block', 'set-wrong', 242],
  ['indexer-step', 'step', 'set-wrong', 41],
  ['bite-0.9', 'heavy', 'job-unsafe', 0],
  ['handsOff-60', 'hho', 'coast-down-short', 108],
  ['SET-lie', 'h', 'set-wrong', 108],
  ['INDEX-contradiction', 'h', 'index-comment-malformed', 104],
  ['second-INDEX-malformed', 'h', 'index-comment-twice', 105],
  ['two-INDEX-comments', 'h', 'index-comment-twice', 105],
  ['coolant-on-at-hand-stop', 'h', 'coolant-at-stop', 109],
  ['dwellX-with-Z', 'rdx', 'dwell-with-axis', 64],
  ['parens-on-semicolon-control', 'rsc', 'comment-style', 1],
  ['paren-code-on-semicolon-control', 'rsc', 'comment-style', 1],
];

describe('programs that would hurt', () => {
  test.each(REFUSED)('%s (job %s): %s in line %i', (program, job, code, line) => {
    const report = checkPrograms([{ name: 'p.nc', text: text(hostile, program) }], jobOf(job));
    expect(report.verdict).toBe('refused');
    const [first] = report.findings.filter(({ severity }) => severity === 'error');
    expect([first?.code, first?.place.line]).toEqual([code, line]);
    for (const finding of report.findings) expect(checkSentence(finding, 'mm')).not.toMatch(/undefined|NaN/);
  });

  test('a set whose first file hides its retract behind a lone return', () => {
    const programs = [1, 2, 3, 4, 5, 6].map((i) => ({
      name: `${i}.nc`,
      text: text(hostile, `set-return-alone-${i}`),
    }));
    const report = checkPrograms(programs, jobOf('hb'));
    expect(report.verdict).toBe('refused');
    expect(report.findings.map(({ code }) => code)).toContain('return-alone');
  });

  test('a profile that leaves Y out of its work zero is refused by name', () => {
    expect(() => jobOf('rny')).toThrow(/workZero: y must stand in both travel and workZero/);
  });

  test('every program of the folder is in the list', () => {
    const files = readdirSync(hostile).filter((file) => file.endsWith('.nc') && !file.startsWith('set-'));
    const listed = [...REFUSED.map(([program]) => `${program}.nc`), 'workzero-without-y.nc'];
    expect(files.toSorted()).toEqual(listed.toSorted());
  });
});

/** Written before programs went up first: the start check lets them, with a word. */
const START: readonly CheckCode[] = ['height-unsaid'];
/** By hand, on a control that has an exact stop. */
const BY_HAND: readonly CheckCode[] = ['path-mode-unsaid', 'height-unsaid'];

const PASSED: readonly (readonly [program: string, job: string, warnings: readonly CheckCode[]])[] = [
  ['G0-up-from-flat', 'r', BY_HAND],
  ['one-way-lift-G0', 'r', BY_HAND],
  ['hand-A-before-X', 'r', BY_HAND],
  ['hand-M5-M30', 'r', [...BY_HAND, 'hands-before-rest']],
  ['hand-arc-retract', 'r', BY_HAND],
  ['park-low-beyond', 'r', BY_HAND],
  ['stop-M1', 'r', BY_HAND],
  ['M3-restated', 'r', BY_HAND],
  ['hand-start-30', 'r', [...BY_HAND, 'section-turned']],
  ['umlaut-comment', 'r', ['comment-odd', ...BY_HAND]],
  ['long-comment', 'r', ['comment-long', ...BY_HAND]],
  ['hand-G28', 'r', BY_HAND],
  ['S-within', 'r', [...BY_HAND, 'speed-slow']],
  ['hand-G64', 'r', START],
  ['hand-no-G49-G40', 'r', ['mode-unsaid', ...BY_HAND]],
  ['M0-first', 'h', START],
  ['M0-before-end', 'h', START],
  ['two-stops-in-a-row', 'h', START],
  ['hept-2dec', 'r7', [...BY_HAND, ...Array.from({ length: 6 }, () => 'index-off' as const)]],
  ['lathe-arc-long', 'l', START],
];

describe('honest programs', () => {
  test.each(PASSED)('%s (job %s)', (program, job, warnings) => {
    const report = checkPrograms([{ name: 'p.nc', text: text(honest, program) }], jobOf(job));
    expect(report.findings.filter(({ severity }) => severity === 'error')).toEqual([]);
    expect(report.verdict).toBe('run');
    // Some are headed as another job than the one they are held against.
    const codes = report.findings.map(({ code }) => code).filter((code) => code !== 'other-job');
    // A program of several stops is told of its height once a start.
    expect([...new Set(codes)].toSorted()).toEqual([...new Set(warnings)].toSorted());
  });

  test('T1 M6 and G43 H1, where the profile says that the wheel is tool 1', () => {
    const job = jobOf('r');
    const asTool = { ...job.machine, program: { ...job.machine.program, tool: 1 } };
    const programs = [{ name: 'p.nc', text: text(honest, 'hand-T1M6-G43').replace('G49 ', '') }];
    expect(checkPrograms(programs, { ...job, machine: asTool }).verdict).toBe('run');
    expect(checkPrograms(programs, job).verdict).toBe('refused');
  });

  test('every program of the folder is in the list', () => {
    const files = readdirSync(honest).filter((file) => file.endsWith('.nc'));
    const listed = [...PASSED.map(([program]) => `${program}.nc`), 'hand-T1M6-G43.nc'];
    expect(files.toSorted()).toEqual(listed.toSorted());
  });
});
