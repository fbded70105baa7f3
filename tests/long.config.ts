/** The property tests with many more draws: `npm run test:long`, ten thousand unless FLATWRIGHT_RUNS says another number. */
import { mergeConfig } from 'vitest/config';

const RUNS = process.env['FLATWRIGHT_RUNS'] ?? '10000';
process.env['FLATWRIGHT_RUNS'] = RUNS;
const { default: usual } = await import('./vitest.config.js');

export default mergeConfig(
  { ...usual, test: { ...usual.test, include: [] } },
  {
    test: {
      env: { FLATWRIGHT_RUNS: RUNS },
      include: [
        'tests/check/random-jobs.test.ts',
        'tests/check/mutation.test.ts',
        'tests/check/steps.test.ts',
        'tests/plan/operator.test.ts',
        'tests/plan/standing.test.ts',
        'tests/reference/random-programs.test.ts',
      ],
    },
  },
);
