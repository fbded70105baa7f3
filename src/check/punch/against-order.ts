/**
 * The measured punch against the order: sizes within the tolerance, each flat within half of it (a lobed
 * section measures true across opposite flats), lengths, corners, the section on its
 * axis, every flat there and none besides.
 */
import type { Job } from '../../job/job.js';
import { FLAT_WITHIN, NO_BITE, SAME_INDEX } from '../../quantity/tolerance.js';
import { type Mm, mm, rad } from '../../quantity/unit.js';
import { circumradius } from '../../section/blank.js';
import { between, opposite, type Section } from '../../section/flat.js';
import { cornerOutside, outlineSupport } from '../../section/outline.js';
import { isClosed } from '../../section/polygon.js';
import type { FindingBody } from '../finding.js';
import { type MeasuredFlat, type MeasuredPunch, orderKey } from './measure.js';

/** A blank measured with a micrometer, and two flats each a rounding off, can leave this at a corner. */
const LAND_SLACK: Mm = mm(0.003);
/** A flat longer than ordered by more than this is another punch; common practice, no source. */
const LONG_SLACK: Mm = mm(0.5);
/** Room for the last digit of a stroke's end, on a length. */
const LENGTH_SLACK: Mm = mm(0.01);

/** What of the measured punch is not as ordered. */
export function holdAgainstOrder(
  job: Job,
  { flats, offAxis: off, turned }: MeasuredPunch,
): readonly FindingBody[] {
  const { section, tolerance, flatLength, corners } = job.punch;
  const most = mm((tolerance.plus + tolerance.minus) / 2 + FLAT_WITHIN);
  const findings: FindingBody[] = [];
  if (turned !== 0) findings.push({ code: 'section-turned', by: turned });
  section.forEach((ordered, i) => {
    const flat = flats.find((measured) => measured.flat === i + 1);
    if (flat === undefined) findings.push({ code: 'flat-missing', flat: i + 1, at: ordered.at });
    else findings.push(...sizeFindings(job, flat, flats));
    if (flat === undefined) return;
    if (flat.lengthAtCorners < flatLength - LENGTH_SLACK) {
      findings.push({ code: 'flat-short', flat: i + 1, length: flat.lengthAtCorners, ordered: flatLength });
    }
    if (flat.lengthAtCorners > flatLength + LONG_SLACK) {
      findings.push({ code: 'flat-long', flat: i + 1, length: flat.lengthAtCorners, ordered: flatLength });
    }
    const turnedOff = between(rad(ordered.at + turned), flat.at);
    if (turnedOff > SAME_INDEX) findings.push({ code: 'index-off', flat: i + 1, by: turnedOff });
    // Metal gone behind the flat, by a stroke that ran farther than its finish.
    const over = flat.lengthGround - flat.lengthAtCentre;
    if (over > LONG_SLACK + shoulder(job, ordered.distance)) {
      findings.push({
        code: 'roughed-long',
        flat: i + 1,
        length: mm(flat.lengthAtCorners + over),
        ordered: flatLength,
      });
    }
    const by = mm(Math.abs(flat.distance - ordered.distance));
    if (by > most) findings.push({ code: 'flat-off', flat: i + 1, by, most });
    // A flat that stood before and is not touched was sparked out before.
    if (flat.passes > 0 && flat.sparkOut < job.grinding.sparkOut) {
      findings.push({
        code: 'spark-out-short',
        flat: i + 1,
        strokes: flat.sparkOut,
        ordered: job.grinding.sparkOut,
      });
    }
  });
  for (const { flat, at, distance } of flats) {
    // However small its bites, it counts if it takes away of what should stay.
    const stays = outlineSupport(section, job.blank, rad(at - turned));
    if (flat === 'not ordered' && distance < stays - NO_BITE) findings.push({ code: 'flat-not-ordered', at });
  }
  if (off !== 'none' && off > most) findings.push({ code: 'section-off-axis', by: off, most });
  const ground: Section = flats.map(({ at, distance }) => ({ at, distance }));
  if (corners === 'sharp' && flats.length >= section.length && isClosed(ground)) {
    const by = cornerOutside(ground, job.blank);
    if (by > LAND_SLACK) findings.push({ code: 'corner-land', by });
  }
  return findings;
}

/** How much further than the flat the upper passes may reach, for a shoulder that leans. */
const shoulder = ({ blank, punch, grinding }: Job, distance: Mm): number =>
  (circumradius(blank) - distance + punch.flatLength * Math.tan(punch.relief)) * Math.tan(grinding.shoulder);

/** Across flats where the order has an opposite flat, else twice the distance, within the tolerance. */
function sizeFindings(job: Job, flat: MeasuredFlat, flats: readonly MeasuredFlat[]): readonly FindingBody[] {
  const { section, tolerance } = job.punch;
  const number = orderKey(flat);
  const facing = opposite(section, number - 1);
  const other = facing === 'none' ? undefined : flats.find((measured) => measured.flat === facing + 1);
  // A pair is judged once, at its first flat; a missing opposite is its own finding.
  if (facing !== 'none' && (facing + 1 < number || other === undefined)) return [];
  const ordered = section[number - 1]?.distance ?? mm(0);
  const size = mm(flat.distance + (other?.distance ?? flat.distance));
  const wanted = ordered + (facing === 'none' ? ordered : (section[facing]?.distance ?? ordered));
  const most = mm(wanted + tolerance.plus);
  const least = mm(wanted - tolerance.minus);
  if (size > most + 2 * FLAT_WITHIN) return [{ code: 'size-over', flat: number, size, most }];
  if (size < least - 2 * FLAT_WITHIN) return [{ code: 'size-under', flat: number, size, least }];
  return [];
}
