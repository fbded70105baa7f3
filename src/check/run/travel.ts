/**
 * Travel: where work zero is known every place is held against the machine's limits; elsewhere only the span of an
 * axis can be. What is over is worth one finding an axis and side, not one a block.
 */
import type { Job } from '../../job/job.js';
import type { LinearAxis } from '../../job/layout.js';
import type { Travel } from '../../job/machine.js';
import { type Mm, mm } from '../../quantity/unit.js';
import type { FindingBody } from '../finding.js';
import { LINEAR } from '../read/state.js';
import { type Move, spanOn } from './place.js';

/** Floating-point noise on coordinates, mm. */
const NOISE = 1e-6;

/** How far each axis has moved so far, and which limits have been told of. */
export type TravelSo = Readonly<Record<LinearAxis, AxisTravel>>;

interface AxisTravel {
  readonly least: number;
  readonly most: number;
  readonly told: ReadonlySet<'low' | 'high' | 'span'>;
}

const NONE: AxisTravel = { least: Number.POSITIVE_INFINITY, most: Number.NEGATIVE_INFINITY, told: new Set() };

export const NO_TRAVEL: TravelSo = { x: NONE, y: NONE, z: NONE };

/** The travel after a move, and what is over. */
export function travelled(
  { machine }: Pick<Job, 'machine'>,
  before: TravelSo,
  move: Move,
): { readonly travel: TravelSo; readonly findings: readonly FindingBody[] } {
  let [travel, findings]: [TravelSo, readonly FindingBody[]] = [before, []];
  for (const axis of LINEAR) {
    const limits = machine.travel[axis];
    const to = move.to[axis];
    if (limits === undefined || to === 'unknown' || (move.arc === 'straight' && to === move.from[axis]))
      continue;
    for (const at of move.arc === 'straight' ? [to] : spanOn(move, axis)) {
      const so = travel[axis];
      if (at >= so.least && at <= so.most) continue;
      const now = { ...so, least: Math.min(so.least, at), most: Math.max(so.most, at) };
      const found = over(axis, at, now, limits, machine.workZero?.[axis]);
      travel = {
        ...travel,
        [axis]: found === 'none' ? now : { ...now, told: new Set([...now.told, found.side]) },
      };
      if (found !== 'none' && !so.told.has(found.side)) findings = [...findings, found.finding];
    }
  }
  return { travel, findings };
}

function over(
  axis: LinearAxis,
  at: number,
  { least: low, most: high }: AxisTravel,
  [least, most]: Travel,
  zero: number | undefined,
): { readonly side: 'low' | 'high' | 'span'; readonly finding: FindingBody } | 'none' {
  if (zero === undefined) {
    if (high - low <= most - least + NOISE) return 'none';
    const finding = { code: 'span-over-travel', axis, need: mm(high - low), have: mm(most - least) } as const;
    return { side: 'span', finding };
  }
  if (at + zero >= least - NOISE && at + zero <= most + NOISE) return 'none';
  const finding = { code: 'outside-travel', axis, at: mm(at + zero), least, most } as const;
  return { side: at + zero < least ? 'low' : 'high', finding };
}

/** How far each axis stays from the nearer end of its travel; `unknown` where work zero is, or it never moves. */
export function travelLeft(
  { machine }: Pick<Job, 'machine'>,
  travel: TravelSo,
): Readonly<Record<LinearAxis, Mm | 'unknown'>> {
  const left = (axis: LinearAxis): Mm | 'unknown' => {
    const [limits, zero, so] = [machine.travel[axis], machine.workZero?.[axis], travel[axis]];
    if (limits === undefined || zero === undefined || so.least > so.most) return 'unknown';
    return mm(Math.min(so.least + zero - limits[0], limits[1] - so.most - zero));
  };
  return { x: left('x'), y: left('y'), z: left('z') };
}
