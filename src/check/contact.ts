/** What must be so of the wheel when it touches anything: it turns as ordered, at full speed, wet or dry as ordered. */
import type { Job } from '../job/job.js';
import { revPerMin, seconds } from '../quantity/unit.js';
import type { FindingBody } from './finding.js';
import type { ModalState } from './read/state.js';

/** Off the ordered speed by this share is off; more than S rounds. */
const SPEED_SLACK = 0.05;
/** Waits within this are long enough: the last digit of a dwell. */
const DWELL_SLACK = 0.0015;

/** @param waited seconds since the wheel was started. */
export function atContact(
  { machine, grinding }: Job,
  state: ModalState,
  waited: number,
): readonly FindingBody[] {
  const findings: FindingBody[] = [];
  const { spinUp, switched } = machine.spindle;
  if (switched === 'by program') {
    if (state.spindle === 'off') findings.push({ code: 'wheel-not-turning' });
    else if (waited < spinUp - DWELL_SLACK)
      findings.push({ code: 'spin-up-short', waited: seconds(waited), needed: spinUp });
    const speed = state.speed === 'unsaid' ? 0 : state.speed;
    if (Math.abs(speed / grinding.spindleSpeed - 1) > SPEED_SLACK)
      findings.push({ code: 'speed-not-ordered', speed: revPerMin(speed), ordered: grinding.spindleSpeed });
  }
  const wet = state.flood || state.mist;
  if (grinding.coolant === 'none' && wet) findings.push({ code: 'coolant-unwanted' });
  if (grinding.coolant !== 'none' && !wet)
    findings.push({ code: 'coolant-missing', wanted: grinding.coolant });
  return findings;
}
