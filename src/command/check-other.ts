/** Programs that grind no flats but a face, or dress the rim: known by their heads, checked by dry runs of their own. */
import { checkDress } from '../check/dress.js';
import type { ProgramText } from '../check/dry-run.js';
import { checkFace } from '../check/face.js';
import type { Job } from '../job/job.js';
import { toMm } from '../quantity/length.js';
import type { Mm } from '../quantity/unit.js';
import { otherJson, otherScreen } from './check-screen.js';

export interface OtherKind {
  readonly kind: 'face' | 'rim';
  /** What its head says comes off. */
  readonly off: Mm;
}

const HEADS: Readonly<Record<OtherKind['kind'], RegExp>> = {
  face: /^[(;]\s*FACE: (\d+\.?\d*) (MM|IN) OFF/,
  rim: /^[(;]\s*DRESS: (\d+\.?\d*) (MM|IN) OFF/,
};

/** What the head of a program says it takes off the face, or off the rim; `none` if it grinds flats. */
export function otherKind(head: readonly string[]): OtherKind | 'none' {
  for (const kind of ['face', 'rim'] as const)
    for (const line of head) {
      const [, value, unit] = HEADS[kind].exec(line) ?? [];
      if (value !== undefined) return { kind, off: toMm(Number(value), unit === 'IN' ? 'inch' : 'mm') };
    }
  return 'none';
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
