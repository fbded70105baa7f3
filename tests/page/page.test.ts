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
import { readJobFile } from '../../src/file/read.js';
import { readStandingFile, standingText } from '../../src/file/standing-file.js';
import { parsed, valueAt, withValue } from '../../src/page/fields.js';
import { planJob } from '../../src/plan/plan.js';
import { postForMachine, postProgram } from '../../src/post/program.js';
import { toTheEnd } from '../../src/quantity/in-steps.js';
import { errorWords, findingErrors, USUAL_PUNCHES } from '../../src/wording/errors.js';
import {
  sampleJob,
  sampleNames,
  sampleText,
  shippedTexts,
  trialNames,
  trialText,
} from '../arbitrary/samples.js';
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

  test('is one file under 800 kB that asks for nothing', async () => {
    expect(html.length).toBeLessThan(800_000);
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

  test("the jobs that newcomers tried, typed in: each program is the core's to the byte", async () => {
    const { page, complaints } = await openPage(browser, html);
    for (const name of trialNames) {
      await page.locator('#job-text').focus();
      await page.keyboard.press('Control+a');
      await page.keyboard.insertText(trialText(name));
      await expect
        .poll(() => page.getByLabel('Title').inputValue())
        .toBe(/title: (.*)/.exec(trialText(name))?.[1]);
      await expect.poll(() => verdictOf(page).textContent()).toMatch(/Sound on paper/);
      const { job } = readJobFile({ file: name, text: trialText(name) }, shippedTexts);
      // Buttons come once the change is worked through.
      await expect.poll(() => page.getByRole('button', { name: /^Save .*\.nc$/ }).count()).toBeGreaterThan(0);
      const files = await saved(page, /^Save .*\.nc$/);
      expect(files.map(({ text }) => text)).toEqual(postForMachine(planJob(job)).map(({ text }) => text));
    }
    expect(complaints).toEqual([]);
    await page.close();
  });

  test('a job filled in field by field, by keyboard alone', async () => {
    const { page } = await openPage(browser, html);
    await page.selectOption('#sample', HEX);
    await expect.poll(() => verdictOf(page).textContent()).toMatch(/Sound on paper/);
    const typed = async (label: string, value: string): Promise<void> => {
      await page.getByLabel(label, { exact: true }).first().focus();
      await page.keyboard.press('Control+a');
      await page.keyboard.type(value);
    };
    await typed('Title', 'crown-nut hex 6');
    await typed('For sockets', 'hex 6');
    await typed('Flat length', '12');
    await page.getByLabel('Size', { exact: true }).focus();
    await page.keyboard.press('Control+a');
    await page.keyboard.type('8');
    await typed('Diameter', '100');
    await typed('Marked speed', '3800');
    await typed('Spindle speed', '3000');
    await expect.poll(() => page.locator('#job-text').inputValue()).toMatch(/spindleSpeed: 3000/);
    await expect.poll(() => page.getByRole('button', { name: /^Save crown-nut-hex-6\.nc$/ }).count()).toBe(1);
    const [file] = await saved(page, /^Save .*\.nc$/);
    const [job] = await saved(page, /^Save the job$/);
    const read = readJobFile({ file: 'job.yaml', text: job?.text ?? '' }, shippedTexts).job;
    expect(read).toMatchObject({
      title: 'crown-nut hex 6',
      punch: { flatLength: 12 },
      wheel: { diameter: 100 },
    });
    expect(file?.text).toBe(postProgram(planJob(read)).text);
    await page.close();
  });

  test('programs that try to fool the checker are refused on the page as in the command', async () => {
    const { page, complaints } = await openPage(browser, html);
    await expect.poll(() => verdictOf(page).textContent()).toMatch(/Sound on paper/);
    const folder = new URL('../bad/', import.meta.url);
    for (const name of [
      'plunge',
      'rapid-through',
      'index-under-wheel',
      'speed-over-rating',
      'null',
      'not-ascii',
    ]) {
      const buffer = readFileSync(new URL(`${name}.nc`, folder));
      await page.setInputFiles('#open', { name: `${name}.nc`, mimeType: 'text/plain', buffer });
      await expect
        .poll(() => verdictOf(page).textContent())
        .toMatch(new RegExp(`Do not run\\..*${name}\\.nc`));
    }
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

  test('a long program is dry-run by another thread: how far it is, stopped, and done', async () => {
    const { page, complaints } = await openPage(browser, html);
    await expect.poll(() => verdictOf(page).textContent()).toMatch(/Sound on paper/);
    const own = samplePrograms(HEX)[0]?.text ?? '';
    // Strokes without infeed, over and over: a long way and nothing wrong but that they rub.
    const again = 'G1 X27.581 F1200.0\nG1 X40.674\n'.repeat(30_000);
    const long = own.replace('G1 X27.581\n', `G1 X27.581\n${again}G1 X27.581\n`);
    expect(long).not.toBe(own);
    const file = { name: 'long.nc', mimeType: 'text/plain', buffer: Buffer.from(long) };
    await page.setInputFiles('#open', file);
    const bar = page.getByRole('progressbar');
    await expect.poll(() => bar.count()).toBe(1);
    // The page lives meanwhile: it is stopped by a button.
    await page.getByRole('button', { name: 'Stop' }).click();
    await expect.poll(() => verdictOf(page).textContent()).toBe('Stopped: nothing is said of long.nc.');
    await page.setInputFiles('#open', file);
    await expect
      .poll(() => verdictOf(page).textContent(), { timeout: 60_000 })
      .toMatch(/^(Do not run|Sound on paper)\. long\.nc, 6\d{4} lines, dry-run against this job/);
    await page.getByRole('button', { name: /own program/ }).click();
    await expect
      .poll(() => verdictOf(page).textContent())
      .toMatch(/Sound on paper\. The program this job posts/);
    expect(complaints).toEqual([]);
    await page.close();
  });

  test('a program is read for the machine alone, without a job, and what is not judged is said', async () => {
    const { page, complaints } = await openPage(browser, html);
    await expect.poll(() => verdictOf(page).textContent()).toMatch(/Sound on paper/);
    const buffer = Buffer.from((samplePrograms(HEX)[0]?.text ?? '').replaceAll('F1200.0', 'F9000.0'));
    // A job that cannot be read does not stand in its way.
    await page.locator('#job-text').fill(`${sampleText(HEX)}nonsense: 1\n`);
    await expect.poll(() => verdictOf(page).textContent()).toMatch(/Not ready/);
    await page.setInputFiles('#open', { name: 'any.nc', mimeType: 'text/plain', buffer });
    await page.getByRole('button', { name: /Read it for bench-mill-rotary alone/ }).click();
    await expect
      .poll(() => verdictOf(page).textContent())
      .toMatch(/Do not run\. any\.nc: 2058 lines read, 0 skipped.*Not judged: what it does to a punch/);
    expect(await page.locator('.complaints').textContent()).toMatch(
      /any\.nc:\d+ a feed of 9000 mm\/min is more than/,
    );
    expect(await page.getByRole('button', { name: /^Save .*(nc|sheet)$/ }).count()).toBe(0);
    expect(complaints).toEqual([]);
    await page.close();
  });

  test('what may be off: 20000 punches by another thread, and here a slice at a time where there is none', async () => {
    const words = errorWords(
      planJob(sampleJob(HEX)),
      toTheEnd(findingErrors(planJob(sampleJob(HEX)), USUAL_PUNCHES, 1)),
    );
    const share =
      /\d+\.\d %/.exec(words.facts.find(([label]) => label === 'Simulated')?.[1] ?? '')?.[0] ?? 'none';
    for (const threads of [true, false]) {
      const { page, complaints } = await openPage(
        browser,
        threads
          ? html
          : html.replace(
              '<script type="text/plain"',
              '<script>delete globalThis.Worker</script><script type="text/plain"',
            ),
      );
      await page.getByRole('button', { name: /punches in thought/ }).click();
      const found = page.getByRole('region', { name: 'What may be off' });
      await expect.poll(() => found.textContent(), { timeout: 30_000 }).toContain(share);
      expect(await found.textContent()).toContain(words.title);
      await page.getByLabel('Across flats').fill('5.5');
      await expect.poll(() => found.textContent()).not.toContain(share);
      expect(complaints).toEqual([]);
      await page.close();
    }
  });

  test('two things at once: each is stopped by itself, and neither speaks of another job', async () => {
    const { page, complaints } = await openPage(browser, html);
    await expect.poll(() => verdictOf(page).textContent()).toMatch(/Sound on paper/);
    const own = samplePrograms(HEX)[0]?.text ?? '';
    const again = 'G1 X27.581 F1200.0\nG1 X40.674\n'.repeat(400_000);
    const long = own.replace('G1 X27.581\n', `G1 X27.581\n${again}G1 X27.581\n`);
    const file = { name: 'huge.nc', mimeType: 'text/plain', buffer: Buffer.from(long) };
    await page.setInputFiles('#open', file);
    await expect.poll(() => page.getByRole('progressbar').count()).toBe(1);
    await page.getByRole('button', { name: /punches in thought/ }).click();
    await expect.poll(() => page.getByRole('progressbar').count()).toBe(2);
    // Another job: what was begun for the one before is over, whatever it would have said.
    await page.selectOption('#sample', 'bearing-cap-square-8');
    await expect
      .poll(() => verdictOf(page).textContent())
      .toMatch(/Sound on paper\. The program this job posts/);
    await page.waitForTimeout(6000);
    expect(await verdictOf(page).textContent()).toMatch(/The program this job posts/);
    expect(await page.getByRole('progressbar').count()).toBe(0);
    // Each bar has its own stop.
    await page.selectOption('#sample', HEX);
    await page.setInputFiles('#open', file);
    await page.getByRole('button', { name: /punches in thought/ }).click();
    await expect.poll(() => page.getByRole('progressbar').count()).toBe(2);
    await page.locator('.said').getByRole('button', { name: 'Stop' }).click();
    await expect.poll(() => verdictOf(page).textContent()).toBe('Stopped: nothing is said of huge.nc.');
    await expect
      .poll(() => page.getByRole('region', { name: 'What may be off' }).textContent(), { timeout: 30_000 })
      .toMatch(/Simulated/);
    expect(await verdictOf(page).textContent()).toBe('Stopped: nothing is said of huge.nc.');
    expect(complaints).toEqual([]);
    await page.close();
  });

  test('an opened program is never passed over: hand wheels, a job that is not ready', async () => {
    const { page } = await openPage(browser, html);
    await page.selectOption('#sample', 'hub-cap-square-6, by hand');
    await expect.poll(() => verdictOf(page).textContent()).toMatch(/For hand wheels/);
    const buffer = Buffer.from(samplePrograms(HEX)[0]?.text ?? '');
    await page.setInputFiles('#open', { name: 'any.nc', mimeType: 'text/plain', buffer });
    await expect.poll(() => verdictOf(page).textContent()).toMatch(/Not ready/);
    expect(await page.locator('.complaints').textContent()).toMatch(
      /any\.nc cannot be held against a machine with hand wheels/,
    );
    await page.getByRole('button', { name: /own program/ }).click();
    await expect.poll(() => verdictOf(page).textContent()).toMatch(/For hand wheels/);
    // What would save time is of a job that is ready.
    await page.selectOption('#sample', HEX);
    await expect.poll(() => page.locator('.sooner').textContent()).toMatch(/Would save/);
    await page.getByLabel('Relief', { exact: true }).fill('0.5 deg');
    await expect.poll(() => verdictOf(page).textContent()).toMatch(/Not ready/);
    expect(await page.locator('.sooner').textContent()).toBe('');
    await page.close();
  });

  test('by slider: relief against clearance and regrinds, infeed against time', async () => {
    const { page } = await openPage(browser, html);
    await page.selectOption('#sample', 'brake-bolt-hex-6');
    await expect
      .poll(() => verdictOf(page).textContent())
      .toMatch(/Sound on paper.*clears the head by 1\.5 deg, 5 regrinds/);
    const relief = page.getByRole('slider', { name: 'Relief, by a slider' });
    await relief.focus();
    for (let i = 0; i < 5; i += 1) await page.keyboard.press('ArrowRight');
    expect(await page.getByLabel('Relief', { exact: true }).inputValue()).toBe('3.0 deg');
    await expect.poll(() => verdictOf(page).textContent()).toMatch(/clears the head by 2 deg, 4 regrinds/);
    expect(await page.locator('#job-text').inputValue()).toContain('relief: 3.0 deg');
    const infeed = page.getByRole('slider', { name: 'Rough infeed, by a slider' });
    await infeed.focus();
    await page.keyboard.press('Home');
    expect(await page.locator('#job-text').inputValue()).toContain('roughInfeed: 0.005 mm');
    // It stands where the job does, however that is written, or left to what is usual.
    await page.selectOption('#sample', 'crank-bolt-hex-8');
    await expect.poll(() => relief.inputValue()).toBe('2.5');
    await page.getByLabel('Rough infeed', { exact: true }).fill('20 um');
    await expect.poll(() => infeed.inputValue()).toBe('0.02');
    await page.getByLabel('Rough infeed', { exact: true }).fill('');
    await expect.poll(() => infeed.getAttribute('aria-valuetext')).toMatch(/^0\.02 mm$/);
    await page.close();
  });

  test('a shop file, an old job and how a punch stands are opened beside the job', async () => {
    const { page, complaints } = await openPage(browser, html);
    const textFile = (name: string, content: string) => ({
      name,
      mimeType: 'text/yaml',
      buffer: Buffer.from(content),
    });
    const drawer = (name: string): string =>
      readFileSync(new URL(`../../samples/drawers/${name}`, import.meta.url), 'utf8');
    // In whatever order they were picked.
    await page.setInputFiles('#open', [
      textFile('shop.yaml', drawer('shop.yaml')),
      textFile('pinch-bolt-hex-4.yaml', drawer('pinch-bolt-hex-4.yaml')),
    ]);
    await expect.poll(() => verdictOf(page).textContent()).toMatch(/Sound on paper/);
    expect(await page.locator('.beside').textContent()).toContain('shop.yaml: what is in the drawers');
    const [fromDrawers] = await saved(page, /^Save .*\.nc$/);
    const furnished = readJobFile(
      { file: 'p', text: drawer('pinch-bolt-hex-4.yaml') },
      { ...shippedTexts, shop: () => ({ file: 'shop.yaml', text: drawer('shop.yaml') }) },
    ).job;
    expect(fromDrawers?.text).toBe(postProgram(planJob(furnished)).text);
    // What is typed over a drawer stands in the job, beside the drawer's name.
    await page.getByLabel('Marked speed').fill('4500');
    await expect
      .poll(() => page.locator('#job-text').inputValue())
      .toMatch(/wheel: \{ of: .*, ratedSpeed: 4500 \}/);
    await expect
      .poll(() => page.frameLocator('iframe').locator('.sub').textContent())
      .toMatch(/Never over 4500 rev\/min/);
    await page.getByRole('button', { name: 'take away' }).click();
    await expect
      .poll(() => page.locator('.complaints').textContent())
      .toMatch(/draws on a shop file; open it too/);

    // A smaller punch out of an old one.
    const smaller = sampleText(HEX)
      .replace('acrossFlats: 5.06', 'acrossFlats: 4.06')
      .replace('flatLength: 10', 'flatLength: 8')
      .replace(
        'size: 8, stickOut: 24',
        'size: 8, stickOut: 24, flats: { of: stem-bolt-hex-5.yaml, faceOff: 0.75 }',
      );
    // With a name before its own and after it: the one nobody speaks of is the job.
    for (const old of ['a-old.yaml', 'z-old.yaml']) {
      await page.setInputFiles('#open', [
        textFile(old, sampleText(HEX)),
        textFile('m.yaml', smaller.replace('stem-bolt-hex-5.yaml', old)),
      ]);
      await expect
        .poll(() => page.locator('.beside').textContent())
        .toContain(`${old}: a job this one speaks of`);
      await expect.poll(() => verdictOf(page).textContent()).toMatch(/Sound on paper/);
    }
    await page.setInputFiles('#open', [textFile('smaller.yaml', smaller)]);
    await expect
      .poll(() => page.locator('.complaints').textContent())
      .toMatch(/stem-bolt-hex-5\.yaml is not here; open its file too/);
    await page.setInputFiles('#open', [textFile('stem-bolt-hex-5.yaml', sampleText(HEX))]);
    await expect.poll(() => verdictOf(page).textContent()).toMatch(/Sound on paper/);
    expect(await page.locator('#job-text').inputValue()).toContain('acrossFlats: 4.06');

    // How a punch stands, as a check wrote it.
    await page.selectOption('#sample', HEX);
    await expect.poll(() => verdictOf(page).textContent()).toMatch(/Sound on paper/);
    const job = sampleJob(HEX);
    const half = samplePrograms(HEX)[0]?.text.split('(MEASURING STOP')[0] ?? '';
    const { left } = checkPrograms([{ name: 'half.nc', text: half }], job);
    await page.setInputFiles('#open', [textFile('half.standing.yaml', standingText(job, left))]);
    await expect
      .poll(() => page.locator('.beside').textContent())
      .toContain('half.standing.yaml: how the punch stands');
    await expect.poll(() => page.getByRole('button', { name: /^Save .*\.nc$/ }).count()).toBe(1);
    const [rest] = await saved(page, /^Save .*\.nc$/);
    expect(rest?.name).toBe('stem-bolt-hex-5-goes-on.nc');
    expect(await verdictOf(page).textContent()).toContain('going on from half.standing.yaml');
    expect(rest?.text).toContain('RE-ENTRY');
    expect(
      checkPrograms([{ name: 'rest.nc', text: rest?.text ?? '' }], { ...job, standing: left }).verdict,
    ).toBe('run');
    expect(complaints).toEqual([]);
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
