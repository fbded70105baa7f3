/** What readings come to, in words: the terminal and the page say the same. */
import type { Job } from '../job/job.js';
import type { Socket } from '../job/socket.js';
import type { Adjustment, PairRow, Relief } from '../measure/adjust.js';
import type { Typed } from '../plan/hands.js';
import type { PassKind } from '../plan/passes.js';
import type { Plan } from '../plan/plan.js';
import { countPasses } from '../plan/step.js';
import { degFromRad, withinTurnDeg } from '../quantity/angle.js';
import { trimmed } from '../quantity/decimal.js';
import { fromMm } from '../quantity/length.js';
import { type Say, sayIn } from '../quantity/say.js';
import { type Mm, mm } from '../quantity/unit.js';
import { measuredTo } from '../section/polygon.js';

/** A label and what is said under it; an empty label goes on from the row above. */
export type Row = readonly [label: string, text: string];

interface Columns {
  readonly head: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

export interface AdjustReport {
  readonly title: string;
  readonly pairs: Columns;
  readonly flats: Columns;
  /** What to do. */
  readonly rows: readonly Row[];
  readonly caution: string;
}

/** Why no program finishes: the readings do not tell enough, or the punch wants none. */
export interface WhyNot {
  readonly of: 'readings' | 'punch';
  readonly why: string;
}

/** Why no program finishes from these readings; `it does` if one can. */
export function whyNot(
  job: Job,
  { flats, pairs, inTolerance, relief }: Adjustment,
  rest: Plan,
): WhyNot | 'it does' {
  const say = sayIn(job.units);
  const unread = flats.filter(({ read }) => !read).map(({ number }) => number);
  const once = pairs.filter(({ odd }) => odd === 'once').map(({ flat, facing }) => `${flat}-${facing}`);
  if (unread.length > 0)
    return {
      of: 'readings',
      why: `flats ${unread.join(', ')} are not read yet; a program that finishes needs a reading over each`,
    };
  if (once.length > 0)
    return {
      of: 'readings',
      why: `${once.join(', ')} is far from the others; wipe it, let it cool, read it again and give both readings`,
    };
  if (inTolerance)
    return { of: 'punch', why: 'every reading is within its limits: leave the punch as it is' };
  if (rest.totals.passes === 0)
    return { of: 'punch', why: 'nothing is left to grind, so no program is written' };
  if (relief !== 'unknown' && relief.behind > job.grinding.roughInfeed)
    return {
      of: 'punch',
      why: `the flats slope otherwise than the job, and stand ${say.length(relief.behind)} off where they end from what a program from here believes; set the slope, then touch off and grind them as a new job with punch.relief as it is now`,
    };
  return 'it does';
}

const CAUTION = `Until the rim is set, it is not where the program thinks: do that before the next
stroke, then run what is left. Wheel at rest and kept from starting, hands off while
an axis moves; the marking of the wheel and local rules come first.
`;

const plus = (say: Say, value: number): string =>
  `${value < 0 ? '-' : '+'}${say.column(mm(Math.abs(value)))}`;

export function adjustReport({ job }: Plan, found: Adjustment, rest: Plan): AdjustReport {
  const say = sayIn(job.units);
  const machine = sayIn(job.machine.units);
  const { pairs, flats, raised, relief, inTolerance } = found;
  const again = pairs.some((pair) => pair.odd === 'once');
  const shown = ({ axis, reads }: { readonly axis: string; readonly reads: Mm }): string =>
    `${axis.toUpperCase()} ${machine.column(reads)}`;
  return {
    title: `${job.title}: ${found.stage}, as you read it`,
    pairs: {
      head: ['over', 'behind', `read ${say.unit}`, 'cold', 'wanted', 'each flat', ''],
      rows: pairs.map(({ flat, facing, depth, read, cold, wanted, over, odd }) => [
        `${flat} - ${facing}`,
        say.length(depth),
        say.column(read),
        say.column(cold),
        say.column(wanted),
        plus(say, over),
        ODD[odd],
      ]),
    },
    flats: {
      head: ['flat', `to axis ${say.unit}`, 'to come off', 'passes', 'touch it at', 'make it read'],
      rows: flats.map(({ number, distance, left, read, stand, type }) => {
        if (!read) return [`${number}`, 'not read', '-', '-', '-', '-'];
        const flat = rest.flats.find((each) => each.number === number);
        const count = (kind: PassKind): number =>
          flat === undefined ? 0 : countPasses(rest.steps, flat, kind);
        const passes = count('finish') + count('rough');
        return [
          `${number}`,
          say.column(distance),
          plus(say, left),
          passes === 0 ? '-' : `${passes}`,
          shown(stand),
          shown(type),
        ];
      }),
    },
    rows: [
      ...rimRows(
        again ? 'read again' : raised,
        pairs.some(({ facing }) => typeof facing === 'number'),
        machine,
      ),
      [
        'Relief',
        relief === 'unknown'
          ? `not known: read one behind the face too, such as ${behindName(job)}=...`
          : reliefText(relief, say),
      ],
      ['Centre', centreText(job, found.centre)],
      ...wearRows(job, found.ratio),
      ['Left', inTolerance ? 'in tolerance: leave it as it is' : (smallText(flats, say) ?? leftText(rest))],
    ],
    caution: CAUTION,
  };
}

const ODD: Readonly<Record<PairRow['odd'], string>> = {
  no: '',
  once: 'odd: burr, heat, seat, index? read it again',
  twice: 'odd, but read twice',
};

function centreText({ punch, units }: Job, centre: Adjustment['centre']): string {
  if (centre !== 'blind') {
    const toward = withinTurnDeg(degFromRad(centre.toward));
    return `off the axis by ${sayIn(units).length(centre.by)} toward ${trimmed(toward, 0)} deg`;
  }
  return punch.section.length < 3
    ? 'not known: two flats do not show it'
    : 'not known: pairs do not show it, an indicator on every flat does';
}

const wearRows = ({ figures }: Job, ratio: Adjustment['ratio']): readonly Row[] =>
  ratio === 'none'
    ? []
    : [
        [
          'Wear',
          `by the drift a grinding ratio of ${trimmed(ratio, 1)} (wheel.grindingRatio), ${trimmed(figures.ratio.taken, 1)} was taken`,
        ],
      ];

/** A pair and a depth behind the face where an anvil clears the shoulder: half the flat's length. */
function behindName({ punch, units }: Job): string {
  const facing = measuredTo(punch.section, 0);
  const half = trimmed(fromMm(mm(punch.flatLength / 2), units), units === 'inch' ? 2 : 0);
  return `1${typeof facing === 'number' ? `-${facing + 1}` : ''}@${half}`;
}

function rimRows(raised: Typed | 'read again', pairs: boolean, say: Say): readonly Row[] {
  if (raised === 'read again') return [['Rim', 'not before the odd pair is read again']];
  const { axis, reads } = raised;
  if (Math.abs(reads) < 0.0005) return [['Rim', 'stands where the program thinks it does: type nothing']];
  const up = axis.toUpperCase();
  const added = `${reads > 0 ? '-' : '+'}${say.length(mm(Math.abs(reads)))}`;
  return [
    ['Rim', `EITHER touch flat 1 by feeler, make ${up} read its number plus the feeler;`],
    [
      '',
      pairs
        ? 'touch the flat opposite too: add half of what it then reads over its own number'
        : 'touch the others too: add the mean of what they then read over their numbers',
    ],
    [
      '',
      `OR, if you cannot touch, ${reads > 0 ? 'lower' : 'raise'} the zero: add ${added} to ${up} of the work offset`,
    ],
    ['', 'once, and never both; no wear or length value besides'],
  ];
}

function reliefText({ angle, within, stack }: Relief, say: Say): string {
  const unsure = `${trimmed(degFromRad(angle), 3)} deg ground, within ${trimmed(degFromRad(within), 2)}`;
  const blocks =
    stack === 'none'
      ? ''
      : `; gauge blocks ${say.length(mm(Math.abs(stack)))} ${stack > 0 ? 'higher' : 'lower'}`;
  return `${unsure}${blocks === '' ? '' : `${blocks} for the NEXT punch, not under this one`}`;
}

/** Flats under their least size; `undefined` if none is. */
function smallText(flats: Adjustment['flats'], say: Say): string | undefined {
  const small = flats.filter((flat) => flat.small);
  if (small.length === 0) return undefined;
  const most = Math.max(...small.map(({ left }) => -left));
  const names = small.map(({ number }) => number).join(', ');
  return `TOO SMALL: flat${small.length === 1 ? '' : 's'} ${names}, up to ${say.length(mm(most))} below where ${small.length === 1 ? 'it' : 'they'} should end; nothing puts metal back`;
}

function leftText(rest: Plan): string {
  const say = sayIn(rest.job.units);
  if (rest.totals.passes === 0) return 'nothing: every flat is where it should be, or within its tolerance';
  return `${rest.totals.passes} passes, about ${say.time(rest.totals.running)}`;
}

/** What a punch that is too small for its job still makes, of all the sockets there are. */
export function stillMakes(job: Job, { pairs, flats }: Adjustment, all: readonly Socket[]): string {
  const say = sayIn(job.units);
  const names = flats.filter(({ small }) => small).map(({ number }) => number);
  const sizes = pairs.filter(({ depth }) => depth === 0).map(({ cold }) => cold);
  const [least, most] = [Math.min(...sizes), Math.max(...sizes)];
  const sockets = all.filter(({ sides }) => sides === job.punch.sides);
  const fits = sockets
    .filter((socket) => socket.least <= least && most <= socket.most)
    .map(({ name }) => name);
  const smaller = sockets
    .filter((socket) => sizes.length > 0 && socket.most < least)
    .toSorted((a, b) => b.most - a.most)
    .slice(0, 2)
    .map((socket) => `${socket.name} with ${say.length(mm(least - socket.most))} to come off`);
  const now = fits.length === 0 ? '' : `; as it stands it makes ${fits.join(', ')}`;
  const next = smaller.length === 0 ? '' : `; ground down ${smaller.join(', or ')}`;
  return `flat${names.length === 1 ? '' : 's'} ${names.join(', ')} under the least size: no program finishes that${now}${next}`;
}
