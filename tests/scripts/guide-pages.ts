/** The README and the pages of the guide, by their place in the project. */
import { readdirSync } from 'node:fs';

const GUIDE = 'shared/guide/';

export const guidePages: readonly string[] = [
  'README.md',
  ...readdirSync(new URL(`../../${GUIDE}`, import.meta.url))
    .filter((file) => file.endsWith('.md'))
    .toSorted()
    .map((file) => `${GUIDE}${file}`),
];
