import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    testTimeout: 120_000,
    root: new URL('../..', import.meta.url).pathname,
    include: ['tests/scripts/regenerate.test.ts'],
  },
});
