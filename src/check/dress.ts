/**
 * The dry run of a program that dresses the wheel: as a run in the air that must cut nothing of the punch, and beside that
 * each move against the point of the diamond. The rim is a ring round the wheel's centre: what of it passes over the point
 * may be no lower than a pass below what is left of it.
 */
import type { Job } from '../job/job.js';
import { lastDigit, layoutOf, slopeOf } from '../job/job.js';
import { fromMachine } from '../job/layout.js';
import { ROUNDING } from '../quantity/tolerance.js';
import { type Mm, mm, mmPerMin } from '../quantity/unit.js';
import type { WheelPoint } from '../wheel/frame.js';
import { type CheckReport, createDryRun } from './dry-run.js';
import { type BlockPlace, type CheckFinding, type FindingBody, severityOf } from './finding.js';
import { linesOf } from './read/lines.js';

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
  /** Whether the ring of the rim is over the point anywhere between two places of its centre. */
  const passesOver = (from: WheelPoint, to: WheelPoint): boolean => {
    const near = Math.min(
      Math.hypot(from.u - point.u, from.v - point.v),
      Math.hypot(to.u - point.u, to.v - point.v),
    );
    const far = Math.max(
      Math.hypot(from.u - point.u, from.v - point.v),
      Math.hypot(to.u - point.u, to.v - point.v),
    );
    const crosses = (from.u - point.u) * (to.u - point.u) < 0;
    return (crosses ? 0 : near) <= radius && far >= radius - rim;
  };
  const run = createDryRun(job, {
    purpose: { raised: mm(0) },
    observe: ({ action, state, sweep, place: where }) => {
      const now = sweep.place(state.position);
      if (action.kind === 'move' && now !== 'unknown' && before !== 'unknown') {
        place = where;
        const lowest = Math.min(now.w, before.w);
        const depth = point.w - off - lowest;
        if (passesOver(before, now) && depth > ROUNDING) {
          if (action.rapid || now.w !== before.w) report({ code: 'infeed-in-stock', depth: mm(depth) });
          else {
            if (depth > MOST_PASS + ROUNDING)
              report({ code: 'stroke-too-deep', depth: mm(depth), allowed: MOST_PASS });
            if (state.spindle === 'off' && job.machine.spindle.switched === 'by program')
              report({ code: 'wheel-not-turning' });
            if (action.feed > MOST_A_TURN * job.grinding.spindleSpeed)
              report({
                code: 'feed-over-machine',
                feed: mmPerMin(action.feed),
                max: mmPerMin(MOST_A_TURN * job.grinding.spindleSpeed),
              });
            off += depth;
          }
        }
      }
      before = now;
    },
  });
  run.start(name);
  for (const line of linesOf(text)) run.line(line);
  const air = run.finish();
  place = { program: name, line: 0, text: '' };
  if (Math.abs(off - ordered) > 2 * ROUNDING + lastDigit(job))
    report({ code: 'rim-off', off: mm(off), ordered });
  // Beside the punch the wheel may well go lower than any flat: fixture and table are judged by themselves.
  const findings = [...air.findings.filter(({ code }) => code !== 'below-the-flats'), ...own];
  const refused = findings.some(({ severity }) => severity === 'error');
  return { verdict: refused ? 'refused' : 'run', findings, lines: air.lines, off: mm(off) };
}
