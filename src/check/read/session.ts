/**
 * One program as a control takes it in: line by line, between its % signs, until its end. Reads, refuses or
 * executes each line and holds the state between them. Dry run and trace both stand on it.
 * Source: NISTIR 6556 (RS274/NGC v3), 3.3 and 3.6.1: % opens and closes a file, nothing is run after M2 or M30.
 */
import { ROTARY_DECIMALS } from '../../job/dialect.js';
import type { Machine } from '../../job/machine.js';
import type { FindingBody } from '../finding.js';
import { type Action, execute, type Refused, type Sorted, sortWords } from './execute.js';
import { type Block, type LineRead, readLine } from './reader.js';
import { afterStop, type ModalState, powerUp } from './state.js';

/** How the operator's block-delete switch stands; unsaid, a block with / is refused. */
export type BlockDelete = 'on' | 'off' | 'unsaid';

/** What a line did; `odd` is what one should look at all the same. */
export type LineDone = LineOutcome & { readonly odd?: FindingBody | undefined };

type LineOutcome =
  | { readonly kind: 'nothing'; readonly comments: readonly string[] }
  | { readonly kind: 'refused'; readonly comments: readonly string[]; readonly finding: FindingBody }
  | {
      readonly kind: 'executed';
      readonly comments: readonly string[];
      readonly number: number | 'none';
      readonly actions: readonly Action[];
    }
  /** Text that a control never comes to. */
  | { readonly kind: 'after end'; readonly comments: readonly string[] };

export interface Session {
  readonly line: (text: string) => LineDone;
  readonly state: () => ModalState;
  /** After a stop the operator may have moved the axes, and controls differ in what they restore. */
  readonly forget: () => void;
}

/**
 * Grinding repeats its strokes: what a line says is read once and remembered, so many different lines at a time. More
 * of them outlive the young generation of the heap, and a program without repeats then takes twice as long.
 */
const MOST_REMEMBERED = 64;

/** How a line reads, and what its block says to the control once it has come to that. */
interface Known {
  readonly read: LineRead;
  sorted: Sorted | Refused | 'not yet';
}

function createMemory(): (text: string) => Known {
  const known = new Map<string, Known>();
  return (text) => {
    const before = known.get(text);
    if (before !== undefined) return before;
    if (known.size >= MOST_REMEMBERED) known.clear();
    const read: Known = { read: readLine(text), sorted: 'not yet' };
    known.set(text, read);
    return read;
  };
}

const NO_COMMENTS: readonly string[] = [];
const NOTHING: LineDone = { kind: 'nothing', comments: NO_COMMENTS };

/** Axis words of a block whose missing point matters: not the time of a dwell in whole milliseconds. */
function pointlessIn(
  { words, pointless }: Block,
  { dwellUnit, dwellWord }: Machine['program'],
): readonly string[] {
  if (pointless.length === 0) return pointless;
  const timed =
    dwellUnit === 'milliseconds' && words.some(({ letter, value }) => letter === 'G' && value === 4);
  return timed ? pointless.filter((word) => !word.toUpperCase().startsWith(dwellWord)) : pointless;
}

/** The block as a control means it that counts words without a point in their last digit: X27426 is X27.426. */
function withPoints(block: Block, pointless: readonly string[], decimals: number): Block {
  if (pointless.length === 0) return block;
  const counted = new Set(pointless.map((word) => word.charAt(0).toUpperCase()));
  const words = block.words.map(({ letter, value }) => ({
    letter,
    value: counted.has(letter) ? value / 10 ** (/[ABC]/.test(letter) ? ROTARY_DECIMALS : decimals) : value,
  }));
  return { ...block, words };
}

/** What a block's words say to the control of `machine`, which may want or count numbers without a point. */
function sortedFor(machine: Machine, block: Block): Sorted | Refused {
  const { bareNumbers, decimals } = machine.program;
  const pointless = pointlessIn(block, machine.program);
  const [first] = pointless;
  if (first !== undefined && bareNumbers === 'refused')
    return { kind: 'refused', finding: { code: 'point-missing', word: first } };
  return sortWords(bareNumbers === 'last digits' ? withPoints(block, pointless, decimals) : block, machine);
}

/** One program on the control of `machine`, from power-up. */
export function createSession(machine: Machine, blockDelete: BlockDelete): Session {
  const remembered = createMemory();
  let state = powerUp(machine);
  let percents = 0;
  let lines = 0;
  let blocks = 0;

  const line = (text: string): LineDone => {
    const blank = text.trim() === '';
    if (state.ended || percents >= 2) {
      return blank || text.trim() === '%' ? NOTHING : { kind: 'after end', comments: NO_COMMENTS };
    }
    if (!blank) lines += 1;
    const known = remembered(text);
    const { read } = known;
    if (read.kind === 'refused') return { ...read, comments: NO_COMMENTS };
    if (read.kind === 'percent') {
      percents += 1;
      // A % that closes must have one that opens, on the first line.
      if (percents === 2 || lines === 1) return NOTHING;
      return { kind: 'refused', comments: NO_COMMENTS, finding: { code: 'percent-misplaced' } };
    }
    const { comments } = read;
    if (read.kind === 'program number') {
      if (blocks === 0) return { kind: 'nothing', comments };
      return { kind: 'refused', comments, finding: { code: 'subprogram', text: text.trim() } };
    }
    const other = machine.program.comments === 'semicolon' ? read.brackets : read.semicolon;
    if (other)
      return {
        kind: 'refused',
        comments,
        finding: { code: 'comment-style', wanted: machine.program.comments },
      };
    if (read.words.length === 0) return { kind: 'nothing', comments, odd: read.odd };
    blocks += 1;
    if (read.deletable && blockDelete === 'unsaid') {
      return { kind: 'refused', comments, finding: { code: 'block-delete' } };
    }
    if (read.deletable && blockDelete === 'on') return { kind: 'nothing', comments };
    if (known.sorted === 'not yet') known.sorted = sortedFor(machine, read);
    const { sorted } = known;
    const done = sorted.kind === 'refused' ? sorted : execute(state, sorted);
    if (done.kind === 'refused') return { ...done, comments };
    state = done.state;
    return { kind: 'executed', comments, number: read.number, actions: done.actions, odd: read.odd };
  };

  return {
    line,
    state: () => state,
    forget: () => {
      state = afterStop(state, machine);
    },
  };
}
