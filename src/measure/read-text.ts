/** Readings as people write them. */
import type { Job } from '../job/job.js';
import type { Mm } from '../quantity/unit.js';
import { measuredTo } from '../section/polygon.js';
import { type Across, type Height, ReadingError } from './reading.js';

/**
 * `1-4=5.113`, `1-4@5=4.63`, `1=6.85`, `1-corner=6.85`.
 * @param depth where a reading without @ is taken
 * @throws ReadingError, QuantityError
 */
export function readAcross(job: Job, text: string, depth: Mm, length: (text: string) => Mm): Across {
  const [, first, second, at, read] =
    /^\s*(\d+)\s*(?:-\s*(\d+|corner|round))?\s*(?:@\s*([^=]+))?=\s*(\S.*)$/i.exec(text) ?? [];
  if (first === undefined || read === undefined)
    throw new ReadingError(
      `"${text}" is no reading over flats; write 1-4=5.113, or 1-4@5=4.68 for 5 behind the face`,
    );
  const flat = Number(first);
  const facing = measuredTo(job.punch.section, flat - 1);
  const opposite = typeof facing === 'number' ? `${facing + 1}` : facing;
  if (job.punch.section[flat - 1] === undefined)
    throw new ReadingError(
      `"${text}": there is no flat ${flat}; the section has ${job.punch.section.length}`,
    );
  if (second !== undefined && second.toLowerCase() !== opposite)
    throw new ReadingError(
      `"${text}": opposite flat ${flat} lies ${typeof facing === 'number' ? `flat ${opposite}` : `a ${opposite}`}; write ${flat}-${opposite}=...`,
    );
  return { flat, depth: at === undefined ? depth : length(at), read: length(read) };
}

/** `1=+0.012`. @throws ReadingError, QuantityError */
export function readHeight(text: string, length: (text: string) => Mm): Height {
  const [, flat, read] = /^\s*(\d+)\s*=\s*(\S.*)$/.exec(text) ?? [];
  if (flat === undefined || read === undefined)
    throw new ReadingError(`"${text}" is no reading of an indicator; write 1=+0.012`);
  return { flat: Number(flat), read: length(read) };
}
