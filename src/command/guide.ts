/** `flatwright help TOPIC`: the pages of the guide, as text. */
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const GUIDE = fileURLToPath(new URL('../../shared/guide/', import.meta.url));
const ENDING = '.md';

export const guideTopics = (): readonly string[] =>
  readdirSync(GUIDE)
    .filter((file) => file.endsWith(ENDING))
    .map((file) => file.slice(0, -ENDING.length))
    .toSorted();

/** The page on a topic; `none` if there is none. */
export const guidePage = (topic: string): string | 'none' =>
  guideTopics().includes(topic) ? readFileSync(`${GUIDE}${topic}${ENDING}`, 'utf8') : 'none';
