/**
 * Every G and M code this checker knows: its modal group, or why it is refused. A block may hold one code
 * of a group. Source: NISTIR 6556 (RS274/NGC v3), Table 4 (modal groups); G70 and G71 as units are
 * EIA RS-274-D; G95 to G97 of later controls (from memory).
 */

export type Group =
  | 'motion'
  | 'plane'
  | 'distance'
  | 'feed mode'
  | 'units'
  | 'cutter compensation'
  | 'length offset'
  | 'return level'
  | 'work offset'
  | 'path control'
  | 'diameter'
  | 'non-modal'
  | 'stopping'
  | 'tool change'
  | 'spindle'
  | 'spindle mode'
  | 'coolant'
  | 'overrides'
  | 'clamp';

export interface CodeRow {
  readonly code: string;
  readonly group: Group;
  /** Why the code is not vouched for; `no` if it is. */
  readonly refused: string;
}

const rows: readonly (readonly [group: Group, codes: string, refused?: string])[] = [
  ['motion', 'G0 G1 G2 G3 G80'],
  ['motion', 'G38.2 G38.3 G38.4 G38.5', 'probing depends on what the probe meets'],
  ['motion', 'G81 G82 G83 G84 G85 G86 G87 G88 G89', 'a canned cycle moves by rules of its control'],
  ['motion', 'G33 G76', 'threading follows the spindle'],
  ['plane', 'G17 G18 G19'],
  ['distance', 'G90 G91'],
  ['feed mode', 'G93 G94'],
  ['feed mode', 'G95', 'feed per revolution is not for a grinding wheel'],
  ['units', 'G20 G21 G70 G71'],
  ['cutter compensation', 'G40'],
  ['cutter compensation', 'G41 G42', 'cutter compensation moves the path by a number in the control'],
  ['length offset', 'G49'],
  ['length offset', 'G43'],
  ['length offset', 'G44', 'the length offset is a number in the control, not in the job'],
  ['return level', 'G98 G99'],
  ['work offset', 'G54 G55 G56 G57 G58 G59'],
  ['work offset', 'G59.1 G59.2 G59.3', 'this offset is a number in the control, not in the profile'],
  ['path control', 'G61 G61.1'],
  ['path control', 'G64'],
  ['diameter', 'G7 G8'],
  ['non-modal', 'G4 G53'],
  ['non-modal', 'G10 G52 G92 G92.1 G92.2 G92.3', 'it moves the zero that the whole program stands on'],
  ['non-modal', 'G28'],
  ['non-modal', 'G30', 'it goes to a place that stands in the control'],
  ['stopping', 'M0 M1 M2 M30'],
  ['stopping', 'M60', 'a pallet change moves the work'],
  ['stopping', 'M98 M99', 'subprograms are not followed'],
  ['tool change', 'M6'],
  ['spindle', 'M3 M4 M5'],
  ['spindle mode', 'G96', 'constant surface speed changes the wheel speed on its own'],
  ['spindle mode', 'G97'],
  ['coolant', 'M7 M8 M9'],
  ['overrides', 'M48 M49'],
];

/** By letter and number, so that looking a word up builds no text. */
const table: Readonly<Record<'G' | 'M', ReadonlyMap<number, CodeRow>>> = {
  G: byNumber('G'),
  M: byNumber('M'),
};

function byNumber(letter: 'G' | 'M'): ReadonlyMap<number, CodeRow> {
  const all = rows.flatMap(([group, codes, refused = 'no']) =>
    codes.split(' ').map((code): CodeRow => ({ code, group, refused })),
  );
  return new Map(
    all.filter(({ code }) => code.startsWith(letter)).map((row) => [Number(row.code.slice(1)), row]),
  );
}

export const codeRow = (letter: 'G' | 'M', number: number): CodeRow | undefined => table[letter].get(number);
