/**
 * Source: the stand-alone RS274/NGC interpreter (Debian package linuxcnc-uspace, command rs274 -g FILE), as an
 * outside reader: it knows nothing of our reader, codes or state.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

export const hasInterpreter: boolean = spawnSync('rs274', ['-h'], { stdio: 'ignore' }).error === undefined;

export interface CanonicalMove {
  readonly kind: 'rapid' | 'feed' | 'arc';
  /** Program units: X Y Z; for an arc, its end. */
  readonly at: readonly [x: number, y: number, z: number];
  /** Degrees of A, B and C. */
  readonly turned: readonly [a: number, b: number, c: number];
}

export interface Interpreted {
  readonly moves: readonly CanonicalMove[];
  /** What it said if it stopped at an error. */
  readonly error: string | 'none';
  readonly calls: readonly string[];
}

/** Where work zero lies, inches: the numbers of the parameters the interpreter keeps G54 in. */
const parameters = (zero: readonly number[]): string => {
  const all = [5161, 5181, 5211].flatMap((first) => [0, 1, 2, 3, 4, 5].map((i) => [first + i, 0] as const));
  const g54 = [0, 1, 2, 3, 4, 5].map((i) => [5221 + i, zero[i] ?? 0] as const);
  return [...all, [5220, 1] as const, ...g54].map((pair) => `${pair.join('\t')}\n`).join('');
};

/** Under load the interpreter now and then dies without a word, which says nothing of the program: it is asked again. */
const ATTEMPTS = 5;
const WORDLESS = 'died without a word';

/** Runs `text` through the interpreter; `zero` is work zero in machine coordinates, mm, all zero if left out. */
export function interpret(text: string, zero: readonly number[] = []): Interpreted {
  let read = interpretOnce(text, zero);
  for (let i = 1; i < ATTEMPTS && read.error === WORDLESS; i += 1) read = interpretOnce(text, zero);
  return read;
}

function interpretOnce(text: string, zero: readonly number[]): Interpreted {
  const folder = mkdtempSync(join(tmpdir(), 'interpreter-'));
  try {
    const file = join(folder, 'program.ngc');
    writeFileSync(file, text);
    const kept = join(folder, 'kept.var');
    writeFileSync(kept, parameters(zero.map((length) => length / 25.4)));
    const { stdout, stderr, status } = spawnSync('rs274', ['-v', kept, '-g', file], {
      cwd: folder,
      encoding: 'utf8',
      maxBuffer: 2 ** 28,
    });
    const calls = stdout.split('\n').map((line) => line.replace(/^\s*\d+\s+N\S*\s+/, '').trim());
    const said = stderr.replace(/^executing\s*/, '').trim();
    const error = said !== '' ? said : status !== 0 ? WORDLESS : 'none';
    return { moves: calls.flatMap(moveOf), error, calls };
  } finally {
    rmSync(folder, { recursive: true });
  }
}

function moveOf(call: string): readonly CanonicalMove[] {
  const match = /^(STRAIGHT_TRAVERSE|STRAIGHT_FEED|ARC_FEED)\((.*)\)$/.exec(call);
  if (match === null) return [];
  const n = (match[2] ?? '').split(',').map(Number);
  const number = (i: number): number => n[i] ?? Number.NaN;
  if (match[1] === 'ARC_FEED')
    return [
      { kind: 'arc', at: [number(0), number(1), number(5)], turned: [number(6), number(7), number(8)] },
    ];
  const kind = match[1] === 'STRAIGHT_TRAVERSE' ? 'rapid' : 'feed';
  return [{ kind, at: [number(0), number(1), number(2)], turned: [number(3), number(4), number(5)] }];
}
