/** Programs that would hurt, with the block that would do it, and honest ones that once were refused; and their jobs. */
import { readFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { ProgramText } from '../../src/check/dry-run.js';
import type { CheckCode } from '../../src/check/finding.js';
import { readJob } from '../../src/file/read.js';
import type { Job } from '../../src/job/job.js';
import { shippedProfile, shippedTexts } from './samples.js';

export const hostile = new URL('../hostile/', import.meta.url);
export const honest = new URL('../honest/', import.meta.url);
export const textOf = (folder: URL, name: string): string =>
  readFileSync(new URL(`${name}.nc`, folder), 'latin1');

export function jobOf(name: string): Job {
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
export const REFUSED: readonly (readonly [program: string, job: string, code: CheckCode, line: number])[] = [
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

/** Written before programs went up first: the start check lets them, with a word. */
const START: readonly CheckCode[] = ['height-unsaid'];
/** By hand, on a control that has an exact stop. */
const BY_HAND: readonly CheckCode[] = ['path-mode-unsaid', 'height-unsaid'];

export const PASSED: readonly (readonly [program: string, job: string, warnings: readonly CheckCode[]])[] = [
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

/** Every one of them with its job, to be checked. */
export function* trickyPrograms(): Iterable<{
  readonly programs: readonly ProgramText[];
  readonly job: Job;
}> {
  for (const [program, job] of REFUSED)
    yield { programs: [{ name: 'p.nc', text: textOf(hostile, program) }], job: jobOf(job) };
  for (const [program, job] of PASSED)
    yield { programs: [{ name: 'p.nc', text: textOf(honest, program) }], job: jobOf(job) };
}
