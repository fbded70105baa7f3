/**
 * The parts of a sheet that only hand wheels have: zero on the dials, the way down pass by pass, the flats in order, and what
 * the ring is turned by for what was measured. Numbers are those of hand/dial; the words of the machine those of wording/hand.
 */
import {
  type DialPlan,
  type DialReading,
  type DialRow,
  dialsOf,
  type Ladder,
  readingOf,
} from '../../hand/dial.js';
import { railHeight, widthsByEye } from '../../hand/rail.js';
import type { Job } from '../../job/job.js';
import { kindOf, punchTurns } from '../../job/layout.js';
import { nearerPerMark } from '../../plan/dials.js';
import type { Plan } from '../../plan/plan.js';
import { toMm } from '../../quantity/length.js';
import { sayIn } from '../../quantity/say.js';
import { type Mm, mm, type Seconds } from '../../quantity/unit.js';
import {
  dialWords,
  divisionsWords,
  handWords,
  marked,
  setWords,
  shown,
  turnWords,
} from '../../wording/hand.js';
import { orderWords } from '../../wording/order.js';
import { settingWords } from '../../wording/setting.js';
import { big, checked, type Fact, fact, type Part, part, type TableData } from '../model.js';
import { runOutFacts } from '../parts/side.js';
import { FEELER, READ_MORE } from '../parts/touch.js';

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
      checked(big('Stick-out', say.length(job.blank.stickOut)), 'as set'),
      fact(
        'Collar',
        `on the shank against ${block === undefined ? 'the rear of its holding' : 'the block'}: push home, then clamp; the stick-out must come back within ${say.length(collarWithin)}${block?.length === undefined ? '' : `; from the front face to it ${say.length(mm(job.blank.stickOut + block.length))}`}`,
      ),
      fact('Infeed', words.infeed),
      fact('Stroke', words.stroke),
      big(`Stop, in: from the 0 of the ${words.stroke}`, say.length(faceToEnd)),
      big('Stop, out: from that 0, the other way', say.length(clearOut)),
      fact('A stroke', `${say.length(strokeLength)} in ${countWords(strokeTime)}`),
      ...runOutFacts(plan),
      ...railFacts(plan),
    ],
    notes: [
      ...(job.machine.dials?.stops === false
        ? [
            `Nothing stops the ${words.stroke}: its dial reads ${strokeWords(job, faceToEnd)} from its 0 at the end of every stroke; or clamp a block there.`,
          ]
        : []),
      ...words.locks,
    ],
  });
}

/** What the stroke's dial reads so far from its 0, in whole divisions, with the turns. */
function strokeWords(job: DialPlan['plan']['job'], travel: Mm): string {
  const dial = job.machine.dials?.stroke;
  const say = sayIn(job.units);
  if (dial === undefined) return say.length(travel);
  // Shorter rather than longer: a division less of flat, never one more of shank.
  const whole = Math.floor(travel / dial.graduation + 1e-9) * dial.graduation;
  const turns = Math.floor(whole / dial.turn + 1e-9);
  return `${turns === 0 ? '' : `${turns} turn${turns === 1 ? '' : 's'} and `}${say.length(mm(whole - turns * dial.turn))}`;
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

/** Where the dials are set, step by step, and how far back before the first stroke. */
export function dialZeroPart(dial: DialPlan): Part {
  const { plan, touch, backOff, biteFromTouch } = dial;
  const { job } = plan;
  const say = sayIn(job.units);
  const { infeed } = handWords(job);
  const unit = sayIn(job.machine.units).unit;
  const stands = plan.hands.some(
    (step) => step.kind === 'touch a ground flat' && step.ground === 'as it stands',
  );
  return part('dial-zero', 'Zero on the dials', {
    facts: [
      big(`At the touch the ${infeed} reads`, dialWords(job, touch)),
      fact('Which is', `${marked(job, touch.above)} ${unit} above size`),
      big('Before the first full stroke BACK OFF to', dialWords(job, backOff)),
      fact('Which is', `${marked(job, backOff.above)} ${unit} above size`),
    ],
    tables: [
      {
        head: ['step', 'do', 'reads'],
        rows: zeroSteps(dial, stands).map((step, i) => [`${i + 1}`, ...step]),
        pen: ['done'],
      },
    ],
    notes: [
      ...(biteFromTouch > 0 && !stands
        ? [
            `The blank rises toward the shank: a stroke begun at the touch reading would bite ${say.length(biteFromTouch)} at once and break the wheel. Back off first.`,
          ]
        : []),
      `${job.machine.dials?.readout === undefined ? 'A dial is set by its ring' : 'A read-out is preset'}, with the slide left where it stands. 0 on it is the size aimed at, ${say.length(sizeAimedAt(plan))}${job.punch.sides === 'free' ? ' from the axis, of flat 1' : ''}${takesBack(job) ? ', on a true block' : ''}.`,
      'Come to every reading from the same side: back half a turn past it, then on, or the play goes into the size.',
    ],
  });
}

const takesBack = ({ holding: { device } }: Job): boolean =>
  device?.kind === 'indexing block' && device.takeBack;

/** Across flats where a section is measured so, twice a distance of an odd one, the distance of a free one. */
const sizeAimedAt = ({ job, flats }: Plan): Mm =>
  mm((flats[0]?.distance ?? 0) * (job.punch.sides === 'free' ? 1 : 2));

/** What hands do until the dials read right: nothing turns before the touch. */
function zeroSteps(dial: DialPlan, stands: boolean): readonly (readonly string[])[] {
  const { plan, touch, faceToTouch, face } = dial;
  const { job, touchOff } = plan;
  const say = sayIn(job.units);
  const { infeed, stroke, edge, middle } = handWords(job);
  const set = setWords(job);
  const below = say.length(face.below);
  const out = outerWords(dial);
  const feeler = toMm(FEELER[job.machine.units], job.machine.units);
  const further = readingOf(dialsOf(job), touch.above + feeler / nearerPerMark(job));
  const touched = (what: string): readonly string[] => [
    `${infeed}: ${what} touched by a feeler of ${sayIn(job.machine.units).length(feeler)}, wheel at rest; ${set}, further from size by the feeler`,
    dialWords(job, further),
  ];
  const overSide = 'the punch turned over, the side opposite to the wheel';
  const twice = touchOff.at.length > 1 && !stands;
  const halfWay = `slide left there, ${set} half-way between the reading it was set to and this one`;
  if (kindOf(job.machine.layout) === 'bench grinder with a rail')
    return [
      ['wheel dressed, off, at rest and kept from starting', '-'],
      [middle, '-'],
      [
        `rail screw until the rim overlaps the front face's ${edge} by ${below}; the block up to the rim: this is its 0`,
        'mark',
      ],
      ['inner stop: this far from the block as it stands', say.length(dial.faceToEnd)],
      ['outer stop: from the block as it stands, the other way', say.length(dial.clearOut)],
      [
        'block out to the outer stop; rail screw back until the block goes in past the rim freely',
        'two turns or more',
      ],
      [
        'a piece this long at the inner stop, the block in against it',
        say.length(mm(dial.faceToEnd - faceToTouch)),
      ],
      touched(stands ? 'flat 1' : 'raw blank'),
      ...(twice
        ? [
            [
              `block out, rail screw back a turn, ${overSide}; in against the piece, touched again: read, set nothing`,
              '____',
            ],
            [halfWay, '____'],
          ]
        : []),
      ['block out to the outer stop; back off; then the piece away', dialWords(job, dial.backOff)],
    ];
  const plain = job.wheel.periphery > 0;
  return [
    ['wheel dressed, off, at rest and kept from starting', '-'],
    [middle, '-'],
    ...(plain
      ? [
          [
            `${stroke} until the middle of the wheel stands ${say.length(touchOff.overlap)} behind the front face; ${infeed}: the blank felt there; ${set}`,
            dialWords(job, touch),
          ],
          [
            `${stroke} out past the tip; ${infeed} until the wheel is ${below} lower than the ${edge} of the face`,
            dialWords(job, face.reading),
          ],
          [`${stroke}: wheel against the front face's ${edge}; set its dial`, '0'],
        ]
      : [[`${stroke}: rim against the front face, ${below} past its ${edge}; set its dial`, '0']]),
    [`${stroke} out, clear of the face; ${infeed} back until the wheel stands over the blank`, '-'],
    [`${stroke} in from its 0 by`, say.length(faceToTouch)],
    ...(stands
      ? [touched('flat 1')]
      : [
          [
            `guard shut, hands on the wheels of the machine and nowhere near the rim; wheel started; ${infeed} by its finest step to the first spark; ${set}`,
            dialWords(job, touch),
          ],
          ...(twice
            ? [
                [
                  `${stroke} ${out}, ${infeed} back half a turn, wheel off and standing still; ${overSide}`,
                  '-',
                ],
                [
                  `${stroke} in from its 0 by ${say.length(faceToTouch)}, wheel started, second spark: read, set nothing`,
                  '____',
                ],
                [halfWay, '____'],
              ]
            : []),
        ]),
    [`${stroke} ${out}; back off`, dialWords(job, dial.backOff)],
  ];
}

/** Where a stroke waits outside: at its stop, or where its dial reads so. */
const outerWords = ({ plan: { job }, clearOut }: DialPlan): string =>
  job.machine.dials?.stops === false
    ? `out past its 0 by ${strokeWords(job, clearOut)}`
    : 'at the outer stop';

/** The way down, with a column of ticks for every flat. */
export function dialPassesPart(dial: DialPlan): Part {
  const { plan, ladders, expect, backOff } = dial;
  const { job } = plan;
  const say = sayIn(job.units);
  const { infeed, stroke } = handWords(job);
  const out = outerWords(dial);
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
      `Infeed beside the work, ${stroke} ${out}; stroke in, stroke out, evenly; then the next reading. From ${marked(job, backOff.above)} the first strokes may meet nothing: go on by single infeeds all the same, metal may stand higher than its size says.`,
      ...(finishesHigher(ladders)
        ? [
            'Finishing begins higher than roughing ended: the wheel wears meanwhile, and the flats roughed last stand higher.',
          ]
        : []),
      ...(ladders.some(({ rows }) => rows.some(({ from, to }) => from.turns + to.turns > 0))
        ? [
            't counts the whole turns still to go: the same number comes by once a turn, and only the last is it.',
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
  const turning = rows.some(({ from, to }) => from.turns + to.turns > 0);
  const reading = (each: DialReading): string => {
    const { text, turns, past } = shown(job, each);
    return `${turning ? `${turns} t ` : ''}${text}${past ? ' past 0' : ''}`;
  };
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
  const { infeed, stroke } = handWords(job);
  const even = ladders.length === 1;
  const rows = visits.map((visit): readonly string[] => {
    if (visit.kind === 'stop') {
      const { measures, dresses } = visit.stop;
      const what = [
        ...(dresses ? ['dress'] : []),
        measures.length > 0 ? `measure ${measures.join(' ')}` : `touch flat ${visit.up} anew`,
      ];
      return ['stop', '-', what.join(', '), '-', '-'];
    }
    const { flat, setting, does, from, to } = visit;
    return [
      `${flat.number}`,
      settingWords(setting, job.machine.layout),
      does.join(', '),
      dialWords(job, from),
      dialWords(job, to),
    ];
  });
  return part('order', 'The flats in order', {
    tables: [{ head: ['flat', 'bring up', 'do', 'begin at', 'end at'], rows, pen: ['done'] }],
    notes: [
      ...(visits.some(({ kind }) => kind === 'stop')
        ? [
            'At a stop correct the dial by what you read, as "Size corrected by the dial" says, before going on.',
          ]
        : []),
      ...(even
        ? []
        : [
            `All readings count from the size of flat 1${takesBack(job) ? ' on a true block' : ''}: flats end above 0 or past it, each at its own.`,
          ]),
      `Before the punch is turned: ${stroke} clear out, ${infeed} back half a turn clear of the blank, wheel off and standing still. Turn it, wipe seat and holding; only then come on, beside the work, to where the next flat begins.`,
      'Angles count counter-clockwise seen from the tip; the punch turns the other way.',
      ...(chucked
        ? [
            'Mark tooth or side 0 with the first flat up and count on from it; detent home before the wheel starts.',
          ]
        : []),
    ],
  });
}

/** What the ring is set to, once a flat has been measured. */
export function dialCorrectPart({ plan, ringTurns, roughedLast, visits }: DialPlan): Part {
  const { job } = plan;
  const say = sayIn(job.units);
  const more = toMm(READ_MORE[job.units], job.units);
  const { infeed } = handWords(job);
  const all = job.punch.section.length;
  const dials = job.machine.dials;
  const set = setWords(job);
  const dresses = visits.some((visit) => visit.kind === 'stop' && visit.stop.dresses);
  return part('dial-correct', 'Size corrected by the dial', {
    tables: [
      {
        head: ['flat', 'should read', 'ring then', `${say.length(more)} more: ring`, 'less: ring'],
        rows: ringTurns.map(({ flats, ground, reading, at, perReading }) => [
          `${flats.length === all ? 'any' : flats.join(' ')}, ${ground}`,
          say.column(reading),
          dialWords(job, at),
          ...[1, -1].map((sign) =>
            dials === undefined ? '-' : dialWords(job, readingOf(dials, at.above + sign * perReading * more)),
          ),
        ]),
        pen: ['reads', 'ring set to'],
      },
    ],
    notes: [
      `Without dressing since: ${roughedLast.length === 0 ? 'the flat ground last' : `flats ${roughedLast.join(' and ')}, ground last and so with the wheel as it is now`}, measured cold and clean; ${infeed} where that flat was ground, the slide left there; ${set} by the row. Twice as much more moves it twice as far. Then go on down.`,
      `${dresses ? 'DRESSED since' : 'Dressed since, or in doubt'}: the reading says nothing of where the wheel stands now. Bring up a measured flat, touch it with a feeler, wheel at rest, and ${set} by the same row, further from size by the feeler.`,
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
      `In ${say.unit}, of a first flat on the round, before its neighbours are ground. Set the dial on the raw round FIRST; a flat that is roughed already is touched by feeler, by "Size corrected by the dial". Stop at the last row but one.`,
    ],
  });
}
