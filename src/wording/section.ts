/** A section as the job that has it writes it. */
import { flatsOfRounded, type Rounded } from '../job/sized-section.js';
import { degFromRad } from '../quantity/angle.js';
import { trimmed } from '../quantity/decimal.js';
import type { Say } from '../quantity/say.js';

/** `{flats: [{at: 0, distance: 3 mm}, {at: 180, distance: 3 mm}]}`. */
export function roundedText(section: Rounded, say: Say): string {
  const flats = flatsOfRounded(section).map(
    ({ at, distance }) => `{at: ${trimmed(degFromRad(at), 0)}, distance: ${say.length(distance)}}`,
  );
  return `{flats: [${flats.join(', ')}]}`;
}
