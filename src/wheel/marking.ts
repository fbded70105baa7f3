/**
 * What is printed on a wheel, by its places: the maker's own prefix, abrasive, grit, grade, structure, bond, the
 * maker's own suffix, as `51 A 36 L 5 V 23`. On diamond and boron nitride the concentration stands for the structure.
 * Source: ISO 525, designation (order of the places, letters A and C, bonds V, R, RF, B, BF, E, MG, PL), and ISO 6104 for
 * diamond and boron nitride; both from memory, the seven places confirmed by makers' charts that cite ISO 525.
 */

export type Bond =
  | 'vitrified'
  | 'resinoid'
  | 'reinforced resinoid'
  | 'rubber'
  | 'reinforced rubber'
  | 'shellac'
  | 'magnesia'
  | 'plastic'
  | 'metal'
  | 'electroplated';

export interface Marking {
  /** The marking with one space between its places. */
  readonly text: string;
  /** `unknown`: letters of the maker's own. */
  readonly abrasive: string | 'unknown';
  /** Mesh of an ordinary abrasive; of diamond and boron nitride as marked, mesh or micrometres. */
  readonly grit: number;
  /** A, softest, to Z, hardest. */
  readonly grade: string | 'none';
  readonly bond: Bond | 'none';
}

const BONDS: readonly (readonly [mark: string, bond: Bond])[] = [
  ['BF', 'reinforced resinoid'],
  ['RF', 'reinforced rubber'],
  ['MG', 'magnesia'],
  ['PL', 'plastic'],
  ['V', 'vitrified'],
  ['B', 'resinoid'],
  ['R', 'rubber'],
  ['E', 'shellac'],
  ['M', 'metal'],
  ['G', 'electroplated'],
];

const NO_BOND = ['', 'none'] as const;

/** Makers put a letter of their own before the A or C: WA white, PA pink, GC green. From memory. */
const ABRASIVES: readonly (readonly [letters: RegExp, abrasive: string])[] = [
  [/^(?:CBN|BN|B)$/, 'cubic boron nitride'],
  [/^[A-Z]?D$/, 'diamond'],
  [/^[A-Z]?C$/, 'silicon carbide'],
  [/^[A-Z]?A$/, 'aluminium oxide'],
];

/** Coarsest and finest grit there is; ISO 525, from memory. */
const GRITS = { least: 4, most: 1200 } as const;

/** Prefix, letters, grit, grade, structure, bond with what the maker adds. */
const PLACES = /^(\d*)([A-Z]{1,3}?)(\d{1,4})([A-Z]?)(\d*)((?:[A-Z].*)?)$/;

/** Whose marking need not say how hard the bond holds. */
const SUPERABRASIVE: readonly string[] = ['diamond', 'cubic boron nitride'];

/** Reads a marking, however its places are set apart; `unread` where they do not come in their order. */
export function readMarking(text: string): Marking | 'unread' {
  const places = PLACES.exec(text.toUpperCase().replace(/[\s./_-]+/g, ''));
  if (places === null) return 'unread';
  const [, prefix = '', letters = '', grit = '', grade = '', structure = '', tail = ''] = places;
  const mesh = Number(grit);
  if (mesh < GRITS.least || mesh > GRITS.most) return 'unread';
  const [mark, bond] = BONDS.find(([each]) => tail.startsWith(each)) ?? NO_BOND;
  const abrasive = ABRASIVES.find(([like]) => like.test(letters))?.[1] ?? 'unknown';
  // One letter that is no abrasive is a grade whose abrasive was left out.
  const outOfOrder = (abrasive === 'unknown' && letters.length === 1) || (tail !== '' && bond === 'none');
  const short = !SUPERABRASIVE.includes(abrasive) && (grade === '' || bond === 'none');
  if (outOfOrder || short) return 'unread';
  const inOrder = [prefix, letters, grit, grade, structure, mark, tail.slice(mark.length)];
  return {
    text: inOrder.filter((place) => place !== '').join(' '),
    abrasive,
    grit: mesh,
    grade: grade === '' ? 'none' : grade,
    bond,
  };
}

/** Whether a grade is harder than another: A is the softest. */
export const isHarder = (grade: string, than: string): boolean => grade > than;
