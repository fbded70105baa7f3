/**
 * One flat under the wheel. Its plane lies at w = h cos t, from u = h sin t at the front edge to
 * uL = h sin t - L / cos t. To have the full width at depth L the wheel's centre goes to the farthest
 * of u + sqrt(Rw^2 - v^2) over the flat's corners; the covered region is convex, so its corners are
 * enough; a plain wheel covers with a line, Rw = 0, and stands over a slope as wheel/periphery has it. The centre line is
 * then ground further, to u_end - Rw. The stock is highest there, at the
 * shank end: T = R / cos t - u_reach tan t - h cos t, R the blank's support toward the flat. Passes over the flat reach
 * further, by (w_pass - w) tan k, so that the shoulder leans by k and the wheel's outside does not rub it.
 */

import { aimedHeight, aimedSection } from '../job/aim.js';
import type { Job } from '../job/job.js';
import { heightAt, standingAt } from '../job/standing.js';
import { type Mm, mm, type Rad } from '../quantity/unit.js';
import { blankSupport } from '../section/blank.js';
import { atDepth, type Section } from '../section/flat.js';
import { edgeOf } from '../section/outline.js';
import { flatAtDepth, stockTop } from '../wheel/frame.js';
import { tangentRise } from '../wheel/periphery.js';
import { centreToCover } from '../wheel/rim.js';
import type { PlanFinding } from './finding.js';

export interface FlatPlan {
  /** 1 for the flat ground first. */
  readonly number: number;
  readonly at: Rad;
  readonly distance: Mm;
  /** Height of the rim over the finished flat. */
  readonly w: Mm;
  /** u at the full-width length on the flat. */
  readonly lengthEnd: Mm;
  /** Half-width at the full-width length, the wider side. */
  readonly halfWidth: Mm;
  /** Wheel centre at the end of a stroke. */
  readonly centreEnd: Mm;
  /** Farthest the rim reaches over the finished flat, on the centre line. */
  readonly reach: Mm;
  /** Height of the stock where the wheel meets it first. */
  readonly stockTop: Mm;
  /** Infeed to remove. */
  readonly stock: Mm;
  /** A flat is there already. */
  readonly stands: boolean;
  /** How much higher the stock may stand than that: run-out of the blank, or what is not known of a standing flat. */
  readonly higher: Mm;
}

/** The flats in grinding order; a flat that cannot be is a finding in its place. */
export function planFlats(job: Job): {
  readonly flats: readonly FlatPlan[];
  readonly findings: readonly PlanFinding[];
} {
  const aimed = aimedSection(job);
  const results = aimed.map((_, index) => planFlat(job, aimed, index));
  return {
    flats: results.flatMap((result) => ('code' in result ? [] : [result])),
    findings: results.flatMap((result) => ('code' in result ? [result] : [])),
  };
}

/** A plain wheel wider than the flat by this runs off both its edges; common practice, no source. */
const NARROW_SPARE = 1;

function planFlat(job: Job, section: Section, index: number): FlatPlan | PlanFinding {
  const { flatLength, relief: slope } = job.punch;
  const flat = section[index];
  if (flat === undefined) throw new RangeError(`no flat ${index}`);
  const number = index + 1;
  const blank = blankSupport(job.blank, flat.at);
  if (flat.distance >= blank) {
    return {
      code: 'flat-outside-blank',
      severity: 'error',
      key: 'blank.size',
      flat: number,
      distance: flat.distance,
      blank,
    };
  }
  const cornersOfFlat: { readonly u: Mm; readonly v: Mm }[] = [];
  for (const depth of [mm(0), flatLength]) {
    const there = atDepth(section, depth, slope);
    const edge = edgeOf(there, job.blank, index);
    if (edge === 'none' || (there[index]?.distance ?? 0) <= 0) {
      return { code: 'flat-vanishes', severity: 'error', key: 'punch', flat: number, depth };
    }
    const u = flatAtDepth(flat.distance, depth, slope);
    cornersOfFlat.push({ u, v: edge.from }, { u, v: edge.to });
  }
  const widest = Math.max(...cornersOfFlat.map(({ v }) => Math.abs(v)));
  const centres = cornersOfFlat.flatMap(({ u, v }) => {
    const centre = centreToCover(u, v, job.wheel);
    return centre === 'uncovered' ? [] : [centre];
  });
  if (centres.length < cornersOfFlat.length) {
    const { diameter, rim, shape } = job.wheel;
    if (shape === 'plain')
      return {
        code: 'wheel-too-narrow',
        severity: 'error',
        key: 'wheel.rim',
        width: rim,
        wouldDo: mm(2 * widest + NARROW_SPARE),
      };
    return {
      code: 'wheel-too-small',
      severity: 'error',
      key: 'wheel.diameter',
      diameter,
      wouldDo: mm(4 * widest),
    };
  }
  const centreEnd = mm(Math.min(...centres));
  const reach = mm(centreEnd - job.wheel.radius);
  const w = aimedHeight(job, flat.distance, job.punch.section[index]?.distance ?? flat.distance);
  const standing = standingAt(job, flat.at);
  const overFlat = stockTop(blank, reach, slope) + tangentRise(job.wheel.periphery, slope) - w;
  // The first pass reaches furthest, where the raw stock is a little higher still.
  const stock =
    standing === 'none'
      ? mm(overFlat / (1 - Math.tan(job.grinding.shoulder) * Math.tan(slope)))
      : mm(Math.max(0, heightAt(standing, reach) - w));
  const atLength = cornersOfFlat.slice(2);
  return {
    number,
    at: flat.at,
    distance: flat.distance,
    w,
    lengthEnd: flatAtDepth(flat.distance, flatLength, slope),
    halfWidth: mm(Math.max(...atLength.map(({ v }) => Math.abs(v)))),
    centreEnd,
    reach,
    stockTop: mm(w + stock),
    stock,
    stands: standing !== 'none',
    higher: standing === 'none' ? job.grinding.startAbove : standing.higher,
  };
}

/** How much further a pass at `level` reaches than the flat. */
export const shoulderAt = (job: Job, flat: FlatPlan, level: Mm): Mm =>
  mm(Math.max(0, level - flat.w) * Math.tan(job.grinding.shoulder));

/** Farthest the rim reaches in a pass at `level`. */
export const reachAt = (job: Job, flat: FlatPlan, level: Mm): Mm =>
  mm(flat.reach - shoulderAt(job, flat, level));
