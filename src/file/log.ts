/**
 * The log beside a job: one entry a line, each written whole at the end and never touched again. An entry that a power
 * failure cut short is a line that does not read; it is left where it is, and counted.
 */
import * as z from 'zod';

const entry = z.looseObject({
  at: z.string(),
  stage: z.enum(['roughed', 'finished']),
  warm: z.number().min(0),
  raised: z.number().optional(),
  grindingRatio: z.number().positive().optional(),
});

/** What an entry says that can be learnt from. */
export type LoggedRun = z.output<typeof entry>;

export interface Log {
  readonly runs: readonly LoggedRun[];
  /** Lines that are no entry. */
  readonly unread: number;
}

export function readLog(text: string): Log {
  const lines = text.split('\n').filter((line) => line.trim() !== '' && !line.startsWith('#'));
  const runs = lines.flatMap((line) => {
    const read = entry.safeParse(parsed(line.replace(/^- /, '')));
    return read.success ? [read.data] : [];
  });
  // The same readings written twice are one punch.
  const seen = new Set<string>();
  const single = runs.filter((run) => {
    const key = JSON.stringify({ ...run, at: '' });
    return !seen.has(key) && seen.add(key);
  });
  return { runs: single, unread: lines.length - runs.length };
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
