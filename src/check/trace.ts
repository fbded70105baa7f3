/**
 * What a control would do, block by block, in mm and degrees: the reader's and executor's own view of a
 * program, without blank or wheel. A coordinate the program has not said yet is left out.
 */
import type { Machine } from '../job/machine.js';
import { execute } from './execute.js';
import type { FindingBody } from './finding.js';
import { readLine } from './reader.js';
import { type Axis, type ModalState, START } from './state.js';

export interface TraceRow {
  /** Line in the file, from 1. */
  readonly block: number;
  readonly number?: number;
  readonly motion?: 'rapid' | 'feed' | 'arc clockwise' | 'arc counter-clockwise';
  readonly x?: number;
  readonly y?: number;
  readonly z?: number;
  readonly a?: number;
  /** Arc centre on the plane's first and second axis, mm; the swept angle, degrees. */
  readonly centre?: readonly [number, number];
  readonly sweep?: number;
  /** mm/min, or deg/min for a rotary move alone; 1/min in inverse time. */
  readonly feed?: number;
  readonly spindle: ModalState['spindle'];
  /** rev/min as last said. */
  readonly speed?: number;
  readonly coolant: 'off' | 'flood' | 'mist' | 'flood and mist';
  /** Seconds. */
  readonly dwell?: number;
  readonly stop?: true;
  readonly end?: true;
  readonly refused?: FindingBody;
}

export interface Tracer {
  /** Rows of one line; a line with nothing to do gives none. */
  readonly line: (text: string) => readonly TraceRow[];
  readonly refused: () => boolean;
}

const AXES: readonly Axis[] = ['x', 'y', 'z', 'a'];

export function createTracer(machine: Machine, blockDelete: 'on' | 'off' | 'unsaid' = 'unsaid'): Tracer {
  let state = START;
  let block = 0;
  let percents = 0;
  let body = 0;
  let refused = false;

  const refuse = (finding: FindingBody): readonly TraceRow[] => {
    refused = true;
    return [{ block, ...modal(state), refused: finding }];
  };

  const line = (text: string): readonly TraceRow[] => {
    block += 1;
    if (state.ended || percents >= 2) return [];
    const read = readLine(text);
    if (read.kind === 'refused') return refuse(read.finding);
    if (read.kind === 'percent') percents += 1;
    if (read.kind === 'program number' && body > 0) return refuse({ code: 'subprogram', text: text.trim() });
    if (read.kind !== 'block' || read.words.length === 0) return [];
    body += 1;
    if (read.deletable && blockDelete === 'unsaid') return refuse({ code: 'block-delete' });
    if (read.deletable && blockDelete === 'on') return [];
    const done = execute(state, read, machine);
    if (done.kind === 'refused') return refuse(done.finding);
    state = done.state;
    return [{ block, ...numbered(read.number), ...rowOf(state, done.actions) }];
  };

  return { line, refused: () => refused };
}

const numbered = (number: number | 'none'): { readonly number?: number } =>
  number === 'none' ? {} : { number };

const coolants = { '00': 'off', '10': 'flood', '01': 'mist', '11': 'flood and mist' } as const;

function modal(state: ModalState): Pick<TraceRow, 'spindle' | 'coolant' | 'speed'> {
  const coolant = coolants[`${state.flood ? 1 : 0}${state.mist ? 1 : 0}`];
  return { spindle: state.spindle, ...(state.speed === 'unsaid' ? {} : { speed: state.speed }), coolant };
}

type Actions = Extract<ReturnType<typeof execute>, { readonly kind: 'done' }>['actions'];

function rowOf(state: ModalState, actions: Actions): Omit<TraceRow, 'block'> {
  const move = actions.find((action) => action.kind === 'move');
  const dwell = actions.find((action) => action.kind === 'dwell');
  const place = Object.fromEntries(
    AXES.flatMap((axis) => (state.position[axis] === 'unknown' ? [] : [[axis, state.position[axis]]])),
  );
  return {
    ...(move === undefined ? {} : motionOf(move)),
    ...place,
    ...(move === undefined || move.rapid ? {} : { feed: move.feed }),
    ...modal(state),
    ...(dwell === undefined ? {} : { dwell: dwell.seconds }),
    ...(actions.some(({ kind }) => kind === 'stop') ? { stop: true as const } : {}),
    ...(actions.some(({ kind }) => kind === 'end') ? { end: true as const } : {}),
  };
}

function motionOf({ rapid, arc }: Extract<Actions[number], { readonly kind: 'move' }>): Partial<TraceRow> {
  if (rapid) return { motion: 'rapid' };
  if (arc === 'straight') return { motion: 'feed' };
  return { motion: `arc ${arc.turns}`, centre: arc.centre, sweep: (arc.sweep * 180) / Math.PI };
}
