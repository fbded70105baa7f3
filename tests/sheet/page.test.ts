/**
 * The page in a browser: headless Chromium by playwright-core, with the network cut. Sources: axe-core's rules for
 * people who do not see or point; pdfinfo (poppler-utils) counts printed pages.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { checkPrograms } from '../../src/check/dry-run.js';
import { sheetAssets } from '../../src/command/shipped.js';
import { planJob } from '../../src/plan/plan.js';
import { sheetFor } from '../../src/sheet/of-plan.js';
import { sheetPage } from '../../src/sheet/page.js';
import { handNames, sampleJob, sampleNames } from '../arbitrary/samples.js';
import { samplePrograms } from '../scripts/sample-programs.js';
import { handPage, samplePage } from '../scripts/sample-sheets.js';
import { hasChromium, hasPdfinfo, openBrowser, openPage } from './browser.js';

const HEX = 'stem-bolt-hex-5';

/** The hex with one infeed half a millimetre deep. */
function brokenPage(): string {
  const text = (samplePrograms(HEX)[0]?.text ?? '').replace('G1 Z4.298 F1200.0\n', 'G1 Z3.818 F1200.0\n');
  return sheetPage(sheetFor(planJob(sampleJob(HEX)), [{ name: 'broken.nc', text }]), sheetAssets());
}

/** Text that lies over other text, by more than a hair; hidden and scrolled text does not count. */
const overlaps = (page: Page): Promise<readonly string[]> =>
  page.evaluate(() => {
    const HAIR = 2;
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    const found: { text: string; box: DOMRect; node: Node }[] = [];
    for (let node = walker.nextNode(); node !== null; node = walker.nextNode()) {
      const parent = node.parentElement;
      if (parent === null || (node.textContent ?? '').trim() === '') continue;
      if (parent.closest('script, style, noscript, #listing, select') !== null) continue;
      const range = document.createRange();
      range.selectNodeContents(node);
      for (const box of range.getClientRects()) {
        if (box.width > 0 && box.height > 0) found.push({ text: (node.textContent ?? '').trim(), box, node });
      }
    }
    return found.flatMap((a, i) =>
      found.slice(i + 1).flatMap((b) => {
        if (a.node === b.node) return [];
        const wide = Math.min(a.box.right, b.box.right) - Math.max(a.box.left, b.box.left);
        const high = Math.min(a.box.bottom, b.box.bottom) - Math.max(a.box.top, b.box.top);
        return wide > HAIR && high > HAIR ? [`${a.text} | ${b.text}`] : [];
      }),
    );
  });

const numbers = (page: Page): Promise<readonly string[]> =>
  page.locator('#numbers tbody tr td:nth-child(3)').allTextContents();
const now = async (page: Page): Promise<string> => (await page.locator('#now').textContent()) ?? '';

describe.skipIf(!hasChromium)('the page in Chromium (skipped where chromium is not installed)', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await openBrowser();
  });
  afterAll(() => browser.close());

  test.each(sampleNames)(
    '%s loads with the network cut; at its end stands the punch the checker measured',
    async (name) => {
      const { page, complaints } = await openPage(browser, samplePage(name));
      await page.locator('#to-end').click();
      const programs = samplePrograms(name).map(({ text }) => ({ name, text }));
      const job = sampleJob(name);
      const { punch } = checkPrograms(programs, job);
      const shown = (await numbers(page)).map(Number);
      const scale = job.units === 'inch' ? 25.4 : 1;
      const lastDigit = job.units === 'inch' ? 0.00254 : 0.001;
      expect(shown.length).toBe(job.punch.section.length);
      punch.flats.forEach(({ distance }, i) => {
        expect(Math.abs((shown[i] ?? 0) * scale - distance)).toBeLessThan(0.5 * lastDigit + 0.0006);
      });
      // The drawing too: its topmost edge lies where the flat that is up does.
      const top = await page
        .locator('#end-view polygon.metal')
        .evaluate((polygon: SVGPolygonElement) => Math.min(...[...polygon.points].map(({ y }) => y)));
      expect(-top).toBeCloseTo(punch.flats.at(-1)?.distance ?? 0, 2);
      expect(complaints).toEqual([]);
      await page.close();
    },
  );

  test('from the keyboard: play, pause, step, jump', async () => {
    const { page, complaints } = await openPage(browser, samplePage(HEX));
    await page.locator('#play').focus();
    await page.keyboard.press('Enter');
    await expect.poll(() => page.locator('#play').textContent()).toBe('Pause');
    await expect.poll(() => now(page)).toMatch(/^Block ([2-9]|\d\d)/);
    await page.keyboard.press('Enter');
    expect(await page.locator('#play').textContent()).toBe('Play');
    await page.locator('#scrubber').focus();
    await page.keyboard.press('Home');
    expect(await now(page)).toMatch(/^Block 1 of/);
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('ArrowLeft');
    expect(await now(page)).toMatch(/^Block 2 of/);
    await page.keyboard.press('End');
    expect(await now(page)).toMatch(/M30/);
    await page.keyboard.press('Home');
    await page.keyboard.press(' ');
    await expect.poll(() => page.locator('#play').textContent()).toBe('Pause');
    await page.keyboard.press(' ');
    expect(await page.locator('#play').textContent()).toBe('Play');
    expect(complaints).toEqual([]);
    await page.close();
  });

  test('the timeline shows which flat is up and where hands are wanted; the clock runs to the time told', async () => {
    const { page, complaints } = await openPage(browser, samplePage(HEX));
    // Six flats roughed, then finished, in the order of the job; one measuring stop between.
    const bands = page.locator('#bands .band[title^="flat"]');
    const titles = await bands.evaluateAll((all) => all.map((each) => (each as HTMLElement).title));
    const order = [1, 4, 2, 5, 3, 6].map((flat) => `flat ${flat} up`);
    expect(titles.filter((title, i) => title !== titles[i - 1])).toEqual([...order, ...order]);
    expect(await page.locator('#bands .halt').count()).toBe(1);
    const widths = await page
      .locator('#bands .band')
      .evaluateAll((all) =>
        all.reduce((sum, each) => sum + Number.parseFloat((each as HTMLElement).style.width), 0),
      );
    expect(widths).toBeCloseTo(100, 3);
    expect(await now(page)).toMatch(/^Block 1 of \d+, at 0:00 of 11:\d\d,/);
    await page.locator('#to-end').click();
    expect(await now(page)).toMatch(/at (11:\d\d) of \1,/);
    expect(complaints).toEqual([]);
    await page.close();
  });

  test('the block shown is marked in the program text', async () => {
    const { page } = await openPage(browser, samplePage(HEX));
    await page.locator('#scrubber').fill('700');
    const said = /line (\d+): (.*)/.exec((await now(page)).split('\n')[0] ?? '');
    const mark = await page
      .locator('#mark')
      .evaluate((element: HTMLElement) => Number.parseFloat(element.style.top));
    const lines = ((await page.locator('#listing pre').textContent()) ?? '').split('\n');
    expect(lines[mark / 22]).toBe(said?.[2]);
    expect(mark / 22 + 1).toBe(Number(said?.[1]));
    await page.close();
  });

  test('fewer motions wanted: two blocks a second, whatever the pace', async () => {
    const { page } = await openPage(browser, samplePage(HEX), { reducedMotion: 'reduce' });
    await page.locator('#pace').selectOption('250');
    await page.locator('#play').click();
    await page.waitForTimeout(1200);
    await page.locator('#play').click();
    expect(Number(/^Block (\d+)/.exec(await now(page))?.[1])).toBeLessThanOrEqual(5);
    await page.close();
  });

  test('a refused program opens at its offence, drawn; every pin jumps to its own', async () => {
    const { page, complaints } = await openPage(browser, brokenPage());
    expect(await page.locator('.verdict').textContent()).toMatch(/Do not run\./);
    expect(await now(page)).toMatch(/ERROR: the wheel is fed 0\.408 mm into the punch/);
    expect(await page.locator('#side-view polyline.offence').count()).toBe(1);
    await page.locator('#to-start').click();
    expect(await page.locator('#side-view .offence').count()).toBe(0);
    const pins = page.locator('#pins button');
    expect(await pins.count()).toBeGreaterThan(1);
    await pins.nth(1).press('Enter');
    expect(await now(page)).toMatch(/ERROR: the stroke cuts 0\.5 mm deep/);
    expect(complaints).toEqual([]);
    await page.close();
  });

  test('a hostile title and program do nothing but show', async () => {
    const evil = '</script><script>alert(1)</script><img src=x onerror=alert(2)>';
    const plan = planJob(sampleJob(HEX, ['title: stem-bolt hex 5', `title: '${evil}'`]));
    const text = `(</script><script>alert(3)</script>)\n${samplePrograms(HEX)[0]?.text ?? ''}`;
    const html = sheetPage(sheetFor(plan, [{ name: '<b>.nc', text }]), sheetAssets());
    const { page, complaints } = await openPage(browser, html);
    expect(await page.locator('h1').textContent()).toBe(evil);
    expect(await page.locator('#listing pre').textContent()).toContain('alert(3)');
    expect(complaints).toEqual([]);
    await page.close();
  });

  const pageOf = (name: string): string => (handNames.includes(name) ? handPage(name) : samplePage(name));

  test.each([
    ...[...sampleNames, ...handNames].flatMap((name) =>
      [400, 800, 1280].map((width) => [name, width] as const),
    ),
  ])('%s at %i pixels: no text over another, nothing wider than the window', async (name, width) => {
    const { page } = await openPage(browser, pageOf(name), { width });
    expect(await overlaps(page)).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
    await page.close();
  });

  test.each([
    ['good', 'light', () => samplePage(HEX)],
    ['good', 'dark', () => samplePage(HEX)],
    ['refused', 'light', brokenPage],
    ['refused', 'dark', brokenPage],
    ['hand-wheel', 'light', () => handPage('by-hand/hub-cap-square-6')],
    ['hand-wheel', 'dark', () => handPage('by-hand/hub-cap-square-6')],
  ] as const)('axe-core finds no serious fault on a %s sheet, %s', async (_, colorScheme, html) => {
    const { page } = await openPage(browser, html());
    await page.emulateMedia({ colorScheme });
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

  test('a page may fetch nothing, and says so', () => {
    expect(samplePage(HEX)).toContain(`content="default-src 'none'; style-src`);
  });

  test('every printed page says which sheet it is, of which program, and which page of how many', () => {
    const html = samplePage(HEX);
    expect(html).toContain('@bottom-left { content: "stem-bolt hex 5";');
    expect(html).toMatch(/@bottom-center \{ content: "stem-bolt-hex-5\.nc, mark [0-9A-F]{4}-[0-9A-F]{4}";/);
    expect(html).toContain('content: "page " counter(page) " of " counter(pages)');
    const evil = planJob(sampleJob(HEX, ['title: stem-bolt hex 5', `title: 'a";} body{x:y} </style><b>'`]));
    const page = sheetPage(sheetFor(evil, []), sheetAssets());
    expect(page.slice(page.indexOf('@bottom-left'), page.indexOf('@bottom-center'))).not.toMatch(/<|";\}/);
  });

  describe.skipIf(!hasPdfinfo)('printed (skipped where pdfinfo is not installed)', () => {
    test.each(
      sampleNames.flatMap((name) => (['A4', 'Letter'] as const).map((format) => [name, format] as const)),
    )("%s on %s: five pages at most, in type to be read at arm's length", async (name, format) => {
      const { page } = await openPage(browser, samplePage(name));
      const folder = mkdtempSync(join(tmpdir(), 'print-'));
      try {
        const file = join(folder, 'sheet.pdf');
        writeFileSync(file, await page.pdf({ format }));
        const { stdout } = spawnSync('pdfinfo', [file], { encoding: 'utf8' });
        expect(Number(/^Pages:\s+(\d+)/m.exec(stdout)?.[1])).toBeLessThanOrEqual(5);
        // 10.5 pt is 14 px.
        await page.emulateMedia({ media: 'print' });
        const smallest = await page.evaluate(() =>
          Math.min(
            ...[
              ...document.querySelectorAll(
                'main h1, main h2, main p, main li, main dt, main dd, main td, main th',
              ),
            ]
              .filter((each) => each.getClientRects().length > 0)
              .map((each) => Number.parseFloat(getComputedStyle(each).fontSize)),
          ),
        );
        expect(smallest).toBeGreaterThanOrEqual(13.99);
      } finally {
        rmSync(folder, { recursive: true });
        await page.close();
      }
    });
  });
});
