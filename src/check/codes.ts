/**
 * Every G and M code this checker knows: its modal group, or why it is refused. A block may hold one code
 * of a group. Source: NISTIR 6556 (RS274/NGC v3), Table 4 (modal groups); G70 and G71 as units are
 * EIA RS-274-D; G95 and G96 of later controls.
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
  | 'non-modal'
  | 'stopping'
  | 'tool change'
  | 'spindle'
  | 'spindle mode'
  | 'coolant'
  | 'overrides'
  | 'clamp';

interface Row {
  readonly group: Group;
  /** Present if the code is known and not vouched for. */
  readonly refused?: string;
}

const row = (group: Group, codes: string, refused?: string): readonly (readonly [string, Row])[] =>
  codes.split(' ').map((code) => [code, refused === undefined ? { group } : { group, refused }]);

const rows: readonly (readonly [string, Row])[] = [
  ...row('motion', 'G0 G1 G2 G3 G80'),
  ...row('motion', 'G38.2 G38.3 G38.4 G38.5', 'probing depends on what the probe meets'),
  ...row('motion', 'G81 G82 G83 G84 G85 G86 G87 G88 G89', 'a canned cycle moves by rules of its control'),
  ...row('motion', 'G33 G76', 'threading follows the spindle'),
  ...row('plane', 'G17 G18 G19'),
  ...row('distance', 'G90 G91'),
  ...row('feed mode', 'G93 G94'),
  ...row('feed mode', 'G95', 'feed per revolution is not for a grinding wheel'),
  ...row('units', 'G20 G21 G70 G71'),
  ...row('cutter compensation', 'G40'),
  ...row('cutter compensation', 'G41 G42', 'cutter compensation moves the path by a number in the control'),
  ...row('length offset', 'G49'),
  ...row('length offset', 'G43 G44', 'the length offset is a number in the control, not in the job'),
  ...row('return level', 'G98 G99'),
  ...row('work offset', 'G54 G55 G56 G57 G58 G59'),
  ...row('work offset', 'G59.1 G59.2 G59.3', 'this offset is a number in the control, not in the profile'),
  ...row('path control', 'G61 G61.1 G64'),
  ...row('non-modal', 'G4'),
  ...row('non-modal', 'G53', 'machine coordinates depend on where the work offset lies'),
  ...row('non-modal', 'G10 G52 G92 G92.1 G92.2 G92.3', 'it moves the zero that the whole program stands on'),
  ...row('non-modal', 'G28 G30', 'it goes to a place that stands in the control'),
  ...row('stopping', 'M0 M1 M2 M30'),
  ...row('stopping', 'M60', 'a pallet change moves the work'),
  ...row('tool change', 'M6', 'a tool change puts another wheel in the spindle'),
  ...row('spindle', 'M3 M4 M5'),
  ...row('coolant', 'M7 M8 M9'),
  ...row('overrides', 'M48 M49'),
  ...row('stopping', 'M98 M99', 'subprograms are not followed'),
  ...row('spindle mode', 'G96', 'constant surface speed changes the wheel speed on its own'),
  ...row('spindle mode', 'G97'),
];

const table: ReadonlyMap<string, Row> = new Map(rows);

export const codeRow = (code: string): Row | undefined => table.get(code);
