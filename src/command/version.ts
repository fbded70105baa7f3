/** The version, as the package says it. */
import { createRequire } from 'node:module';

export const { version } = createRequire(import.meta.url)('../../package.json') as {
  readonly version: string;
};
