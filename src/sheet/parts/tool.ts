/**
 * Part 11: the punch from its seat in the head to its face, and a table to keep with it: what each face cut leaves, how
 * thick a spacer then goes behind the shank, room for what was measured and when. Numbers from plan/tool.
 */
import type { Plan } from '../../plan/plan.js';
import type { Regrind } from '../../plan/regrind.js';
import { type Tool, toolOf } from '../../plan/tool.js';
import { fixed, trimmed } from '../../quantity/decimal.js';
import { fromMm, toMm } from '../../quantity/length.js';
import { type Say, sayIn } from '../../quantity/say.js';
import { type LengthUnit, type Mm, mm } from '../../quantity/unit.js';
import { big, checked, type Fact, fact, type Part, part, type TableData } from '../model.js';

/** How far the tip stands off its place, to see what that does. */
const OFF = { mm: 0.1, inch: 0.004 } as const;

/** Rows of its life that are kept on paper; `flatwright resharpen` prints the rest. */
const ROWS_KEPT = 6;

export function toolPart({ job }: Plan): Part {
  const say = sayIn(job.units);
  const tool = toolOf(job);
  const { life } = tool;
  return part('tool', 'The punch as a tool', {
    facts: [
      lengthFact(tool, job.units, say),
      ...shankFacts(tool, job.blank, say),
      fact('Face', `within ${say.length(tool.square)} of square to the shank; hone it, never the flats`),
      ...gaugeFacts(tool, say),
    ],
    tables: life === 'none' ? [] : [lifeTable(tool, life.rows, job.units, say)],
    notes:
      life === 'none'
        ? []
        : [
            `Keep this with the punch. Sharpen by grinding the face, ${say.length(life.cut)} or what clears the wear, and stone off the burr; worn out at ${say.length(life.least)}. The spacer goes behind the shank, as thick as is off in all, so that the tip stays where the axes cross.${life.rows.length > ROWS_KEPT ? ` ${life.rows.length - 1} cuts in all: flatwright resharpen.` : ''}`,
          ],
  });
}

function lengthFact({ length, perMmOff }: Tool, units: LengthUnit, say: Say): Fact {
  const off = toMm(OFF[units], units);
  const moves = `each ${say.length(off)} its tip stands off moves across flats by ${say.fine(mm(off * perMmOff))}`;
  return length === 'by the head'
    ? fact('Length', `by the head: the tip stands where its tilted axis crosses the spindle; ${moves}`)
    : checked(
        big('Length', `${say.length(length)} from the shank's rear end to the face`),
        `${moves}; as made`,
      );
}

function shankFacts(
  { shank }: Tool,
  blank: { readonly shape: string; readonly size: Mm },
  say: Say,
): readonly Fact[] {
  if (shank === 'by the head') return [];
  const made =
    blank.shape !== 'round' || blank.size > shank
      ? `, ground concentric before the flats; a flat for the head's screw`
      : blank.size < shank
        ? `: the blank of ${say.length(blank.size)} wants a sleeve`
        : `, the blank as it is; a flat for the head's screw`;
  return [fact('Shank', `${say.length(shank)}${made}`)];
}

const gaugeFacts = ({ gauge }: Tool, say: Say): readonly Fact[] =>
  gauge === 'none'
    ? []
    : [
        fact(
          'Gauge',
          `of the socket it makes: ${say.length(gauge.least)} goes in, ${say.length(gauge.most)} does not`,
        ),
      ];

function lifeTable({ length }: Tool, rows: readonly Regrind[], units: LengthUnit, say: Say): TableData {
  const digits = units === 'inch' ? 3 : 2;
  const short = (value: number): string => fixed(fromMm(mm(value), units), digits);
  const even = rows.some(({ acrossCorners }) => acrossCorners !== 'none');
  return {
    head: [
      'face cut',
      'off and spacer',
      even ? 'across flats' : 'inscribed',
      ...(length === 'by the head' ? [] : ['length']),
      'flats',
      'depth',
    ],
    rows: rows
      .slice(0, ROWS_KEPT)
      .map(({ number, off, size, flatLength, depth }) => [
        number === 0 ? 'new' : trimmed(number, 0),
        short(off),
        say.column(size),
        ...(length === 'by the head' ? [] : [short(length - off)]),
        short(flatLength),
        short(depth),
      ]),
    pen: ['measured', 'date'],
  };
}
