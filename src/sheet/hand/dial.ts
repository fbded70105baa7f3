/**
 * The parts of a sheet that only hand wheels have: zero on the dials, the way down pass by pass, the flats in order, and what
 * the ring is turned by for what was measured. Numbers are those of hand/dial; the words of the machine those of wording/hand.
 */
import type { DialPlan, DialReading, DialRow, Ladder } from '../../hand/dial.js';
import { railHeight, widthsByEye } from '../../hand/rail.js';
import { punchTurns } from '../../job/layout.js';
import { facePlace } from '../../plan/hands.js';
import type { Plan } from '../../plan/plan.js';
import { toMm } from '../../quantity/length.js';
import { sayIn } from '../../quantity/say.js';
import { type Mm, mm, rad, type Seconds } from '../../quantity/unit.js';
import { dialWords, divisionsWords, handWords, marked, turnWords } from '../../wording/hand.js';
import { orderWords } from '../../wording/order.js';
import { settingWords } from '../../wording/setting.js';
import { big, type Fact, fact, type Part, part, type TableData } from '../model.js';
import { runOutFacts } from '../parts/side.js';

/** What a micrometer reads too much, for the last column. */
const READ_MORE = { mm: 0.01, inch: 0.001 } as const;
/** What is left over a flat when roughing by eye. */
const LEFT = { mm: [1, 0.7, 0.5, 0.3, 0.2], inch: [0.04, 0.03, 0.02, 0.012, 0.008] } as const;

const counted = ['', 'one', 'one, two', 'one, two, three', 'one, two, three, four'] as const;

/** `about 1 s: count "one"`. */
function countWords(time: Seconds): string {
  const say = sayIn('mm');
  const words = counted[Math.round(time)];
  return `about ${say.time(time)}${words === undefined || words === '' ? '' : `: count "${words}"`}`;
}

/** Stick-out, slides and stops. */
export function standPart({
  plan,
  faceToEnd,
  clearOut,
  strokeLength,
  strokeTime,
  collarWithin,
}: DialPlan): Part {
  const { job } = plan;
  const say = sayIn(job.units);
  const words = handWords(job);
  const { device } = job.holding;
  const block = device?.kind === 'indexing block' ? device : undefined;
  return part('side', 'In the plane of the slope', {
    picture: 'side',
    facts: [
      fact('Machine', job.machine.title),
      big('Stick-out', say.length(job.blank.stickOut)),
      fact(
        'Collar',
        `on the shank against ${block === undefined ? 'the rear of its holding' : 'the block'}: push home, then clamp; the stick-out must come back within ${say.length(collarWithin)}${block?.length === undefined ? '' : `; from the front face to it ${say.length(mm(job.blank.stickOut + block.length))}`}`,
      ),
      fact('Infeed', words.infeed),
      fact('Stroke', words.stroke),
      big('Stop, in: past the front face by', say.length(faceToEnd)),
      big('Stop, out: clear of it by', say.length(clearOut)),
      fact('A stroke', `${say.length(strokeLength)} in ${countWords(strokeTime)}`),
      ...runOutFacts(plan),
      ...railFacts(plan),
    ],
    notes: [
      ...(job.machine.dials?.stops === false
        ? [`Nothing stops the ${words.stroke}: read it at the end of every stroke, or clamp a block there.`]
        : []),
      ...words.locks,
    ],
  });
}

/** How high the finished flat stands over the seat of a block whose sides slope. */
function railFacts({ job, flats }: Plan): readonly Fact[] {
  const { device, slope } = job.holding;
  if (slope.using !== 'block sides' || device?.kind !== 'indexing block' || device.across === undefined)
    return [];
  const say = sayIn(job.units);
  const distance = flats[0]?.distance ?? mm(0);
  const height = railHeight(mm(device.across / 2), distance, job.blank.stickOut, job.punch.relief);
  return [big('Seat to rim, finished', say.length(height))];
}

/** Where the dials are set, and how far back before the first stroke. */
export function dialZeroPart(dial: DialPlan): Part {
  const { plan, touch, backOff, biteFromTouch, faceToTouch } = dial;
  const { job, touchOff } = plan;
  const say = sayIn(job.units);
  const { infeed, stroke } = handWords(job);
  const unit = sayIn(job.machine.units).unit;
  const at = touchOff.at.length > 1 ? ' and at both sides of the blank, whose mean counts' : '';
  const hasStands = plan.hands.some(
    (step) => step.kind === 'touch a ground flat' && step.ground === 'as it stands',
  );
  return part('dial-zero', 'Zero on the dials', {
    facts: [
      fact(
        `${capital(stroke)} at 0`,
        job.wheel.periphery > 0
          ? `wheel at rest against the upper edge of the front face, its lowest line ${say.length(facePlace(job, job.punch.section[0]?.at ?? rad(0)).below)} below that edge`
          : 'rim against the upper edge of the front face',
      ),
      big('Touch off, in from there by', say.length(faceToTouch)),
      big(`Set the ${infeed} to`, dialWords(job, touch)),
      fact('Which is', `${marked(job, touch.above)} ${unit} above size`),
      big('Before the first full stroke BACK OFF to', dialWords(job, backOff)),
      fact('Which is', `${marked(job, backOff.above)} ${unit} above size`),
    ],
    tables: [],
    notes: [
      hasStands
        ? 'Flats stand already: touch flat 1 by feeler with the wheel at rest, and add the feeler to what the dial is set to.'
        : `The first spark, ${say.length(touchOff.overlap)} behind the tip${at}: wheel dressed and running, come nearer by the finest step of the dial, hands on the wheels of the machine and nowhere near the rim.`,
      ...(biteFromTouch > 0 && !hasStands
        ? [
            `The blank rises toward the shank: a stroke begun at the touch reading would bite ${say.length(biteFromTouch)} at once and break the wheel. Back off first.`,
          ]
        : []),
      'A dial is set by its ring, with the slide left where it stands. 0 on it is size.',
      'Come to every reading from the same side: back half a turn past it, then on, or the play goes into the size.',
      'With a feeler the wheel is at rest and cannot start; add the feeler to the reading.',
    ],
  });
}

const capital = (text: string): string => `${text.slice(0, 1).toUpperCase()}${text.slice(1)}`;

/** The way down, with a column of ticks for every flat. */
export function dialPassesPart(dial: DialPlan): Part {
  const { plan, ladders, expect, backOff } = dial;
  const { job } = plan;
  const say = sayIn(job.units);
  const { infeed, stroke } = handWords(job);
  const { roughInfeed, finishInfeed } = job.grinding;
  const steps = ladders.flatMap(({ rows }) => rows);
  const stepOf = (kind: DialRow['kind']): string => {
    const row = steps.find((each) => each.kind === kind && each.step > 0);
    return row === undefined
      ? say.length(kind === 'rough' ? roughInfeed : finishInfeed)
      : `${divisionsWords(job, row.step)} (${turnWords(job, row.step)})`;
  };
  return part('dial-passes', 'Passes by the dial', {
    facts: [
      big('A rough infeed', stepOf('rough')),
      big('A finish infeed', stepOf('finish')),
      fact('Order', orderWords(job)),
      fact('Time to expect', say.time(expect)),
    ],
    tables: ladders.map((ladder) => passTable(dial, ladder)),
    notes: [
      `Infeed beside the work, ${stroke} at the outer stop; stroke in, stroke out, evenly; then the next reading. From ${marked(job, backOff.above)} the first strokes may meet nothing: go on by single infeeds all the same, metal may stand higher than its size says.`,
      ...(finishesHigher(ladders)
        ? [
            'Finishing begins higher than roughing ended: the wheel wears meanwhile, and the flats roughed last stand higher.',
          ]
        : []),
      'Spark-out: the same reading, stroke after stroke, until it stops sparking.',
      `Never two infeeds at once; lost count means back off by turning the ${infeed} away and come in again until it sparks.`,
      ...(job.grinding.rest === undefined
        ? []
        : [
            `Rest ${say.time(job.grinding.rest.for)} clear of it after every ${job.grinding.rest.every} strokes: it must not get hot.`,
          ]),
    ],
  });
}

/** Whether the first pass of finishing lies above the last of roughing. */
const finishesHigher = (ladders: readonly Ladder[]): boolean =>
  ladders.some(({ rows }) => {
    const rough = rows.findLast(({ kind }) => kind === 'rough');
    const finish = rows.find(({ kind }) => kind === 'finish');
    return rough !== undefined && finish !== undefined && finish.from.above >= rough.to.above;
  });

const fromTo = (from: string, to: string): string => (from === to ? from : `${from} to ${to}`);

/** Passes folded: from, to, by how much, how often. */
function passTable({ plan, ladders }: DialPlan, { flats, rows }: Ladder): TableData {
  const { job } = plan;
  const which =
    ladders.length === 1 ? 'pass' : `pass, flat${flats.length === 1 ? '' : 's'} ${flats.join(' ')}`;
  const reading = ({ shows, turns }: DialReading): string =>
    turns === 0 ? marked(job, shows) : `${turns} t ${marked(job, shows)}`;
  return {
    head: [which, 'above size', 'by', 'no.', 'dial'],
    rows: rows.map(({ kind, from, to, step, passes }) => [
      kind,
      fromTo(marked(job, from.above), marked(job, to.above)),
      step === 0 ? '-' : marked(job, step),
      `${passes}`,
      fromTo(reading(from), reading(to)),
    ]),
    pen: flats.map(String),
  };
}

/** The flats in the order they come up, with the stops between. */
export function dialOrderPart({ plan, visits, ladders }: DialPlan): Part {
  const { job } = plan;
  const chucked = punchTurns(job.machine.layout);
  const even = ladders.length === 1;
  const rows = visits.map((visit): readonly string[] => {
    if (visit.kind === 'stop') {
      const { measures, dresses } = visit.stop;
      const what = [
        ...(dresses ? ['dress'] : []),
        measures.length > 0 ? `measure ${measures.join(' ')}` : `touch flat ${visit.up} anew`,
      ];
      return ['stop', '-', what.join(', '), '-'];
    }
    const { flat, setting, does, to } = visit;
    return [`${flat.number}`, settingWords(setting), does.join(', '), marked(job, to.above)];
  });
  return part('order', 'The flats in order', {
    tables: [{ head: ['flat', 'bring up', 'do', 'down to'], rows, pen: ['done'] }],
    notes: [
      ...(visits.some(({ kind }) => kind === 'stop')
        ? ['At a stop set the ring by what you read, as "Size corrected by the dial" says, before going on.']
        : []),
      ...(even ? [] : ['All readings count from the dial as set by flat 1: flats farther out end above 0.']),
      'Before the punch is turned: back off, stroke slide clear out, wheel off and standing still. Wipe seat and holding.',
      'Angles count counter-clockwise seen from the tip; the punch turns the other way.',
      ...(chucked
        ? [
            'Mark tooth or side 0 with the first flat up and count on from it; detent home before the wheel starts.',
          ]
        : []),
    ],
  });
}

/** What the ring is turned by, once a flat has been measured. */
export function dialCorrectPart({ plan, ringTurns }: DialPlan): Part {
  const { job } = plan;
  const say = sayIn(job.units);
  const more = toMm(READ_MORE[job.units], job.units);
  const { infeed } = handWords(job);
  const all = job.punch.section.length;
  return part('dial-correct', 'Size corrected by the dial', {
    tables: [
      {
        head: ['flat', 'should read', 'dial there', `for each ${say.length(more)} more`],
        rows: ringTurns.map(({ flats, ground, reading, at, perReading }) => [
          `${flats.length === all ? 'any' : flats.join(' ')}, ${ground}`,
          say.column(reading),
          dialWords(job, at),
          `+${marked(job, perReading * more)} above size`,
        ]),
        pen: ['reads', 'ring set to'],
      },
    ],
    notes: [
      `Bring the ${infeed} to where that flat was ground, measure across it cold and clean. Reads it more, leave the slide and turn the ring until it shows so much more above size; reads it less, less. Then go on down to 0.`,
      'Do so after roughing, after dressing, and whenever a size is in doubt: the wheel wears, and the dial does not know.',
    ],
  });
}

/** For roughing on any grinder, where the width of a flat on the round blank tells how far it has to go. */
export function byEyePart({ plan }: DialPlan): Part | 'none' {
  const { job } = plan;
  const { blank, punch } = job;
  const first = punch.section[0];
  if (blank.shape !== 'round' || first === undefined || job.standing.length > 0) return 'none';
  const say = sayIn(job.units);
  const rows = widthsByEye(
    mm(blank.size / 2),
    first.distance,
    punch.flatLength,
    punch.relief,
    LEFT[job.units].map((left): Mm => toMm(left, job.units)),
  );
  if (rows.length === 0) return 'none';
  return part('by-eye', 'Roughing by eye', {
    tables: [
      {
        head: [`left over the flat`, 'width at the front', `${say.length(punch.flatLength)} behind`],
        rows: rows.map(({ left, front, behind }) => [
          say.column(left),
          say.column(front),
          say.column(behind),
        ]),
      },
    ],
    notes: [
      `In ${say.unit}, of a first flat on the round, before its neighbours are ground. Stop at the last row but one and go over to the dial.`,
    ],
  });
}
