import { defineConfig } from 'vitest/config';

/** Longer runs, asked for with FLATWRIGHT_RUNS, get longer. */
const LONGER = Math.max(1, Number(process.env['FLATWRIGHT_RUNS'] ?? 0) / 500);

/** Those that look at screens, with Chromium or tmux; they have a command of their own. */
export const ON_SCREENS: readonly string[] = [
  'tests/page/page.test.ts',
  'tests/sheet/page.test.ts',
  'tests/terminal/**/*.test.ts',
];

export default defineConfig({
  test: {
    root: new URL('..', import.meta.url).pathname,
    include: ['tests/**/*.test.ts'],
    exclude: ['tests/scripts/**', ...ON_SCREENS],
    globalSetup: [new URL('./build-once.ts', import.meta.url).pathname],
    // Every core: one worker of two would take twice as long.
    maxWorkers: '100%',
    testTimeout: 60_000 * LONGER,
    reporters: ['default', new URL('./closing-line.ts', import.meta.url).pathname],
  },
});
