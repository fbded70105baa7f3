/**
 * What a control would do, block by block, in mm and degrees: the reader's and executor's own view of a
 * program, without blank or wheel. A coordinate the program has not said yet is left out.
 */
import type { Machine } from '../../job/machine.js';
import type { FindingBody } from '../finding.js';
import type { Action } from './execute.js';
import { type BlockDelete, createSession } from './session.js';
import type { Axis, ModalState } from './state.js';

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
  /** mm/min along the path, or deg/min for a rotary move alone. */
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

/** A tracer for one program on `machine`: rows in mm and degrees. */
export function createTracer(machine: Machine, blockDelete: BlockDelete = 'unsaid'): Tracer {
  const session = createSession(machine, blockDelete);
  let block = 0;
  let refused = false;
  return {
    line: (text) => {
      block += 1;
      const done = session.line(text);
      if (done.kind === 'executed')
        return [{ block, ...numbered(done.number), ...rowOf(session.state(), done.actions) }];
      if (done.kind !== 'refused') return [];
      refused = true;
      return [{ block, ...modal(session.state()), refused: done.finding }];
    },
    refused: () => refused,
  };
}

const numbered = (number: number | 'none'): { readonly number?: number } =>
  number === 'none' ? {} : { number };

const coolants = { '00': 'off', '10': 'flood', '01': 'mist', '11': 'flood and mist' } as const;

function modal(state: ModalState): Pick<TraceRow, 'spindle' | 'coolant' | 'speed'> {
  const coolant = coolants[`${state.flood ? 1 : 0}${state.mist ? 1 : 0}`];
  return { spindle: state.spindle, ...(state.speed === 'unsaid' ? {} : { speed: state.speed }), coolant };
}

type Actions = readonly Action[];

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
