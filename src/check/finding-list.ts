/**
 * What is found along programs, in their order. One lost word offends in every block after it: more of a kind than a few
 * are only counted.
 */
import { type BlockPlace, type CheckFinding, type FindingBody, severityOf } from './finding.js';

/** More of a kind than this are only counted. */
const MOST_ALIKE = 8;

export interface FindingList {
  readonly add: (bodies: readonly FindingBody[], place: BlockPlace) => void;
  /** Whether an error is among them. */
  readonly isRefused: () => boolean;
  /** All that is listed; last, at `whole`, how many are not. */
  readonly all: (whole: BlockPlace) => readonly CheckFinding[];
}

export function createFindingList(): FindingList {
  const listed: CheckFinding[] = [];
  const counts = new Map<string, number>();
  let left = 0;
  let refused = false;
  return {
    add: (bodies, place) => {
      for (const body of bodies) {
        const severity = severityOf(body.code);
        if (severity === 'error') refused = true;
        const same = (counts.get(body.code) ?? 0) + 1;
        counts.set(body.code, same);
        if (same <= MOST_ALIKE) listed.push({ ...body, severity, place });
        else left += 1;
      }
    },
    isRefused: () => refused,
    all: (whole) =>
      left === 0
        ? listed
        : [...listed, { code: 'more-findings', severity: severityOf('more-findings'), left, place: whole }],
  };
}
