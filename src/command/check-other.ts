/** Programs that grind no flats but a face, or dress the rim: known by their heads, checked by dry runs of their own. */
import type { BesideReport } from '../check/beside.js';
import { checkDress } from '../check/dress.js';
import type { ProgramText } from '../check/dry-run.js';
import { checkFace } from '../check/face.js';
import { headAmong } from '../job/heads.js';
import type { Job } from '../job/job.js';
import { toMm } from '../quantity/length.js';
import type { Mm } from '../quantity/unit.js';
import { checkFindingLines } from '../wording/check.js';
import { otherJson, otherScreen } from './check-screen.js';
import { Leave, REFUSED } from './exit.js';
import type { Io } from './io.js';

export interface OtherKind {
  readonly kind: 'face' | 'rim';
  /** What its head says comes off. */
  readonly off: Mm;
}

/** How much, at the beginning of either head. */
const OFF = /^(\d+\.?\d*) (MM|IN) OFF/;

/** What the head of a program says it takes off the face, or off the rim; `none` if it grinds flats. */
export function otherKind(head: readonly string[]): OtherKind | 'none' {
  for (const kind of ['face', 'rim'] as const) {
    const [, value, unit] = OFF.exec(headAmong(kind, head)) ?? [];
    if (value !== undefined) return { kind, off: toMm(Number(value), unit === 'IN' ? 'inch' : 'mm') };
  }
  return 'none';
}

/** Ends the command if a program it has made is refused by its own check. @throws Leave */
export function refuseOwn({ verdict, findings }: BesideReport, job: Job, io: Io): void {
  if (verdict === 'run') return;
  for (const finding of findings) io.err(`${checkFindingLines(finding, job).join('\n')}\n`);
  throw new Leave(REFUSED, 'its own check refuses the program, so it is not written');
}

/** The verdict on such a program, for a person and for machines. */
export function checkOther(
  { kind, off }: OtherKind,
  { name, text }: ProgramText,
  job: Job,
): {
  readonly verdict: 'run' | 'refused';
  readonly json: string;
  readonly screen: (colour: boolean) => string;
} {
  const report = kind === 'face' ? checkFace(text, name, job, off) : checkDress(text, name, job, off);
  return {
    verdict: report.verdict,
    json: otherJson(report, job),
    screen: (colour) => otherScreen(report, job, kind, colour),
  };
}
