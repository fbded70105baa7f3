/** A headless Chromium, if one is installed: the Debian package chromium, or the path in FLATWRIGHT_CHROMIUM. */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Browser, chromium, type Page } from 'playwright-core';

const places = [process.env['FLATWRIGHT_CHROMIUM'], '/usr/bin/chromium', '/usr/bin/chromium-browser'];
export const chromiumPath = places.find((place) => place !== undefined && existsSync(place));
export const hasChromium = chromiumPath !== undefined;
export const hasPdfinfo = spawnSync('pdfinfo', ['-v'], { stdio: 'ignore' }).error === undefined;

export const openBrowser = (): Promise<Browser> =>
  chromium.launch({ executablePath: chromiumPath ?? '', args: ['--no-sandbox'] });

export interface Opened {
  readonly page: Page;
  /** Console errors, page errors, dialogs, and requests other than for the page itself. */
  readonly complaints: readonly string[];
}

/** Opens `html` from a file with the network cut, and keeps everything that should not happen. */
export async function openPage(
  browser: Browser,
  html: string,
  options: { readonly width?: number; readonly reducedMotion?: 'reduce' } = {},
): Promise<Opened> {
  const folder = mkdtempSync(join(tmpdir(), 'sheet-'));
  const file = join(folder, 'sheet.html');
  writeFileSync(file, html);
  const context = await browser.newContext({
    viewport: { width: options.width ?? 1120, height: 900 },
    offline: true,
    ...(options.reducedMotion === undefined ? {} : { reducedMotion: options.reducedMotion }),
  });
  const page = await context.newPage();
  const complaints: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error' || message.type() === 'warning') complaints.push(message.text());
  });
  page.on('pageerror', (error) => complaints.push(error.message));
  page.on('dialog', (dialog) => {
    complaints.push(`dialog: ${dialog.message()}`);
    void dialog.dismiss();
  });
  page.on('request', (request) => {
    // A blob is of the page's own making: the code its worker runs.
    if (request.url() !== `file://${file}` && !request.url().startsWith('blob:'))
      complaints.push(`request: ${request.url()}`);
  });
  await page.goto(`file://${file}`);
  page.on('close', () => rmSync(folder, { recursive: true, force: true }));
  return { page, complaints };
}
