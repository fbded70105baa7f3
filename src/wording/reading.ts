/** A program read for a machine alone, in words and rows, for terminal and page. */
import type { ReadingReport } from '../check/reading.js';
import type { Machine } from '../job/machine.js';
import { sayIn } from '../quantity/say.js';
import { mm } from '../quantity/unit.js';

/** What no reading without a job can see. */
export const NOT_JUDGED =
  'Not judged: what it does to a punch, a wheel and what holds them, since no job says what they are. A program that reads well can still break a wheel.';

const count = (many: number, one: string): string => `${many} ${one}${many === 1 ? '' : 's'}`;

/** `2058 lines read, 0 skipped, nothing against it on bench-mill-rotary`. */
export function readWords({ lines, skipped, findings }: ReadingReport, machine: string): string {
  const errors = findings.filter(({ severity }) => severity === 'error').length;
  const warnings = findings.length - errors;
  const against =
    findings.length === 0
      ? `nothing against it on ${machine}`
      : [
          ...(errors > 0 ? [count(errors, 'error')] : []),
          ...(warnings > 0 ? [count(warnings, 'warning')] : []),
        ].join(', ');
  return `${count(lines, 'line')} read, ${skipped} skipped, ${against}`;
}

/** How far it goes, how fast, with which codes. */
export function readRows(
  { travel, left, feeds, speeds, codes, moves, stops }: ReadingReport,
  machine: Machine,
): readonly (readonly [label: string, text: string])[] {
  const say = sayIn(machine.units);
  const axes = (['x', 'y', 'z'] as const).flatMap((axis): (readonly [string, string])[] => {
    const { least, most } = travel[axis];
    if (least > most) return [];
    const room = left[axis];
    const rest =
      room === 'unknown'
        ? '; where work zero lies is not known'
        : `; ${say.length(mm(Math.max(0, room)))} of the travel left`;
    return [[axis.toUpperCase(), `${say.column(mm(least))} to ${say.column(mm(most))} ${say.unit}${rest}`]];
  });
  const range = <Of extends number>(
    of: { readonly least: Of; readonly most: Of } | 'none',
    words: (value: Of) => string,
  ): string =>
    of === 'none'
      ? 'none'
      : of.least === of.most
        ? words(of.most)
        : `${words(of.least)} to ${words(of.most)}`;
  return [
    ...axes,
    ['Feeds', range(feeds, say.feed)],
    ['Speeds', range(speeds, say.speed)],
    ['Codes', codes.join(' ')],
    ['Blocks', `${count(moves, 'move')}, ${count(stops, 'stop')}`],
  ];
}
