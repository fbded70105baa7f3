/**
 * A dry run kept to be looked at: for every block that does something, where the rim stands after it, which way is
 * up, and what the stock at that index has become, as the checker worked it out.
 */
import type { Job } from '../job/job.js';
import type { Floor } from '../job/standing.js';
import { type InSteps, toTheEnd } from '../quantity/in-steps.js';
import { type Rad, type Seconds, seconds } from '../quantity/unit.js';
import type { WheelPoint } from '../wheel/frame.js';
import { secondsOf } from './clock.js';
import { type CheckReport, createDryRun, type Moment, type ProgramText } from './dry-run.js';
import { lineByLine, splitSet } from './read/lines.js';
import type { Stock } from './run/stock.js';

export type StepKind = 'rapid' | 'feed' | 'turn' | 'stop' | 'wheel' | 'wait' | 'end';

export interface PlayStep {
  /** Which program of the set, from 0, and which of its lines, from 1. */
  readonly program: number;
  readonly line: number;
  readonly kind: StepKind;
  readonly place: WheelPoint | 'unknown';
  readonly at: Rad;
  readonly wheel: 'running' | 'off';
  /** Since the first block, stops for hands not counted. */
  readonly clock: Seconds;
  /** The strokes that bound the stock at this index, where this block changed them. */
  readonly floors: readonly Floor[] | 'as before';
}

export interface Playback {
  readonly report: CheckReport;
  readonly steps: readonly PlayStep[];
}

/** Dry-runs the programs of a set and keeps every step. */
export const playPrograms = (programs: readonly ProgramText[], job: Job): Playback =>
  toTheEnd(playing(programs, job));

/** Longer than this nobody plays, and a page could not hold it. */
const MOST_PLAYED = 20_000;

/** The same in steps; of programs longer than can be played only the report is kept. */
export function* playing(programs: readonly ProgramText[], job: Job): InSteps<Playback> {
  const set = splitSet(programs);
  const played = set.count <= MOST_PLAYED;
  const steps: PlayStep[] = [];
  const stocks = new Map<number, Stock>();
  let program = -1;
  let clock = 0;
  const run = createDryRun(job, {
    observe: ({ place, action, state, sweep }) => {
      if (!played) return;
      const { at, stock } = sweep.current();
      const changed = stock.floors.length > 0 && stocks.get(at) !== stock;
      stocks.set(at, stock);
      clock += secondsOf(action, job.machine);
      const step: PlayStep = {
        program,
        line: place.line,
        kind: kindOf(action),
        place: sweep.place(state.position),
        at,
        wheel: state.spindle === 'off' ? 'off' : 'running',
        clock: seconds(clock),
        floors: changed ? stock.floors : 'as before',
      };
      // A block with several actions is one step: the last says how things stand.
      const last = steps.at(-1);
      if (last?.program === program && last.line === place.line)
        steps[steps.length - 1] = { ...step, floors: changed ? step.floors : last.floors };
      else steps.push(step);
    },
  });
  const start = (name: string): void => {
    program += 1;
    run.start(name);
  };
  yield* lineByLine(set, { start, line: run.line });
  return { report: run.finish(), steps };
}

function kindOf(action: Moment['action']): StepKind {
  switch (action.kind) {
    case 'move':
      if (action.from.a !== action.to.a) return 'turn';
      return action.rapid ? 'rapid' : 'feed';
    case 'dwell':
      return 'wait';
    case 'stop':
      return 'stop';
    case 'end':
      return 'end';
    case 'home':
      return 'rapid';
    case 'tool change':
    case 'speed':
    case 'spindle':
    case 'clamp':
      return 'wheel';
  }
}
