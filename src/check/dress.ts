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
import { atContact } from './contact.js';
import { type CheckReport, createDryRun } from './dry-run.js';
import { type BlockPlace, type CheckFinding, type FindingBody, severityOf } from './finding.js';
import type { Action } from './read/execute.js';
import { linesOf } from './read/lines.js';
import type { ModalState } from './read/state.js';
import { farthestFrom, nearestTo } from './segment.js';

type Move = Extract<Action, { readonly kind: 'move' }>;

/** No pass is deeper; common practice, no source. */
const MOST_PASS: Mm = mm(0.03);
/** Millimetres a turn of the wheel at which a diamond still dresses; common practice, no source. */
const MOST_A_TURN = 0.1;

export interface DressReport extends Pick<CheckReport, 'verdict' | 'lines'> {
  readonly findings: readonly CheckFinding[];
  /** Taken off the rim in all. */
  readonly off: Mm;
}

/** Checks `text` as the program that takes `ordered` off the rim of `job`'s wheel. Never throws on any text. */
export function checkDress(text: string, name: string, job: Job, ordered: Mm): DressReport {
  const { diamond } = job.holding;
  const own: CheckFinding[] = [];
  let place: BlockPlace = { program: name, line: 0, text: '' };
  const report = (finding: FindingBody): void => {
    own.push({ ...finding, severity: severityOf(finding.code), place });
  };
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
  const met = (action: Move, state: ModalState, depth: number, level: boolean): void => {
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
  // The rim is to meet the diamond, and nothing else.
  const others = job.holding.boxes.filter(({ name: box }) => box !== DIAMOND);
  let waited = 0;
  const run = createDryRun(
    { ...job, holding: { ...job.holding, boxes: others } },
    {
      purpose: { raised: mm(0) },
      observe: ({ action, state, sweep, place: where }) => {
        place = where;
        if (action.kind === 'spindle') waited = 0;
        if (action.kind === 'dwell') waited += action.seconds;
        const now = sweep.place(state.position);
        if (action.kind === 'move' && now !== 'unknown' && before !== 'unknown') {
          const depth = point.w - off - Math.min(now.w, before.w);
          if (passesOver(before, now) && depth > ROUNDING) met(action, state, depth, now.w === before.w);
        }
        before = now;
      },
    },
  );
  run.start(name);
  for (const line of linesOf(text)) {
    run.line(line);
    const [, added, unit] = /ADD ([+-]?\d+\.?\d*) (MM|IN)/.exec(line) ?? [];
    const typed = added === undefined ? undefined : toMm(Number(added), unit === 'IN' ? 'inch' : 'mm');
    if (typed !== undefined && Math.abs(typed + ordered) > lastDigit(job)) {
      place = { program: name, line: 0, text: line };
      report({ code: 'rim-off', off: mm(-typed), ordered });
    }
  }
  const air = run.finish();
  place = { program: name, line: 0, text: '' };
  if (Math.abs(off - ordered) > 2 * ROUNDING + lastDigit(job))
    report({ code: 'rim-off', off: mm(off), ordered });
  const findings = [...air.findings, ...own];
  const refused = findings.some(({ severity }) => severity === 'error');
  return { verdict: refused ? 'refused' : 'run', findings, lines: air.lines, off: mm(off) };
}
