/** What a browser or a terminal shows, `npm run test:screens`: apart from `npm test`, since pages take as long as all the rest. */
import { mergeConfig } from 'vitest/config';
import usual, { ON_SCREENS } from './vitest.config.js';

export default mergeConfig(
  { ...usual, test: { ...usual.test, include: [], exclude: [] } },
  { test: { include: [...ON_SCREENS] } },
);
