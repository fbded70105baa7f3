/**
 * The dry run: lines in, findings and the punch out. It reads only program text, job and machine, and
 * knows nothing of how a program was made. Lines may come one by one, so length costs no memory.
 */
import { jobFaults } from '../job/fault.js';
import { type Job, layoutOf, slopeOf } from '../job/job.js';
import { countsOf } from '../job/layout.js';
import type { Standing } from '../job/standing.js';
import { toTheEnd } from '../quantity/in-steps.js';
import { type Mm, mm, rad } from '../quantity/unit.js';
import type { BlockPlace, CheckFinding, FindingBody } from './finding.js';
import { createFindingList } from './finding-list.js';
import { holdAgainstOrder } from './punch/against-order.js';
import { type MeasuredPunch, measure } from './punch/measure.js';
import type { Action } from './read/execute.js';
import { lineByLine, splitSet } from './read/lines.js';
import { LONGEST_LINE } from './read/reader.js';
import { createSession, type Session } from './read/session.js';
import { type ModalState, powerUp } from './read/state.js';
import { raiseAction, raisedMachine, raiseState } from './run/raise.js';
import { createRun } from './run/run.js';
import type { IndexRecord } from './run/stock.js';
import type { Sweep } from './run/sweep.js';
import { travelLeft } from './run/travel.js';
import { createSaid } from './said.js';

export interface CheckOptions {
  /** How the operator's block-delete switch stands; without it a block with `/` is refused. */
  readonly blockDelete?: 'on' | 'off';
  /** Called after everything a block does, for those who want to run. */
  readonly observe?: (moment: Moment) => void;
  /** `believed`: the flats that stand before are only what the program's head says. */
  readonly standing?: 'known' | 'believed';
  /** What the program is run for: `air`: the zero is set so much higher; `look`: it shows places with the wheel at rest. */
  readonly purpose?: Purpose;
}

/** Whatever it is run for beside cutting, nothing is to be cut. */
export type Purpose = 'cut' | 'look' | { readonly raised: Mm };

/** One action of one block, and how things stand after it. */
export interface Moment {
  readonly place: BlockPlace;
  readonly action: Action;
  readonly state: ModalState;
  readonly sweep: Sweep;
}

export interface CheckReport {
  /** `run` if no error was found. */
  readonly verdict: 'run' | 'refused';
  readonly findings: readonly CheckFinding[];
  readonly punch: MeasuredPunch;
  /** How it leaves the punch, for what goes on from there. */
  readonly left: Standing;
  /** Lines read, of all programs. */
  readonly lines: number;
  /** How far each axis stays from the end of its travel. */
  readonly travelLeft: ReturnType<typeof travelLeft>;
  /** Of a run in the air: how far over the punch the rim passed at its nearest. */
  readonly air: AirRun | 'none';
}

export interface AirRun {
  readonly raised: Mm;
  readonly nearest: Mm | 'never over the punch';
}

/**
 * Every flat ground, with its stairs. The wheel may have worn less than thought by then: what goes on from here begins a
 * rough infeed above, so that no stroke bites much more than one.
 */
const standingLeft = ({ grinding }: Job, records: readonly IndexRecord[]): Standing =>
  records.flatMap(({ at, stock: { floors } }) =>
    floors.length === 0
      ? []
      : [{ at: rad((at + 2 * Math.PI) % (2 * Math.PI)), floors, higher: grinding.roughInfeed }],
  );

const airRun = (raised: Mm, nearest: number): AirRun => ({
  raised,
  nearest: Number.isFinite(nearest) ? mm(-nearest) : 'never over the punch',
});

/** What is found only of a program that is to cut. */
const OF_CUTTING: ReadonlySet<FindingBody['code']> = new Set(['index-again', 'below-the-flats']);

/** What a run in the air cuts, that should cut nothing. */
function cutInTheAir(
  job: Job,
  raised: Mm,
  nearest: number,
  records: readonly IndexRecord[],
): readonly FindingBody[] {
  if (!records.some(({ passes, deepestBite }) => passes > 0 || deepestBite > 0)) return [];
  const depth = mm(Math.max(0, nearest));
  // The offset counts as the infeed axis does, and a tilted head comes nearer by less than it.
  const layout = layoutOf(job);
  const { by, angle } = slopeOf(job);
  const counts = countsOf(layout, layout.up.axis) / (by === 'head' ? Math.cos(angle) : 1);
  const wouldDo = mm(Math.ceil(raised + counts * (depth + job.grinding.clearance)));
  return [{ code: 'cuts-in-the-air', depth, wouldDo }];
}

/** A line that is one comment and nothing else. */
const isOnlyComment = (text: string): boolean => /^\s*(\([^()]*\)|;.*)\s*$/.test(text);

export interface DryRun {
  /** Begins a program; a set goes on with the punch as the one before left it. */
  readonly start: (program: string) => void;
  /** One line without its line end. */
  readonly line: (text: string) => void;
  /** Ends the last program and measures the punch. */
  readonly finish: () => CheckReport;
}

/** A dry run of `job`, fed line by line: what was found and the punch left come at the end. Never throws on any text. */
export function createDryRun(job: Job, options: CheckOptions = {}): DryRun {
  const purpose = options.purpose ?? 'cut';
  const raised = typeof purpose === 'object' ? purpose.raised : mm(0);
  const machine = raisedMachine(job, raised);
  const run = createRun(job, powerUp(machine), purpose === 'look' ? 'at rest' : 'running');
  const { sweep } = run;
  const said = createSaid(job, options.standing ?? 'known');
  const { longestBlock } = job.machine.program;
  const found = createFindingList();
  let lines = 0;
  let session: Session | 'none' = 'none';
  let place: BlockPlace = { program: '', line: 0, text: '' };
  let afterEnd = false;

  const report = (bodies: readonly FindingBody[], where: BlockPlace): void => {
    if (bodies.length === 0) return;
    found.add(purpose === 'cut' ? bodies : bodies.filter(({ code }) => !OF_CUTTING.has(code)), where);
  };

  const stateOf = (open: Session): ModalState => raiseState(job, raised, open.state());

  const close = (): void => {
    if (session === 'none') return;
    report(run.finish(stateOf(session)), { ...place, text: '' });
    report(said.close(), { program: place.program, line: 0, text: '' });
  };

  const take = (open: Session, text: string): void => {
    const done = open.line(text);
    if (done.odd !== undefined) report([done.odd], place);
    if (done.comments.length > 0) report(run.comments(done.comments), place);
    report(said.line(text, done.comments), place);
    if (done.kind === 'refused') report([done.finding], place);
    if (done.kind === 'after end' && !afterEnd) {
      afterEnd = true;
      report([{ code: 'text-after-end' }], place);
    }
    if (done.kind !== 'executed') return;
    for (const programmed of done.actions) {
      const action = raiseAction(job, raised, programmed);
      const state = stateOf(open);
      report(run.act(action, state), place);
      options.observe?.({ place, action, state, sweep });
      // Whether an optional stop stops is not in the program; where it does not, nothing has moved.
      if (action.kind === 'stop' && !action.optional) open.forget();
    }
  };

  return {
    start: (program) => {
      close();
      if (session !== 'none') run.restart();
      said.start();
      session = createSession(machine, options.blockDelete ?? 'unsaid');
      place = { program, line: 0, text: '' };
      afterEnd = false;
    },
    line: (text) => {
      if (session === 'none') throw new RangeError('a program is started before its first line');
      lines += 1;
      place = { program: place.program, line: place.line + 1, text };
      // A control cuts such a block short or stops at it; a comment cut short harms nobody.
      const long = text.length > longestBlock && text.length <= LONGEST_LINE;
      const only = long && isOnlyComment(text);
      if (only) report([{ code: 'comment-long', length: text.length, most: longestBlock }], place);
      if (long && !only) {
        report([{ code: 'line-too-long', length: text.length, most: longestBlock }], place);
      } else take(session, text);
    },
    finish: () => {
      close();
      const whole = { program: place.program, line: 0, text: '' };
      const punch = measure(job, sweep.records());
      report(
        jobFaults(job).map((fault) => ({ code: 'job-unsafe', fault })),
        whole,
      );
      report(
        purpose === 'cut'
          ? holdAgainstOrder(job, punch)
          : cutInTheAir(job, raised, run.nearest(), sweep.records()),
        whole,
      );
      report(said.finish(), whole);
      return {
        verdict: found.isRefused() ? 'refused' : 'run',
        findings: found.all(whole),
        punch,
        left: standingLeft(job, sweep.records()),
        lines,
        travelLeft: travelLeft(job, run.travel()),
        air: purpose === 'cut' ? 'none' : airRun(raised, run.nearest()),
      };
    },
  };
}

/** A program's name and text. */
export interface ProgramText {
  readonly name: string;
  readonly text: string;
}

/** Checks one program, or a set that is run one after the other, against `job`. Never throws on any text. */
export function checkPrograms(
  programs: readonly ProgramText[],
  job: Job,
  options: CheckOptions = {},
): CheckReport {
  const run = createDryRun(job, options);
  toTheEnd(lineByLine(splitSet(programs), run));
  return run.finish();
}
