/** Readings as people write them. */
import type { Job } from '../job/job.js';
import type { Mm, Rad } from '../quantity/unit.js';
import { measuredTo } from '../section/polygon.js';
import type { Instrument } from './instrument.js';
import type { Across, Height } from './reading.js';
import { ReadingError } from './reading-error.js';

/**
 * `1-4=5.113`, `1-4@5=4.63`, `1=6.85`, `1-corner=6.85`.
 * @param depth where a reading without @ is taken
 * @throws ReadingError, QuantityError
 */
export function readAcross(job: Job, text: string, depth: Mm, length: (text: string) => Mm): Across {
  const [, first, second, at, read] =
    /^\s*(\d+)\s*(?:-\s*(\d+|corner|round|V))?\s*(?:@\s*([^=]+))?=\s*(\S.*)$/i.exec(text) ?? [];
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
  if (second !== undefined && second.toLowerCase() !== opposite && !/^v$/i.test(second))
    throw new ReadingError(
      `"${text}": opposite flat ${flat} lies ${typeof facing === 'number' ? `flat ${opposite}` : `a ${opposite}`}; write ${flat}-${opposite}=...`,
    );
  return { flat, depth: at === undefined ? depth : length(at), read: length(read) };
}

/** `anvils 6.5`, `blade 0.75` or `V 60`. @throws ReadingError, QuantityError */
export function readInstrument(
  text: string,
  length: (text: string) => Mm,
  angle: (text: string) => Rad,
): Instrument {
  const [, name, size] = /^\s*(anvils?|blades?|V)\s+(\S.*)$/i.exec(text) ?? [];
  if (name === undefined || size === undefined)
    throw new ReadingError(
      `"${text}" is no instrument; write anvils 6.5 for their width, blade 0.75, or V 60 for a V-anvil of 60 deg`,
    );
  if (/^v$/i.test(name)) {
    const opens = angle(size);
    if (opens > 0 && opens < Math.PI) return { kind: 'V-anvil', angle: opens };
    throw new ReadingError(
      `"${text}": a V opens between 0 and 180 deg; 60 for a triangle, 108 for a pentagon`,
    );
  }
  const width = length(size);
  if (width > 0) return { kind: 'wide anvils', width };
  throw new ReadingError(`"${text}": the width must be more than 0`);
}

/** `1=+0.012`. @throws ReadingError, QuantityError */
export function readHeight(text: string, length: (text: string) => Mm): Height {
  const [, flat, read] = /^\s*(\d+)\s*=\s*(\S.*)$/.exec(text) ?? [];
  if (flat === undefined || read === undefined)
    throw new ReadingError(`"${text}" is no reading of an indicator; write 1=+0.012`);
  return { flat: Number(flat), read: length(read) };
}
