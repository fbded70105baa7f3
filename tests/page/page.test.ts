/**
 * The page for people without Node, in headless Chromium by playwright-core, from a file with the network cut: every
 * sample's program is the command's to the byte, jobs are filled in by keyboard, nothing hostile does more than show.
 * Source: axe-core's rules for people who do not see or point.
 */
import { existsSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { fileURLToPath } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { checkPrograms } from '../../src/check/dry-run.js';
import { readStandingFile } from '../../src/file/standing-file.js';
import { parsed, valueAt, withValue } from '../../src/page/fields.js';
import { sampleJob, sampleNames, sampleText } from '../arbitrary/samples.js';
import { samplePrograms } from '../scripts/sample-programs.js';
import { hasChromium, openBrowser, openPage } from '../sheet/browser.js';

const built = fileURLToPath(new URL('../../dist/page.html', import.meta.url));
const HEX = 'stem-bolt-hex-5';

/** The files that the page's save buttons give, by name. */
async function saved(page: Page, label: RegExp): Promise<{ readonly name: string; readonly text: string }[]> {
  const files = [];
  for (const button of await page.getByRole('button', { name: label }).all()) {
    const [download] = await Promise.all([page.waitForEvent('download'), button.click()]);
    files.push({ name: download.suggestedFilename(), text: readFileSync(await download.path(), 'utf8') });
  }
  return files;
}

const verdictOf = (page: Page) => page.locator('.said');

describe.skipIf(!hasChromium)('the page in Chromium (skipped where chromium is not installed)', () => {
  let browser: Browser;
  let html = '';
  beforeAll(async () => {
    expect(existsSync(built), 'npm run build makes dist/page.html').toBe(true);
    html = readFileSync(built, 'utf8');
    browser = await openBrowser();
  });
  afterAll(() => browser?.close());

  test('is one file under 900 kB that asks for nothing', async () => {
    expect(html.length).toBeLessThan(900_000);
    // The libraries inside come with their licences.
    for (const name of ['zod', 'yaml', 'mathjs', 'gcode-parser'])
      expect(html).toMatch(new RegExp(`\\n?${name} \\d+\\.\\d+\\.\\d+, [A-Z]`));
    const { page, complaints } = await openPage(browser, html);
    await expect.poll(() => verdictOf(page).textContent()).toMatch(/Sound on paper/);
    expect(complaints).toEqual([]);
    await page.close();
  });

  test.each(sampleNames)("%s: its program is the command's to the byte", async (name) => {
    const { page, complaints } = await openPage(browser, html);
    await page.selectOption('#sample', name);
    await expect.poll(() => page.locator('#job-text').inputValue()).toBe(sampleText(name));
    await expect.poll(() => verdictOf(page).textContent()).toMatch(/Sound on paper/);
    const files = await saved(page, /^Save .*\.nc$/);
    expect(files.map(({ text }) => text)).toEqual(samplePrograms(name).map(({ text }) => text));
    expect((await saved(page, /^Save the job$/)).map(({ text }) => text)).toEqual([sampleText(name)]);
    expect(complaints).toEqual([]);
    await page.close();
  });

  test('for hand wheels it gives what the command gives, and no program', async () => {
    const { page, complaints } = await openPage(browser, html);
    await page.selectOption('#sample', 'hub-cap-square-6, by hand');
    await expect.poll(() => verdictOf(page).textContent()).toMatch(/For hand wheels/);
    expect(await page.getByRole('button', { name: /\.nc$/ }).count()).toBe(0);
    const [sheet] = await saved(page, /^Save the sheet$/);
    expect(sheet?.text).toBe(
      readFileSync(new URL('../../samples/by-hand/hub-cap-square-6.html', import.meta.url), 'utf8'),
    );
    await page.getByLabel('Readings').fill('1-3=6.13');
    expect(await page.locator('.corrected').textContent()).toBe('');
    await page.getByLabel('Machine', { exact: true }).selectOption('knee-mill-by-hand');
    await expect
      .poll(() => page.getByRole('button', { name: /^Save hub-cap-square-6\.nc$/ }).count())
      .toBe(1);
    expect(complaints).toEqual([]);
    await page.close();
  });

  test('by keyboard alone: another size, an error at its field and how to cure it, and cured', async () => {
    const { page } = await openPage(browser, html);
    const size = page.getByLabel('Across flats');
    await size.focus();
    await page.keyboard.press('Control+a');
    await page.keyboard.type('9');
    await expect.poll(() => verdictOf(page).textContent()).toMatch(/Not ready/);
    await expect
      .poll(() => page.locator('.complaints').textContent())
      .toMatch(/a blank of 10\.\d+ mm covers them/);
    const go = page.getByRole('button', { name: 'go there' }).last();
    await go.focus();
    await page.keyboard.press('Enter');
    expect(await page.evaluate(() => document.activeElement?.id)).toBe('field-blank-size');
    expect(await page.getByLabel('Size', { exact: true }).getAttribute('aria-invalid')).toBe('true');
    await page.keyboard.press('Control+a');
    await page.keyboard.type('11');
    await expect.poll(() => verdictOf(page).textContent()).toMatch(/Sound on paper/);
    expect(await page.locator('#job-text').inputValue()).toMatch(/acrossFlats: 9\n/);
    await page.close();
  });

  test('any program is dry-run: opened, refused by name, and back to its own', async () => {
    const { page } = await openPage(browser, html);
    const text = (samplePrograms(HEX)[0]?.text ?? '').replace('G1 Z4.298 F1200.0\n', 'G1 Z3.818 F1200.0\n');
    await page.setInputFiles('#open', { name: 'mine.nc', mimeType: 'text/plain', buffer: Buffer.from(text) });
    await expect.poll(() => verdictOf(page).textContent()).toMatch(/Do not run\..*mine\.nc/);
    const sheet = page.frameLocator('iframe');
    await expect.poll(() => sheet.locator('.verdict').textContent()).toMatch(/0\.408 mm into the punch/);
    await page.getByRole('button', { name: /own program/ }).click();
    await expect.poll(() => verdictOf(page).textContent()).toMatch(/Sound on paper/);
    await page.close();
  });

  test('what was read comes to what adjust says, and to a program that finishes', async () => {
    const { page, complaints } = await openPage(browser, html);
    await expect.poll(() => verdictOf(page).textContent()).toMatch(/Sound on paper/);
    await page.getByLabel('Readings').fill('1-4=5.150\n2-5=5.148\n3-6=0.2028');
    const corrected = page.locator('.corrected');
    await expect.poll(() => corrected.textContent()).toMatch(/is it in inches\?/);
    await page.getByLabel('Readings').fill('1-4=5.150\n2-5=5.148\n3-6=5.151');
    await expect.poll(() => corrected.textContent()).toMatch(/stem-bolt hex 5: roughed, as you read it/);
    expect(await corrected.textContent()).toMatch(/lower the zero: add -0\.015 mm to Z of the work offset/);
    const files = await saved(page, /^Save .*finish/);
    expect(files.map(({ name }) => name)).toEqual([
      'stem-bolt-hex-5-finish.nc',
      'stem-bolt-hex-5-finish.standing.yaml',
    ]);
    const job = sampleJob(HEX);
    const standing = readStandingFile({ file: 's', text: files[1]?.text ?? '' }, job);
    const report = checkPrograms([{ name: 'p.nc', text: files[0]?.text ?? '' }], { ...job, standing });
    expect(report.findings).toEqual([]);
    expect(complaints).toEqual([]);
    await page.close();
  });

  test('several files are taken together: a set of programs is dry-run as a set', async () => {
    const { page } = await openPage(browser, html);
    await page.selectOption('#sample', 'valve-cap-triangle');
    await expect.poll(() => verdictOf(page).textContent()).toMatch(/Sound on paper/);
    const set = samplePrograms('valve-cap-triangle').map(({ suffix, text }) => ({
      name: `cap${suffix}.nc`,
      mimeType: 'text/plain',
      buffer: Buffer.from(text),
    }));
    await page.setInputFiles('#open', set);
    await expect.poll(() => verdictOf(page).textContent()).toMatch(/Sound on paper\..*cap-06\.nc/);
    await page.close();
  });

  test('while a change is not worked through there is nothing of the job before to save', async () => {
    const { page } = await openPage(browser, html);
    await expect.poll(() => verdictOf(page).textContent()).toMatch(/Sound on paper/);
    await page.getByLabel('Across flats').fill('5.5');
    expect(await page.getByRole('button', { name: /^Save .*nc$/ }).count()).toBe(0);
    await expect.poll(() => verdictOf(page).textContent()).toMatch(/Sound on paper/);
    const [file] = await saved(page, /^Save .*\.nc$/);
    expect(file?.text).toMatch(/ACROSS FLATS 5\.500 MM/);
    await page.close();
  });

  test('a socket takes the place of a section, and the other way round; another job takes its readings with it', async () => {
    const { page } = await openPage(browser, html);
    await page.getByLabel('For sockets').fill('hex 6');
    await expect.poll(() => page.locator('#job-text').inputValue()).not.toMatch(/section:|acrossFlats:/);
    await expect.poll(() => verdictOf(page).textContent()).toMatch(/Sound on paper/);
    await page.getByLabel('Section').fill('hex');
    await page.getByLabel('Across flats').fill('5.06');
    await expect.poll(() => page.locator('#job-text').inputValue()).not.toMatch(/socket:/);
    await expect.poll(() => verdictOf(page).textContent()).toMatch(/Sound on paper/);
    await page.getByLabel('Readings').fill('1-4=5.150 2-5=5.148 3-6=5.151');
    await expect.poll(() => page.locator('.corrected').textContent()).toMatch(/as you read it/);
    await page.selectOption('#sample', 'bearing-cap-square-8');
    expect(await page.getByLabel('Readings').inputValue()).toBe('');
    await page.close();
  });

  test("a machine profile of one's own is opened and named", async () => {
    const { page } = await openPage(browser, html);
    const profile = readFileSync(
      new URL('../../shared/machines/bench-mill-rotary.yaml', import.meta.url),
      'utf8',
    );
    const mine = profile.replace(/^maxFeed:.*$/m, 'maxFeed: 900');
    await page.setInputFiles('#open', {
      name: 'mine.yaml',
      mimeType: 'text/yaml',
      buffer: Buffer.from(mine),
    });
    // A file is read after it is opened.
    await expect.poll(() => page.getByLabel('Machine', { exact: true }).inputValue()).toBe('mine.yaml');
    await expect
      .poll(() => page.locator('.complaints').textContent())
      .toMatch(/more than the machine feeds; 900 mm\/min or less/);
    await page.close();
  });

  test('a hostile job and program do nothing but show', async () => {
    const evil = '</script><img src=x onerror=alert(1)><script>alert(2)</script>';
    const { page, complaints } = await openPage(browser, html);
    await page.locator('#job-text').fill(sampleText(HEX).replace('stem-bolt hex 5', `'${evil}'`));
    await expect.poll(() => page.frameLocator('iframe').locator('h1').textContent()).toBe(evil);
    await page.setInputFiles('#open', {
      name: `<b>${evil}.nc`,
      mimeType: 'text/plain',
      buffer: Buffer.from(`(${evil})\nM30\n`),
    });
    await expect.poll(() => verdictOf(page).textContent()).toMatch(/Do not run/);
    await page.locator('#job-text').fill(`${evil}: [`);
    await expect.poll(() => verdictOf(page).textContent()).toMatch(/Not ready/);
    expect(complaints).toEqual([]);
    await page.close();
  });

  test.each([400, 800, 1400])('at %i px nothing runs off to the side', async (width) => {
    const { page } = await openPage(browser, html, { width });
    await expect.poll(() => verdictOf(page).textContent()).toMatch(/Sound on paper/);
    expect(
      await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth),
    ).toBeLessThanOrEqual(0);
    await page.close();
  });

  test.each(['light', 'dark'] as const)('axe-core finds no serious fault, %s', async (scheme) => {
    const { page } = await openPage(browser, html);
    await page.emulateMedia({ colorScheme: scheme });
    await page.getByLabel('Across flats').fill('9');
    await expect.poll(() => verdictOf(page).textContent()).toMatch(/Not ready/);
    const axe = createRequire(import.meta.url).resolve('axe-core/axe.min.js');
    await page.evaluate(readFileSync(axe, 'utf8'));
    const faults = await page.evaluate(async () => {
      const { axe: checker } = window as unknown as {
        axe: {
          run: () => Promise<{ violations: { id: string; impact: string; nodes: { html: string }[] }[] }>;
        };
      };
      const { violations } = await checker.run();
      return violations.map(({ id, impact, nodes }) => `${impact} ${id} ${nodes[0]?.html ?? ''}`);
    });
    expect(faults.filter((fault) => /^(serious|critical)/.test(fault))).toEqual([]);
    await page.close();
  });
});

describe('fields and text', () => {
  test('a field changes its one place in the text: comments and every other line stay', () => {
    const text = sampleText(HEX);
    const changed = withValue(text, 'blank.size', '9');
    expect(changed).toContain('# A hex punch for the sockets of our stem bolts');
    const document = parsed(changed);
    expect(document === 'broken' ? '' : valueAt(document, 'blank.size')).toBe('9');
    const differs = changed.split('\n').filter((line, i) => line !== text.split('\n')[i]);
    expect(differs.length).toBe(1);
  });

  test('what is emptied is gone, what is new is there, and a device is written as people write it', () => {
    const text = withValue(
      withValue(sampleText(HEX), 'grinding.wear', ''),
      'holding.device',
      '{ kind: indexing block, sides: 6 }',
    );
    expect(text).not.toMatch(/wear:/);
    const document = parsed(text);
    expect(document === 'broken' ? '' : valueAt(document, 'holding.device')).toBe(
      '{ kind: indexing block, sides: 6 }',
    );
    expect(document === 'broken' ? '' : valueAt(document, 'punch.socket')).toBe('');
  });

  test('a number of flats over the order is enough, and a key without a place is left alone', () => {
    expect(withValue(sampleText(HEX), 'blank.flats', '0.25')).toMatch(/flats: \{ over: 0\.25 \}/);
    expect(withValue('blank: 5\n', 'blank.size', '9')).toBe('blank: 5\n');
  });

  test('text that is no YAML is left alone', () => {
    expect(withValue('a: [', 'blank.size', '9')).toBe('a: [');
  });
});
