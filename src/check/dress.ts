/**
 * The dry run of a program that dresses the wheel: as a run in the air that must cut nothing of the punch, and beside that
 * each move against the point of the diamond. The rim is a ring round the wheel's centre: what of it passes over the point
 * may be no lower than a pass below what is left of it.
 */
import type { Job } from '../job/job.js';
import { DIAMOND, lastDigit, layoutOf, slopeOf } from '../job/job.js';
import { fromMachine } from '../job/layout.js';
import { toMm } from '../quantity/length.js';
import { ROUNDING } from '../quantity/tolerance.js';
import { type Mm, mm, mmPerMin } from '../quantity/unit.js';
import type { WheelPoint } from '../wheel/frame.js';
import { type BesideReport, type Judge, type Report, runBeside } from './beside.js';
import { atContact } from './contact.js';
import type { Action } from './read/execute.js';
import type { ModalState } from './read/state.js';
import { farthestFrom, nearestTo } from './segment.js';

type Move = Extract<Action, { readonly kind: 'move' }>;

/** No pass is deeper; common practice, no source. */
const MOST_PASS: Mm = mm(0.03);
/** Millimetres a turn of the wheel at which a diamond still dresses; common practice, no source. */
const MOST_A_TURN = 0.1;

/** Checks `text` as the program that takes `ordered` off the rim of `job`'s wheel. Never throws on any text. */
export function checkDress(text: string, name: string, job: Job, ordered: Mm): BesideReport {
  // The rim is to meet the diamond, and nothing else.
  const boxes = job.holding.boxes.filter(({ name: box }) => box !== DIAMOND);
  const alone = { ...job, holding: { ...job.holding, boxes } };
  return runBeside({ text, name }, alone, { raised: mm(0) }, (report) => dressJudge(job, ordered, report));
}

function dressJudge(job: Job, ordered: Mm, report: Report): Judge {
  const { diamond } = job.holding;
  if (diamond === undefined) report({ code: 'diamond-unknown' });
  const point = fromMachine(layoutOf(job), slopeOf(job), {
    x: diamond?.x ?? 0,
    y: diamond?.y ?? 0,
    z: diamond?.z ?? 0,
  });
  const { radius, rim } = job.wheel;
  let off = 0;
  let before: WheelPoint | 'unknown' = 'unknown';
  /** The rim goes over the point, lower than what is left of it. */
  const met = (action: Move, state: ModalState, waited: number, depth: number, level: boolean): void => {
    if (action.arc !== 'straight')
      report({ code: 'arc-bad', reason: 'a rim is dressed by straight strokes' });
    if (action.rapid || !level) {
      report({ code: 'infeed-in-stock', depth: mm(depth) });
      return;
    }
    for (const finding of atContact(job, state, waited)) report(finding);
    if (depth > MOST_PASS + ROUNDING)
      report({ code: 'stroke-too-deep', depth: mm(depth), allowed: MOST_PASS });
    const most = MOST_A_TURN * job.grinding.spindleSpeed;
    if (action.feed > most)
      report({ code: 'feed-over-machine', feed: mmPerMin(action.feed), max: mmPerMin(most) });
    off += depth;
  };
  /** Whether the ring of the rim is over the point anywhere between two places of its centre. */
  const passesOver = (from: WheelPoint, to: WheelPoint): boolean =>
    nearestTo(point, from, to) <= radius && farthestFrom(point, from, to) >= radius - rim;
  return {
    act: ({ action, state, sweep }, waited) => {
      const now = sweep.place(state.position);
      if (action.kind === 'move' && now !== 'unknown' && before !== 'unknown') {
        const depth = point.w - off - Math.min(now.w, before.w);
        if (passesOver(before, now) && depth > ROUNDING)
          met(action, state, waited, depth, now.w === before.w);
      }
      before = now;
    },
    line: (text) => {
      const [, added, unit] = /ADD ([+-]?\d+\.?\d*) (MM|IN)/.exec(text) ?? [];
      const typed = added === undefined ? undefined : toMm(Number(added), unit === 'IN' ? 'inch' : 'mm');
      if (typed !== undefined && Math.abs(typed + ordered) > lastDigit(job))
        report({ code: 'rim-off', off: mm(-typed), ordered }, text);
    },
    end: () => {
      if (Math.abs(off - ordered) > 2 * ROUNDING + lastDigit(job))
        report({ code: 'rim-off', off: mm(off), ordered });
      return mm(off);
    },
  };
}
