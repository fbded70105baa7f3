/** The comments that open a program: what it is, wheel, speed, zero, slope, touch-off, cautions. */
import { headWords } from '../job/heads.js';
import { type Job, layoutOf } from '../job/job.js';
import { type LinearAxis, rotarySign } from '../job/layout.js';
import { programmedPoint, sectionWords, sizesOf, slopeWords, ZERO } from '../job/set-up.js';
import { type StandingSize, standingAt, standingSizes } from '../job/standing.js';
import type { Plan } from '../plan/plan.js';
import { alike } from '../quantity/alike.js';
import { degFromRad } from '../quantity/angle.js';
import { fixed, trimmed } from '../quantity/decimal.js';
import { fromMm } from '../quantity/length.js';
import { type Mm, mm, rad } from '../quantity/unit.js';
import { measuredTo } from '../section/polygon.js';
import { cautions, startChecks } from './caution.js';
import { comment, type Line, plainText, TIED } from './comment.js';

/** Longest piece of a name or title that is shown. */
const NAME_ROOM = 60;

/** At most so much of a name, cut between words. */
function name(text: string): string {
  const plain = plainText(text);
  if (plain.length <= NAME_ROOM) return plain;
  const cut = plain.slice(0, NAME_ROOM + 1).replace(/ [^ ]*$/, '');
  return cut.slice(0, NAME_ROOM).trim();
}

/**
 * @param passes how many passes this program makes, if not all of the plan's.
 * @param place of the program in a set that counts from one touch-off.
 */
export function header(
  plan: Plan,
  passes: number = plan.totals.passes,
  place: 'only' | 'first of a set' | 'later of a set' = 'only',
): readonly Line[] {
  const { job } = plan;
  const { machine, wheel, blank, grinding } = job;
  const length = lengthText(job);
  const speed = Math.floor(grinding.spindleSpeed);
  const minutes = Math.ceil((plan.totals.running * passes) / Math.max(1, plan.totals.passes) / 60);
  return [
    headWords('job', name(job.title)),
    `PUNCH: ${punchText(job)}`,
    `FLATS: LENGTH ${length(job.punch.flatLength)}, RELIEF ${angleText(job.punch.relief)} DEG`,
    `BLANK: ${blank.shape} ${length(blank.size)}, STICK-OUT ${length(blank.stickOut)}, ${name(blank.material)}`,
    `WHEEL: ${wheel.shape} ${length(wheel.diameter)}, RATED ${Math.floor(wheel.ratedSpeed)} REV/MIN, ${name(wheel.marking === 'none' ? wheel.abrasive : wheel.marking.text)}`,
    `SPEED: ${speed} REV/MIN, ${fixed(plan.surface, 1)} M/S AT THE RIM`,
    `MACHINE: ${name(machine.title)}`,
    `WORK ZERO ${machine.program.workOffset}: ${ZERO}`,
    `PROGRAMMED POINT: ${programmedPoint(job)}`,
    ...angleTexts(job),
    ...standingTexts(job),
    ...slopeTexts(plan),
    ...(place === 'later of a set' ? LATER_ZERO : touchOffTexts(plan)),
    ...wearTexts(plan, place),
    `STROKES: ${grinding.order}, ${passes} PASSES, ABOUT ${minutes} MIN RUNNING`,
  ]
    .map((text) => comment(text.toUpperCase()))
    .concat([...cautions(job), ...startChecks(job)].map(comment));
}

/** Lengths as the machine reads them, with their unit. */
export const lengthText =
  ({ machine }: Job) =>
  (length: Mm): string =>
    machine.units === 'inch'
      ? `${fixed(fromMm(length, 'inch'), 4)}${TIED}IN`
      : `${fixed(length, 3)}${TIED}MM`;

export const angleText = (angle: Parameters<typeof degFromRad>[0]): string => trimmed(degFromRad(angle), 3);

/** Flats that are there before the first stroke, by how far from the axis they stand. */
function standingTexts(job: Job): readonly string[] {
  const length = lengthText(job);
  const sizes = standingSizes(job, job.punch.section);
  // Across a pair, as a micrometer reads it; from the axis where the flat opposite does not stand.
  const away = ({ number, distance }: StandingSize): string => {
    const facing = measuredTo(job.punch.section, number - 1);
    const other = typeof facing === 'number' ? sizes.find((each) => each.number === facing + 1) : undefined;
    const across = other === undefined ? '' : `, ${length(mm(distance + other.distance))} ACROSS`;
    return `${length(distance)} FROM THE AXIS${across}`;
  };
  return alike(sizes, away).map(
    ([said, flats]) =>
      `STANDING: FLAT${flats.length === 1 ? '' : 'S'} ${flats.map(({ number }) => number).join(' ')} AT ${said}`,
  );
}

/** The flats are named as seen from the tip, which is not how every axis counts. */
function angleTexts(job: Job): readonly string[] {
  const { rotary } = job.machine;
  if (job.holding.index !== 'rotary axis' || rotary === undefined) return [];
  if (rotarySign(layoutOf(job), rotary.sense) === 1) return [];
  return [`ANGLES: FLATS COUNT SEEN FROM THE TIP, ${rotary.axis} COUNTS THE OTHER WAY`];
}

function punchText(job: Job): string {
  const [ordered] = sizesOf(job);
  const size = ordered === undefined ? '' : `, ${ordered.name} ${lengthText(job)(ordered.size)}`;
  return `${sectionWords(job)}${size}`;
}

function slopeTexts({ job, slope, sineBarHeight }: Plan): readonly string[] {
  const length = lengthText(job);
  const bar = job.holding.slope.sineBar;
  const { part, turned, way } = slopeWords(job);
  const set = `SLOPE: ${part} ${turned} ${angleText(slope.angle)} DEG, ${way}`;
  if (bar === undefined || sineBarHeight === 'none') return [set];
  return [set, `SINE BAR: ${length(bar)} RAISED ${length(sineBarHeight)}`];
}

/** A program that lowers its passes must not be run twice on one touch-off. */
function wearTexts(
  { job, wear, steps }: Plan,
  place: 'only' | 'first of a set' | 'later of a set',
): readonly string[] {
  if (job.grinding.wear !== 'compensate') return [];
  const stops = steps.some(({ kind }) => kind === 'stop');
  // What the flats before have cost the rim is in these heights already.
  if (place === 'later of a set')
    return [
      stops
        ? 'WEAR: TOUCH OFF OR DRESS BETWEEN THE PROGRAMS OF THIS SET ONLY WHERE ONE BEGINS BY SAYING SO'
        : 'WEAR: DO NOT TOUCH OFF OR DRESS BETWEEN THE PROGRAMS OF THIS SET, ALL COUNT FROM ONE SETTING',
    ];
  const losses = [...wear.perFlat, ...wear.atStop].map(({ loss }) => loss.taken as number);
  const most = lengthText(job)(mm(Math.max(0, ...losses)));
  return [
    ...(Number.parseFloat(most) > 0
      ? [`WEAR: PASSES LOWERED BY UP TO ${most} FOR THE LOSS OF THE RIM AS PREDICTED`]
      : []),
    place === 'only'
      ? `WEAR: TOUCH OFF ANEW BEFORE EVERY RUN${stops ? ', AND AT ITS STOPS FOR THAT' : ''}`
      : 'WEAR: TOUCH OFF ONCE, BEFORE THIS FIRST PROGRAM OF THE SET',
  ];
}

/** After the first program of a set the raw top is ground, or the rim has worn: its number would send the wheel deep. */
const LATER_ZERO: readonly string[] = [
  'ZERO: AS IT WAS SET BEFORE THE FIRST PROGRAM OF THIS SET, OR AT A STOP SINCE',
  'TOUCH GROUND FLATS ONLY, BY THE SHEET: A NUMBER OF THE RAW BLANK WOULD SEND THE WHEEL DEEP',
];

export function feelerText(perFeeler: number): string {
  const times = Math.abs(perFeeler);
  const often = times < 1.5 ? '' : times < 2.5 ? ' TWICE' : ` ${trimmed(times, 1)} TIMES`;
  return `${perFeeler < 0 ? 'LESS' : 'PLUS'}${often} THE FEELER`;
}

function touchOffTexts({ job, touchOff, hands }: Plan): readonly string[] {
  const length = lengthText(job);
  const { along, up } = layoutOf(job);
  const reads = (axis: LinearAxis): string => `${axis}${TIED}${length(mm(touchOff.reads[axis]))}`;
  return [
    `TOUCH-OFF: ${job.wheel.shape === 'plain' ? 'LOWEST LINE OF THE WHEEL' : 'RIM EDGE'} ${length(touchOff.overlap)} BEHIND THE UPPER EDGE OF THE TIP`,
    ...hands.flatMap((step) =>
      step.kind === 'touch the edge of the front face'
        ? [
            `FRONT FACE, ${job.wheel.shape === 'plain' ? `WHEEL AGAINST ITS UPPER EDGE, ${length(step.below)} LOWER` : 'RIM BESIDE ITS UPPER EDGE'}: ${step.type.axis}${TIED}${length(step.type.reads)} ${feelerText(step.type.perFeeler)}`,
          ]
        : [],
    ),
    standingAt(job, job.punch.section[0]?.at ?? rad(0)) === 'none'
      ? `FIRST SPARK THERE: ${reads(along.axis)}, ${reads(up.axis)}`
      : `TOUCH FLAT 1 THERE, WHEEL AT REST: ${reads(along.axis)}, ${reads(up.axis)} PLUS THE FEELER`,
  ];
}
