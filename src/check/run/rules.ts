/**
 * What the checker asks while a program runs, one rule a row: when it is asked, and what it finds. A rule looks at how
 * things stand and changes nothing. Times are the profile's; margins are the job's. What is of practice is marked.
 */
import { type Job, layoutOf, onMachine } from '../../job/job.js';
import { countsOf, isLathe, punchTurns } from '../../job/layout.js';
import { FEED_SLACK, NO_BITE, ROUNDING, SAME_INDEX } from '../../quantity/tolerance.js';
import { mm, mm3PerS, mmPerMin, revPerMin, seconds } from '../../quantity/unit.js';
import { circumradius } from '../../section/blank.js';
import { between, pairsOf } from '../../section/flat.js';
import { flatHeight, tipEdge, type WheelPoint } from '../../wheel/frame.js';
import { greatestArea } from '../../wheel/layer.js';
import { type FindingBody, NOTHING } from '../finding.js';
import { isUnknown, LINEAR, type Position } from '../read/state.js';
import { meetsFixture } from './fixture.js';
import { fromStop, linearChanged, wheelPoint } from './place.js';
import type { Found, MachineStanding, Met, Standing } from './standing.js';
import type { Swept } from './sweep.js';
import { layerTaken } from './wear.js';

/** When a rule is asked: at each action of a kind, and at the first move, at a turn, at a touch. */
export type Moment =
  | 'speed'
  | 'spindle'
  | 'tool change'
  | 'dwell'
  | 'first move'
  | 'turn'
  | 'move'
  | 'touch'
  | 'home'
  | 'stop'
  | 'end';

export interface Rule<Now = Standing> {
  readonly at: Moment;
  readonly ask: (now: Now) => Found;
}

const one = (finding: FindingBody): Found => [finding];

/** Waits within this of what is asked for are long enough: the last digit of a dwell. */
const DWELL_SLACK = 0.0015;
/** The wheel may run this share off the ordered speed: more than S rounds, less than matters. */
const SPEED_SLACK = 0.05;
/** Which way the wheel is off the axis beyond which a stroke is not vouched for, mm. */
const OFF_CENTRE = 0.05;
/** A rapid closer to ground metal than this rubs, mm. */
const RUBS = 0.002;
/** A compensated pass may bite so much deeper with a wheel that has not worn; the planner keeps losses under it. */
const UNWORN_SLACK = 1.1;
/** A dwell in contact longer than this burns, s; common practice, no source. */
const LONG_DWELL = 2;
/** A stroke slower than this share of the ordered one burns; common practice, no source. */
const CRAWLS = 0.1;

// The wheel: speeds, starts, stops.

const overRating = ({ state, job }: Standing): Found =>
  state.speed !== 'unsaid' && state.speed > job.wheel.ratedSpeed
    ? one({ code: 'speed-over-rating', speed: revPerMin(state.speed), rated: job.wheel.ratedSpeed })
    : NOTHING;

const outsideSpindle = ({ state, job }: MachineStanding): Found => {
  const { min, max } = job.machine.spindle;
  const { speed } = state;
  if (speed === 'unsaid' || (speed <= max && (speed >= min || state.spindle === 'off'))) return NOTHING;
  return one({ code: 'speed-outside-spindle', speed: revPerMin(speed), min, max });
};

const speedSaid = ({ state }: MachineStanding): Found =>
  state.spindle !== 'off' && (state.speed === 'unsaid' || state.speed === 0)
    ? one({ code: 'speed-missing' })
    : NOTHING;

const turnsRight = ({ state, job }: MachineStanding): Found => {
  if (state.spindle === 'off' || state.spindle === job.machine.spindle.turns) return NOTHING;
  const [word, wouldDo] = state.spindle === 'clockwise' ? ['M3', 'M4'] : ['M4', 'M3'];
  return one({ code: 'wheel-turns-backward', word, wouldDo });
};

/** Starting, stopping or changing speed with the rim on the metal, or nearly, breaks wheels. */
const changesClear =
  (does: 'starts or stops' | 'changes speed') =>
  ({ state, job, sweep, wheel }: Standing): Found => {
    if (does === 'changes speed' && (state.spindle === 'off' || state.speed === wheel.speed)) return NOTHING;
    const needed = mm(Math.min(job.grinding.approach, job.grinding.clearance) - 2 * ROUNDING);
    if (!sweep.isNear(state.position, needed)) return NOTHING;
    const what = does === 'changes speed' ? does : state.spindle === 'off' ? 'stops' : 'starts';
    return one({ code: 'wheel-near-metal', does: what, needed: job.grinding.approach });
  };

const switchedByHand = ({ state, job }: MachineStanding): Found => {
  if (job.machine.spindle.switched !== 'by hand' || state.spindle === 'off') return NOTHING;
  const word = state.spindle === 'clockwise' ? 'M3' : 'M4';
  return one(
    punchTurns(job.machine.layout)
      ? { code: 'spindle-turns-punch', word }
      : { code: 'wheel-switched-by-hand', word },
  );
};

/** A rule of the wheel's speed; the spindle a program speaks to may hold the punch instead. */
const ofWheel =
  <Now extends MachineStanding>(ask: (now: Now) => Found) =>
  (now: Now): Found =>
    punchTurns(now.job.machine.layout) ? NOTHING : ask(now);

const staysAtRest = ({ state, shows }: MachineStanding): Found =>
  shows && state.spindle !== 'off'
    ? one({ code: 'wheel-not-at-rest', word: state.spindle === 'clockwise' ? 'M3' : 'M4' })
    : NOTHING;

const changesAtRest = ({ state, moved }: MachineStanding): Found =>
  moved || state.spindle !== 'off' ? one({ code: 'tool-change-late' }) : NOTHING;

const dwellsClear = ({ action, state, sweep }: Standing): Found =>
  action.kind === 'dwell' && action.seconds > LONG_DWELL && sweep.isNear(state.position, RUBS)
    ? one({ code: 'dwell-in-contact', time: seconds(action.seconds) })
    : NOTHING;

// Stops and the end.

/** How long the wheel is still to be waited for; 0 if it stands, by what the program says. */
function restLacking(
  { wheel, job }: MachineStanding,
  extra: number,
): { readonly waited: number; readonly needed: number } | 'none' {
  const needed = job.machine.spindle.coastDown + extra;
  // A wheel that this program never started stands, as the start check says.
  return !wheel.everStarted || wheel.waited >= needed - DWELL_SLACK
    ? 'none'
    : { waited: wheel.waited, needed };
}

const stopsStill = ({ state }: MachineStanding): Found =>
  state.spindle === 'off' ? NOTHING : one({ code: 'stop-while-turning' });

/** Hands go in at every stop, whatever it is for: a wheel that is off must have coasted down too. */
const stopsAtRest = (now: Standing): Found => {
  if (now.state.spindle !== 'off') return NOTHING;
  const lacking = restLacking(now, now.job.holding.handsOff);
  if (lacking === 'none') return NOTHING;
  return one({
    code: 'coast-down-short',
    waited: seconds(lacking.waited),
    needed: seconds(lacking.needed),
  });
};

const stopsHonoured = ({ job }: MachineStanding): Found =>
  job.machine.program.stops === 'ignored' ? one({ code: 'stop-ignored' }) : NOTHING;

/** Where the wheel stands, or, if a stop made it unknown, where that stop left it. */
const placeNow = ({ state, job, sweep }: Standing): WheelPoint | 'unknown' => {
  const known = sweep.place(state.position);
  if (known !== 'unknown') return known;
  const stopped: Record<keyof Position, Position['x']> = { ...state.stoppedAt };
  for (const axis of LINEAR) if (state.position[axis] !== 'unknown') stopped[axis] = state.position[axis];
  return wheelPoint(job, stopped);
};

/** Whether the wheel is clear of the work; from a place not known, if it is past the tip at any height. */
const isOut = (now: Standing): boolean => {
  const place = placeNow(now);
  return place === 'unknown' ? now.clear.pastTip(now.state.position) : now.clear.place(place);
};

const stopsClear = (now: Standing): Found =>
  now.moved && !isOut(now) ? one({ code: 'stop-near-work' }) : NOTHING;

/** Height over the blank's axis that hands need: what the job says, or the retract it works with. */
const handRoom = ({ blank, punch, grinding, holding }: Job): number =>
  holding.handHeight ?? circumradius(blank) / Math.cos(punch.relief) + grinding.retract;

/** Hands need room over the blank, unless the wheel is parked as far beyond the tip. */
const stopsHigh = (now: Standing): Found => {
  const { job } = now;
  const place = placeNow(now);
  if (now.shows || !now.moved || place === 'unknown' || !now.clear.place(place)) return NOTHING;
  const needed = handRoom(job);
  const beyond =
    place.u - job.wheel.radius - job.wheel.periphery - tipEdge(circumradius(job.blank), job.punch.relief);
  if (heightOf(job, place) >= needed - ROUNDING || beyond >= needed) return NOTHING;
  return one({ code: 'stop-too-low', height: mm(heightOf(job, place)), needed: mm(needed) });
};

/** How high the rim stands for a hand: along the infeed axis. */
function heightOf(job: Job, place: WheelPoint): number {
  const layout = layoutOf(job);
  const { axis, sign } = layout.up;
  return (onMachine(job, place)[axis] * sign) / countsOf(layout, axis);
}

const stopsDry = ({ state }: MachineStanding): Found =>
  state.flood || state.mist ? one({ code: 'coolant-at-stop' }) : NOTHING;

const endsAtRest = (now: MachineStanding): Found => {
  if (now.state.spindle !== 'off') return one({ code: 'end-while-turning' });
  const lacking = restLacking(now, 0);
  return lacking === 'none' ? NOTHING : one({ code: 'hands-before-rest', needed: seconds(lacking.needed) });
};

const endsClear = (now: Standing): Found =>
  now.moved && !isOut(now) ? one({ code: 'end-near-work' }) : NOTHING;

/** Flats of the order that a program has ground down with rough infeeds, and how far over their end they stand. */
function roughedOver({ job, sweep, aimed }: Standing): readonly (readonly [flat: number, over: number])[] {
  return job.grinding.sequence.flatMap((number) => {
    const flat = aimed[number - 1];
    const record = sweep.records().find(({ at }) => flat !== undefined && between(at, flat.at) <= SAME_INDEX);
    const lowest = record?.stock.floors.at(-1);
    if (flat === undefined || record === undefined || lowest === undefined) return [];
    if (record.deepestBite <= job.grinding.finishInfeed + ROUNDING) return [];
    return [[number, lowest.w - flatHeight(flat.distance, job.punch.relief)] as const];
  });
}

/** Flats roughed and not yet finished. */
export const roughed = (now: Standing): readonly number[] =>
  roughedOver(now).flatMap(([flat, over]) => (over >= now.job.grinding.finishAllowance / 2 ? [flat] : []));

/**
 * Stops ordered and not there: flats that this program roughed and finished without having been measured between, or
 * without the wheel having been dressed. Where nothing is roughed there is nothing to measure.
 */
const stopsMade = (now: Standing): Found => {
  const { job, measured, dressings } = now;
  const { order, measuringStop, dressingStop, finishAllowance, sequence } = job.grinding;
  if (job.holding.index !== 'rotary axis') return NOTHING;
  const done = roughedOver(now).flatMap(([flat, over]) => (over < finishAllowance / 2 ? [flat] : []));
  const pairs = pairsOf(job.punch.section, sequence);
  const wanted: readonly number[] = {
    none: [],
    'after roughing': sequence,
    'after the first pair': pairs[0] ?? [],
    'after each pair': sequence,
  }[measuringStop];
  const unmeasured = done.some((flat) => wanted.includes(flat) && !measured.has(flat));
  // Flat by flat only the first pair waits for its finishing; after it the wheel has been dressed.
  const withPair = order === 'flat by flat' && measuringStop === 'after the first pair';
  const dressedFor = withPair ? (pairs[0] ?? []) : sequence;
  const undressed =
    dressingStop === 'before finishing' && dressings === 0 && done.some((flat) => dressedFor.includes(flat));
  return [
    ...(unmeasured ? one({ code: 'measuring-stop-missing' }) : NOTHING),
    ...(undressed ? one({ code: 'dressing-stop-missing' }) : NOTHING),
  ];
};

// The first move: what the program before may have left on must have been said off.

const modesSaid = ({ state, job }: MachineStanding): Found => {
  const { leaveOut, workOffset, feedCode, tool } = job.machine.program;
  const needed = [
    'G40',
    ...(tool === undefined ? ['G49'] : []),
    ...(feedCode === 'none' ? [] : ['G94']),
    'G97',
    workOffset,
  ].filter(
    (word) => (word !== 'G97' || isLathe(job.machine.layout)) && !leaveOut.some((left) => left === word),
  );
  const words = needed.filter(
    (word) =>
      !state.said.has(word) &&
      !(word === 'G94' && state.said.has('G93')) &&
      !(word === 'G49' && state.said.has('G43')),
  );
  const shown = words.map((word) => (word === 'G94' ? feedCode : word));
  return shown.length === 0 ? NOTHING : one({ code: 'mode-unsaid', words: shown });
};

const pathModeSaid = ({ state, job }: MachineStanding): Found => {
  const { exactStop } = job.machine.program;
  if (exactStop === 'none' || ['G61', 'G61.1', 'G64'].some((word) => state.said.has(word))) return NOTHING;
  return one({ code: 'path-mode-unsaid' });
};

// Turning the punch.

const byAxis = ({ job }: Standing): Found =>
  job.holding.index === 'by hand'
    ? one({ code: 'axis-turns-nothing', axis: job.machine.rotary?.axis ?? 'A' })
    : NOTHING;

const turnsAlone = ({ action }: Standing): Found =>
  action.kind === 'move' && (linearChanged(action) || action.arc !== 'straight')
    ? one({ code: 'index-while-moving' })
    : NOTHING;

const turnsClear = (now: Standing): Found => {
  if (turnsAlone(now).length > 0) return NOTHING;
  if (now.moved && !isOut(now)) return one({ code: 'index-near-work' });
  // Before the first move, and after a stop, the place is only what the start check says.
  return isUnknown(now.state.position)
    ? one({ code: 'height-unsaid', up: layoutOf(now.job).up.axis })
    : NOTHING;
};

const turnsFree = ({ job, clamped }: Standing): Found =>
  job.machine.rotary?.clamp !== undefined && clamped !== false
    ? one({ code: 'index-clamped', wouldDo: job.machine.rotary.unclamp ?? '' })
    : NOTHING;

const turnsAtRest = (now: Standing): Found => {
  if (now.job.machine.rotary?.mayTurnWithSpindle !== false) return NOTHING;
  const needed = now.job.machine.spindle.coastDown;
  if (now.state.spindle !== 'off') return one({ code: 'index-while-turning', waited: seconds(0), needed });
  const lacking = restLacking(now, 0);
  return lacking === 'none'
    ? NOTHING
    : one({ code: 'index-while-turning', waited: seconds(lacking.waited), needed });
};

// Moving.

const movement =
  (ask: (met: Met, now: Standing) => Found) =>
  (now: Standing): Found =>
    now.met === 'none' ? NOTHING : ask(now.met, now);

const startKnown = movement(({ start, move }, { job }) => {
  const up = layoutOf(job).up.axis;
  // A feed move goes to its work: from a place not known it is never certain.
  if (start === 'uncertain' || (start !== 'known' && !move.rapid && linearChanged(move)))
    return one({ code: 'start-unknown', up });
  return start === 'as the start check says' ? one({ code: 'height-unsaid', up }) : NOTHING;
});

const feedOfMachine = ({ action, job }: MachineStanding): Found =>
  action.kind === 'move' && !action.rapid && action.feed > job.machine.maxFeed * FEED_SLACK
    ? one({ code: 'feed-over-machine', feed: mmPerMin(action.feed), max: job.machine.maxFeed })
    : NOTHING;

const fixtureClear = movement(({ move }, { job }) => {
  const found = meetsFixture(job, move);
  const stopped = fromStop(move);
  return found.length > 0 || stopped === 'none' ? found : meetsFixture(job, stopped);
});

const aboveTheFlats = movement(({ swept }) =>
  swept.below > RUBS ? one({ code: 'below-the-flats', by: mm(swept.below) }) : NOTHING,
);

const noseClear = movement(({ swept, unworn }, { job }) =>
  swept.intoNose > 0 || (unworn !== 'none' && unworn.intoNose > 0)
    ? one({ code: 'wheel-near-nose', clearance: job.grinding.clearance })
    : NOTHING,
);

const worst = ({ swept, unworn }: Met, of: (swept: Swept) => number): number =>
  unworn === 'none' ? of(swept) : Math.max(of(swept), of(unworn));

const guardOff = movement((met) => {
  const by = worst(met, ({ intoGuard }) => intoGuard);
  return by > ROUNDING ? one({ code: 'guard-meets-work', by: mm(by) }) : NOTHING;
});

const rapidClear = movement((met, { job }) => {
  if (!met.move.rapid || met.swept.leaves) return NOTHING;
  const depth = worst(met, (swept) => swept.depth);
  if (depth > -RUBS) return one({ code: 'rapid-in-stock', depth: mm(Math.max(0, depth)) });
  return worst(met, (swept) => swept.rawDepth) > 0
    ? one({ code: 'rapid-near-stock', gap: mm(-depth), needed: job.grinding.startAbove })
    : NOTHING;
});

const infeedClear = movement((met, { job }) => {
  const { move, swept, unworn } = met;
  if (swept.stroke !== 'none') return NOTHING;
  const depth = worst(met, (each) => each.depth);
  if (!move.rapid && depth > ROUNDING) return one({ code: 'infeed-in-stock', depth: mm(depth) });
  const near = swept.plungesNear || (unworn !== 'none' && unworn.plungesNear);
  const rapidHit = move.rapid && depth > -RUBS;
  return near && !rapidHit ? one({ code: 'plunge-near-stock', needed: job.grinding.approach }) : NOTHING;
});

// Strokes.

const bite = movement(({ swept, unworn, touched }, { job, allowedBite, index }) => {
  if (!touched || swept.stroke === 'none') return NOTHING;
  const allowed = allowedBite(index.current, swept.stroke.cut.w);
  if (swept.depth > allowed + ROUNDING)
    return one({ code: 'stroke-too-deep', depth: mm(swept.depth), allowed });
  const unwornAllowed = mm(job.grinding.roughInfeed * UNWORN_SLACK);
  return unworn !== 'none' && unworn.depth > unwornAllowed + ROUNDING
    ? one({ code: 'stroke-too-deep', depth: mm(unworn.depth), allowed: unwornAllowed })
    : NOTHING;
});

const throughAxis = movement(({ swept, touched }) =>
  touched && swept.stroke !== 'none' && swept.stroke.offCentre > OFF_CENTRE
    ? one({ code: 'stroke-off-centre', v: mm(swept.stroke.offCentre) })
    : NOTHING,
);

const runsOut = movement(({ swept, touched }) =>
  touched && swept.stroke !== 'none' && swept.depth > NO_BITE && swept.stroke.staysInside > 0
    ? one({ code: 'stroke-stays-inside', by: mm(swept.stroke.staysInside) })
    : NOTHING,
);

/** Strokes run at the ordered speed in, and out as long as they take nothing at the one for that. */
const strokeSpeed = movement(({ move, swept, touched }, { job }) => {
  if (!touched || swept.stroke === 'none') return NOTHING;
  const { strokeSpeed: ordered, returnSpeed } = job.grinding;
  const out = !swept.stroke.inward && swept.depth <= NO_BITE;
  const allowed = mmPerMin(out ? Math.max(ordered, returnSpeed) : ordered);
  if (move.feed > allowed * FEED_SLACK) {
    return one({ code: 'stroke-too-fast', feed: mmPerMin(move.feed), allowed });
  }
  const least = mmPerMin(ordered * CRAWLS);
  return move.feed < least ? one({ code: 'feed-crawls', feed: mmPerMin(move.feed), least }) : NOTHING;
});

/** A held removal rate: area of the layer times the feed. */
const heldRate = movement(({ move, swept, touched }, { job, sweep }) => {
  const limit = job.grinding.limit.removalRate;
  if (limit === undefined || !touched || swept.stroke === 'none') return NOTHING;
  const taken = layerTaken(job, sweep.current(), sweep.records(), swept.stroke.cut);
  if (taken === 'nothing') return NOTHING;
  const { stage, layer, end } = taken;
  // Two rounded heights may lie that much farther apart than they were meant to.
  const area = greatestArea(stage, { ...layer, to: mm(layer.to + ROUNDING) }, end);
  const rate = mm3PerS((area * move.feed) / 60);
  return rate > limit ? one({ code: 'stroke-over-limit', rate, limit }) : NOTHING;
});

// The wheel meets the punch.

const spins = ({ state, wheel, job }: Standing): Found => {
  if (job.machine.spindle.switched === 'by hand') return NOTHING;
  if (state.spindle === 'off') return one({ code: 'wheel-not-turning' });
  const needed = job.machine.spindle.spinUp;
  return wheel.waited < needed - DWELL_SLACK
    ? one({ code: 'spin-up-short', waited: seconds(wheel.waited), needed })
    : NOTHING;
};

const clampedForIt = ({ job, clamped }: Standing): Found =>
  job.holding.index === 'rotary axis' && job.machine.rotary?.clamp !== undefined && !clamped
    ? one({ code: 'stroke-unclamped', wouldDo: job.machine.rotary.clamp })
    : NOTHING;

const orderedSpeed = ({ state, job }: Standing): Found => {
  const { speed, spindle } = state;
  const ordered = job.grinding.spindleSpeed;
  if (spindle === 'off' || speed === 'unsaid' || Math.abs(speed / ordered - 1) <= SPEED_SLACK) return NOTHING;
  const code = speed > ordered ? 'speed-not-ordered' : 'speed-slow';
  return one({ code, speed: revPerMin(speed), ordered });
};

const coolantOn = ({ state, job }: Standing): Found => {
  const { coolant } = job.grinding;
  const wet = coolant === 'flood' ? state.flood : state.mist;
  if (coolant !== 'none' && !wet) return one({ code: 'coolant-missing', wanted: coolant });
  return coolant === 'none' && (state.flood || state.mist) ? one({ code: 'coolant-unwanted' }) : NOTHING;
};

/** Home by G28 only from a place over everything, with nothing else to come. */
const homeClear = ({ action, job, clear }: Standing): Found => {
  if (action.kind !== 'home') return NOTHING;
  const at = action.from[layoutOf(job).up.axis];
  return !isUnknown(action.from) && at !== 'unknown' && clear.overAll(at)
    ? NOTHING
    : one({
        code: 'code-refused',
        word: 'G28',
        reason: 'it is followed only from a place over everything, after a retract',
      });
};

/** A rule that looks at machine and text alone: it is asked of a program that is read without a job too. */
const alone = (at: Moment, ask: Rule<MachineStanding>['ask']) => ({ at, ask, alone: true }) as const;
const withJob = (at: Moment, ask: Rule['ask']) => ({ at, ask, alone: false }) as const;

type Row = ReturnType<typeof alone> | ReturnType<typeof withJob>;

/** Every rule, in the order its findings are told. */
export const RULES: readonly Row[] = [
  withJob('speed', ofWheel(overRating)),
  alone('speed', ofWheel(outsideSpindle)),
  withJob('speed', changesClear('changes speed')),
  withJob('spindle', ofWheel(overRating)),
  alone('spindle', ofWheel(outsideSpindle)),
  alone('spindle', ofWheel(speedSaid)),
  alone('spindle', ofWheel(turnsRight)),
  alone('spindle', switchedByHand),
  withJob('spindle', staysAtRest),
  withJob('spindle', changesClear('starts or stops')),
  alone('tool change', changesAtRest),
  withJob('dwell', dwellsClear),
  withJob('home', homeClear),
  alone('stop', stopsStill),
  withJob('stop', stopsAtRest),
  alone('stop', stopsHonoured),
  withJob('stop', stopsClear),
  withJob('stop', stopsHigh),
  alone('stop', stopsDry),
  alone('end', endsAtRest),
  withJob('end', endsClear),
  withJob('end', stopsMade),
  alone('first move', modesSaid),
  alone('first move', pathModeSaid),
  withJob('turn', byAxis),
  withJob('turn', turnsAlone),
  withJob('turn', turnsClear),
  withJob('turn', turnsFree),
  withJob('turn', turnsAtRest),
  withJob('move', startKnown),
  alone('move', feedOfMachine),
  withJob('move', fixtureClear),
  withJob('move', aboveTheFlats),
  withJob('move', noseClear),
  withJob('move', guardOff),
  withJob('move', rapidClear),
  withJob('move', infeedClear),
  withJob('move', throughAxis),
  withJob('move', bite),
  withJob('move', runsOut),
  withJob('move', strokeSpeed),
  withJob('move', heldRate),
  withJob('touch', spins),
  withJob('touch', clampedForIt),
  withJob('touch', orderedSpeed),
  withJob('touch', coolantOn),
];

/** Those that look at machine and text alone. */
export const MACHINE_RULES: readonly Rule<MachineStanding>[] = RULES.filter((rule) => rule.alone);

const at = (moment: Moment): readonly Rule[] => RULES.filter((rule) => rule.at === moment);

/** The rules by the moment they are asked at, so that a block asks only its own. */
export const RULES_AT: Readonly<Record<Moment, readonly Rule[]>> = {
  speed: at('speed'),
  spindle: at('spindle'),
  'tool change': at('tool change'),
  dwell: at('dwell'),
  'first move': at('first move'),
  turn: at('turn'),
  move: at('move'),
  touch: at('touch'),
  home: at('home'),
  stop: at('stop'),
  end: at('end'),
};
