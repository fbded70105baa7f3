/**
 * A program read for a machine alone, whatever it is to make: every block read as a control would, travel, feeds, speeds
 * and modal rules. What it does to a punch, to a wheel and to what holds them is not judged; whoever shows this says so.
 */
import type { Machine } from '../job/machine.js';
import type { InSteps } from '../quantity/in-steps.js';
import { type MmPerMin, mmPerMin, type RevPerMin, revPerMin } from '../quantity/unit.js';
import type { ProgramText } from './dry-run.js';
import type { BlockPlace, CheckFinding } from './finding.js';
import { createFindingList } from './finding-list.js';
import type { Action } from './read/execute.js';
import { lineByLine, splitSet } from './read/lines.js';
import { createSession, type Session } from './read/session.js';
import type { ModalState } from './read/state.js';
import { MACHINE_RULES, type Moment } from './run/rules.js';
import type { MachineStanding } from './run/standing.js';
import { NO_TRAVEL, type TravelSo, travelLeft, travelled } from './run/travel.js';
import { AT_REST, afterDwell, afterSpeed, afterSpindle } from './run/waited.js';

/** From and to, as programmed; `none` where nothing of the kind is said. */
type Range<Of> = { readonly least: Of; readonly most: Of } | 'none';

export interface ReadingReport {
  /** `read` if nothing of what is looked at is wrong. */
  readonly verdict: 'read' | 'refused';
  readonly findings: readonly CheckFinding[];
  readonly lines: number;
  /** Lines refused, which nothing was made of. */
  readonly skipped: number;
  readonly moves: number;
  readonly stops: number;
  /** How far each axis goes, mm as programmed from work zero. */
  readonly travel: TravelSo;
  readonly left: ReturnType<typeof travelLeft>;
  readonly feeds: Range<MmPerMin>;
  readonly speeds: Range<RevPerMin>;
  /** Every G and M that it uses, in the order of their numbers. */
  readonly codes: readonly string[];
}

const wider = <Of extends number>(range: Range<Of>, value: Of): Range<Of> =>
  range === 'none'
    ? { least: value, most: value }
    : {
        least: value < range.least ? value : range.least,
        most: value > range.most ? value : range.most,
      };

/** G and M words of a line outside its comments. */
const CODE = /(?<![A-Z])([GM])0*(\d+(?:\.\d)?)(?!\d)/g;
const codesOf = (line: string): readonly string[] =>
  [
    ...line
      .toUpperCase()
      .replace(/\([^()]*\)|;.*/g, '')
      .matchAll(CODE),
  ].map(([, letter = '', number = '']) => `${letter}${number}`);

const byNumber = (a: string, b: string): number =>
  a.charAt(0) === b.charAt(0) ? Number(a.slice(1)) - Number(b.slice(1)) : a < b ? -1 : 1;

/** Reads the programs of a set one after the other, in steps. Never throws on any text. */
export function* reading(programs: readonly ProgramText[], machine: Machine): InSteps<ReadingReport> {
  const found = createFindingList();
  const codes = new Set<string>();
  let [lines, skipped, moves, stops] = [0, 0, 0, 0];
  let travel = NO_TRAVEL;
  let feeds: Range<MmPerMin> = 'none';
  let speeds: Range<RevPerMin> = 'none';

  /** One program of the set, from power-up to its end. */
  function one(name: string): { readonly line: (text: string) => void; readonly end: () => void } {
    const session: Session = createSession(machine, 'unsaid');
    let wheel = AT_REST;
    let moved = false;
    let afterEnd = false;
    let place: BlockPlace = { program: name, line: 0, text: '' };
    const ask = (moment: Moment, action: Action, state: ModalState): void => {
      const now: MachineStanding = { job: { machine }, state, action, wheel, shows: false, moved };
      for (const rule of MACHINE_RULES) if (rule.at === moment) found.add(rule.ask(now), place);
    };
    const act = (action: Action, state: ModalState): void => {
      if (action.kind === 'move') {
        if (!moved) ask('first move', action, state);
        ask('move', action, state);
        const went = travelled({ machine }, travel, action);
        travel = went.travel;
        found.add(went.findings, place);
        if (!action.rapid) feeds = wider(feeds, mmPerMin(action.feed));
        moves += 1;
        moved = true;
        return;
      }
      if (action.kind !== 'clamp') ask(action.kind, action, state);
      if (action.kind === 'speed') wheel = afterSpeed(wheel, state);
      if (action.kind === 'spindle') {
        wheel = afterSpindle(wheel, state);
        if (state.spindle !== 'off' && state.speed !== 'unsaid')
          speeds = wider(speeds, revPerMin(state.speed));
      }
      if (action.kind === 'dwell') wheel = afterDwell(wheel, action.seconds);
      if (action.kind === 'stop') {
        stops += 1;
        if (!action.optional) session.forget();
      }
    };
    const line = (text: string): void => {
      lines += 1;
      place = { program: name, line: place.line + 1, text };
      for (const code of codesOf(text)) codes.add(code);
      const done = session.line(text);
      if (done.odd !== undefined) found.add([done.odd], place);
      if (done.kind === 'refused') {
        skipped += 1;
        found.add([done.finding], place);
      }
      if (done.kind === 'after end' && !afterEnd) {
        afterEnd = true;
        found.add([{ code: 'text-after-end' }], place);
      }
      if (done.kind === 'executed') for (const action of done.actions) act(action, session.state());
    };
    const end = (): void => {
      place = { ...place, text: '' };
      const state = session.state();
      if (state.ended) return;
      found.add([{ code: 'end-missing' }], place);
      ask('end', { kind: 'end' }, state);
    };
    return { line, end };
  }

  const open: { program?: ReturnType<typeof one> } = {};
  yield* lineByLine(splitSet(programs), {
    start: (name) => {
      open.program?.end();
      open.program = one(name);
    },
    line: (text) => open.program?.line(text),
  });
  open.program?.end();
  const place: BlockPlace = { program: programs.at(-1)?.name ?? '', line: 0, text: '' };
  return {
    verdict: found.isRefused() ? 'refused' : 'read',
    findings: found.all(place),
    lines,
    skipped,
    moves,
    stops,
    travel,
    left: travelLeft({ machine }, travel),
    feeds,
    speeds,
    codes: [...codes].toSorted(byNumber),
  };
}
