/**
 * Ten jobs of the workshop, from plan to checked program, in a real terminal of 80 columns and 40 rows, as a person sees
 * them: screens are held in tests/terminal/screens. Skipped where tmux is not installed.
 */
import { cpSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { trialNames } from '../arbitrary/samples.js';
import { COLUMNS, DONE, hasTmux, openTerminal, ROWS } from './tmux.js';

const bin = fileURLToPath(new URL('../../bin/flatwright.js', import.meta.url));
const jobs = fileURLToPath(new URL('jobs', import.meta.url));

let folder = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'terminal-'));
  cpSync(jobs, folder, { recursive: true });
});
afterEach(() => rmSync(folder, { recursive: true }));

/** What one command writes on the screen, and how many rows of it. */
async function screenOf(...argv: readonly string[]) {
  const terminal = openTerminal(folder, [process.execPath, bin, ...argv]);
  try {
    const all = await terminal.shows(DONE);
    const code = Number(DONE.exec(all)?.[1]);
    const text = `${all.replace(DONE, '').trimEnd()}\n`;
    return { text, code, fits: terminal.scrolled() === 0 };
  } finally {
    terminal.close();
  }
}

const tooWide = (text: string): readonly string[] => text.split('\n').filter((line) => line.length > COLUMNS);

describe.skipIf(!hasTmux)('in a terminal of 80 x 40 (skipped where tmux is not installed)', () => {
  test.each(trialNames)(
    '%s: plan on one screen, post, check, sheet',
    async (name) => {
      const plan = await screenOf('plan', `${name}.yaml`);
      expect(plan.text.split('\n').length, 'rows').toBeLessThanOrEqual(ROWS);
      expect([plan.code, plan.fits]).toEqual([0, true]);
      // Hobby machines stop for nothing: one program a flat.
      const split = /--split/.test(plan.text) ? ['--split'] : [];
      const post = await screenOf('post', `${name}.yaml`, '-o', `${name}.nc`, ...split);
      expect([post.code, post.fits]).toEqual([0, true]);
      const programs = readdirSync(folder).filter((file) => file.startsWith(name) && file.endsWith('.nc'));
      const check = await screenOf('check', ...programs, '--job', `${name}.yaml`);
      expect([check.code, check.fits]).toEqual([0, true]);
      expect(check.text).toMatch(/^SOUND ON PAPER/);
      const sheet = await screenOf('sheet', `${name}.yaml`, '--text');
      expect(sheet.code).toBe(0);
      for (const { text } of [plan, post, check, sheet]) expect(tooWide(text)).toEqual([]);
      const screens = [
        `$ flatwright plan ${name}.yaml`,
        plan.text,
        `$ flatwright post ${name}.yaml -o ${name}.nc${split.map((word) => ` ${word}`).join('')}`,
        post.text,
        `$ flatwright check ${programs.join(' ')} --job ${name}.yaml`,
        check.text,
      ].join('\n');
      await expect(screens).toMatchFileSnapshot(`screens/${name}.txt`);
    },
    60_000,
  );

  test('a refused check ends with its verdict, however long it is', async () => {
    const bad = fileURLToPath(new URL('../bad/', import.meta.url));
    cpSync(join(bad, 'plunge.nc'), join(folder, 'plunge.nc'));
    const { text, code } = await screenOf('check', 'plunge.nc', '--job', 'cap-screw-hex-6.yaml');
    expect(code).toBe(1);
    expect(text.trimEnd().split('\n').at(-1)).toMatch(/^DO NOT RUN {2}\d+ errors?/);
    expect(tooWide(text)).toEqual([]);
  });

  test.each([
    ['size', ['size', 'hex', '5']],
    ['size of a D', ['size', 'D', '6', 'x', '4.5']],
    ['help', ['--help']],
    ['help sheet', ['help', 'sheet']],
    ['machines', ['machines']],
    ['resharpen', ['resharpen', 'cap-screw-hex-6.yaml']],
    ['plan --all', ['plan', 'cap-screw-hex-6.yaml', '--all']],
    ['plan --errors', ['plan', 'cap-screw-hex-6.yaml', '--errors']],
    ['block', ['block', 'chain-tool-square-10.yaml']],
    ['dial', ['dial', 'cap-screw-hex-6.yaml', '--machine', 'hand-mill']],
  ] as const)('%s stays within 80 columns', async (_, argv) => {
    const { text, code } = await screenOf(...argv);
    expect([text.length > 100, tooWide(text)]).toEqual([true, []]);
    expect(code).toBeLessThanOrEqual(2);
  });

  test('new asks, tells what does not go, and writes a job that plans', async () => {
    const terminal = openTerminal(folder, [process.execPath, bin, 'new', 'mine.yaml']);
    try {
      const answer = async (shown: string, ...typed: readonly string[]): Promise<void> => {
        await terminal.shows(shown);
        for (const each of typed) terminal.type(each);
      };
      await answer('what the punch is for', 'crown nut');
      await answer('its socket', 'hex6');
      await answer('number or name [bench-mill-rotary]', '');
      await answer('units of the job', '');
      await answer('length of the flats', '');
      await answer('relief', '1 deg');
      await answer('1 deg is not more than the head tilt of 1 deg', '2.5');
      await answer('round blank at hand', '6');
      await answer('6 does not cover the corners', '8');
      await answer('it goes: the corners are 7.034 mm across', '100');
      await answer('width of its rim', '');
      await answer('what is printed on it', '');
      await answer('speed marked on the wheel', '3800');
      await answer('speed to run the wheel at', '');
      await answer('the punch is turned by', '');
      await answer('the slope is set with', '');
      await answer('length of the sine bar', '');
      await terminal.shows('coolant');
      terminal.type('');
      const all = await terminal.shows(DONE);
      expect(all).toContain('mine.yaml: written; next: flatwright plan mine.yaml');
      expect(tooWide(all)).toEqual([]);
    } finally {
      terminal.close();
    }
    expect((await screenOf('plan', 'mine.yaml')).code).toBe(0);
  });
});
