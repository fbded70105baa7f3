/**
 * The page in headless Chromium: its size, its first paint against an empty page's, and how long a change of one field
 * takes to be seen. Ratios and times of one run; needs `npm run build` and chromium.
 *   node tests/bench/page.mjs
 */
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright-core';

const executablePath = [
  process.env.FLATWRIGHT_CHROMIUM,
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
].find((place) => place !== undefined && existsSync(place));
const say = (what, value) => process.stdout.write(`${what.padEnd(52)}${value}\n`);
if (executablePath === undefined) {
  say('the page in Chromium', 'not installed, skipped');
  process.exit();
}
const built = fileURLToPath(new URL('../../dist/page.html', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'bench-'));
const empty = join(folder, 'empty.html');
writeFileSync(empty, '<!DOCTYPE html><title>e</title><p>e</p>');
const median = (list) => list.toSorted((a, b) => a - b)[Math.floor(list.length / 2)];
const browser = await chromium.launch({ executablePath, args: ['--no-sandbox'] });
try {
  const paint = async (file) => {
    const page = await browser.newPage();
    await page.goto(`file://${file}`);
    const time = await page.evaluate(
      () =>
        new Promise((resolve) => {
          new PerformanceObserver((list) =>
            resolve(list.getEntriesByName('first-contentful-paint')[0].startTime),
          ).observe({
            type: 'paint',
            buffered: true,
          });
        }),
    );
    await page.close();
    return time;
  };
  const [full, bare] = [[], []];
  for (let round = 0; round < 9; round += 1) {
    bare.push(await paint(empty));
    full.push(await paint(built));
  }
  say('page, kB', Math.round(readFileSync(built).length / 1000));
  say('first paint, ms', median(full).toFixed(0));
  say('first paint / that of an empty page', (median(full) / median(bare)).toFixed(1));
  const page = await browser.newPage();
  await page.goto(`file://${built}`);
  await page.waitForFunction(() => /Sound/.test(document.querySelector('.said')?.textContent ?? ''));
  const changes = [];
  for (let round = 0; round < 15; round += 1) {
    changes.push(
      await page.evaluate(
        (value) =>
          new Promise((resolve) => {
            const input = document.getElementById('field-punch-acrossFlats');
            const said = document.querySelector('.said');
            const start = performance.now();
            new MutationObserver((_, observer) => {
              observer.disconnect();
              requestAnimationFrame(() => resolve(performance.now() - start));
            }).observe(said, { childList: true, subtree: true, characterData: true });
            input.value = value;
            input.dispatchEvent(new Event('input', { bubbles: true }));
          }),
        (5.06 + round / 1000).toFixed(3),
      ),
    );
  }
  say('a change of one field seen, ms', median(changes).toFixed(0));
} finally {
  await browser.close();
  rmSync(folder, { recursive: true });
}
