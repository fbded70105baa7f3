/** `flatwright plan` on one screen of forty rows: verdict, set-up, flats, what to measure, time, and what would save it. */
import type { JobSource } from '../file/read.js';
import { takenBack } from '../job/block.js';
import { type Job, layoutOf, onMachine } from '../job/job.js';
import type { LinearAxis } from '../job/layout.js';
import { sectionWords, sizesOf, slopeWords, ZERO } from '../job/set-up.js';
import type { FlatPlan } from '../plan/flat.js';
import { PASS_KINDS } from '../plan/passes.js';
import { isPostable, type Plan, planJob } from '../plan/plan.js';
import { findSavings, type Saving } from '../plan/savings.js';
import { countPasses } from '../plan/step.js';
import { needsSet } from '../post/program.js';
import { alike } from '../quantity/alike.js';
import { degFromRad } from '../quantity/angle.js';
import { fixed, trimmed } from '../quantity/decimal.js';
import { fromMm } from '../quantity/length.js';
import { type Say, sayIn } from '../quantity/say.js';
import { M_PER_S_PER_SFPM } from '../quantity/speed.js';
import { type MPerS, mm, seconds } from '../quantity/unit.js';
import { blockWords } from '../wording/block.js';
import { orderWords } from '../wording/order.js';
import { savingWords } from '../wording/saving.js';
import { settingWords } from '../wording/setting.js';
import { standingWords } from '../wording/standing.js';
import { paint } from './io.js';
import { labelled, ROWS, type Row, rowsOf, table, withoutGaps } from './screen.js';

/**
 * The plan and, after the findings, what comes next, so that all of it fits a screen: where it would not, without empty
 * lines, headings still stand out, and with the best saving alone or none.
 */
export function planOnScreen(
  plan: Plan,
  source: JobSource,
  findings: string,
  colour: boolean,
): { readonly screen: string; readonly next: string } {
  const next = planNext(plan, source);
  const savings = isPostable(plan) ? findSavings(plan) : [];
  const full = planScreen(plan, source, savings, colour);
  /** Without empty lines, and with so many savings. */
  const close = (count: number): string =>
    withoutGaps(planScreen(plan, source, savings.slice(0, count), colour));
  const ways = [
    { screen: full, next: `\n${next}` },
    { screen: close(savings.length), next: `\n${next}` },
    { screen: close(1), next },
    { screen: close(0), next },
  ] as const;
  const fits = (way: { readonly screen: string; readonly next: string }): boolean =>
    rowsOf(way.screen + findings + way.next) <= ROWS;
  const [title = ''] = full.split('\n');
  // The verdict has left the screen at its top: it comes again where one looks last.
  return ways.find(fits) ?? { screen: ways[3].screen, next: `${title}\n${next}` };
}

/** @param colour whether the verdict may be coloured. */
function planScreen(plan: Plan, source: JobSource, savings: readonly Saving[], colour: boolean): string {
  const { job } = plan;
  const say = sayIn(job.units);
  const { punch, blank } = job;
  const { good, bad } = paint(colour);
  const ready = isPostable(plan);
  return [
    `${job.title}: ${ready ? good('sound on paper') : bad('not ready to post, see the errors')}${ready ? `, about ${say.time(plan.totals.running)}` : ''}\n`,
    labelled([
      ['Punch', punchText(plan)],
      ...(punch.socket === 'none' ? [] : ([['Socket', socketText(punch.socket, say)]] as const)),
      ['Relief', reliefText(plan)],
      [
        'Blank',
        `${blank.shape} ${say.length(blank.size)}, ${blank.material}, ${say.length(blank.stickOut)} out of the nose`,
      ],
      ...(punch.corners === 'sharp'
        ? []
        : ([['Corners', 'as the blank leaves them: round lands, which jam unless tapered back']] as const)),
      ['Wheel', wheelText(plan)],
      ['Machine', `${job.machineName}: ${job.machine.layout}`],
      ...(source.shop === 'none'
        ? []
        : ([['Shop', `${source.shop.file}: ${source.shop.taken.join(', ')}`]] as const)),
    ]),
    '\nSet up\n',
    labelled(setUpRows(plan)),
    '\nFlats\n',
    flatTable(plan),
    '\nMeasure at the front face, over what lies opposite\n',
    measureTable(plan),
    '\nTime\n',
    labelled(timeRows(plan)),
    savingsText(savings, say),
  ].join('');
}

/** What comes next, after the findings. */
const planNext = (plan: Plan, { file }: JobSource): string =>
  [
    !isPostable(plan)
      ? `Next: mend ${file}, and plan it again`
      : plan.job.machine.dials !== undefined
        ? `Next: flatwright dial ${file}`
        : `Next: flatwright post ${file}${needsSet(plan.job) ? ' --split' : ''} -o FILE.nc`,
    'Ring test, guard, marked speed, local rules first. More: --all, --errors.',
  ]
    .map((line) => `${line}\n`)
    .join('');

/** Each thing by itself that would make it quicker. */
function savingsText(savings: readonly Saving[], say: Say): string {
  if (savings.length === 0) return '';
  return `\nWould save, each by itself\n${savings.map((saving) => `  ${savingWords(saving, say)}\n`).join('')}`;
}

function punchText({ job }: Plan): string {
  const say = sayIn(job.units);
  const { sides, flatLength } = job.punch;
  const length = say.length(flatLength);
  if (sides === 'free') return `${sectionWords(job)}, ${length} long`;
  const sizes = sizesOf(job).map(({ name, size }) => `, ${name} ${say.length(size)}`);
  return `${sectionWords(job)} of ${length}${sizes.join('')}`;
}

const socketText = ({ of, share }: Exclude<Job['punch']['socket'], 'none'>, say: Say): string =>
  `${of.name}, ${say.length(of.least)} to ${say.length(of.most)}; punch ${trimmed(100 * share, 1)} % of the way up`;

function reliefText({ job, workingClearance, cornerRelief }: Plan): string {
  const say = sayIn(job.units);
  const corner = cornerRelief === 'none' ? '' : `, at the corners ${say.angle(cornerRelief)}`;
  return `${say.angle(job.punch.relief)}${corner}; clears a head of ${say.angle(job.punch.headTilt)} by ${say.angle(workingClearance)}`;
}

function wheelText({ job, surface }: Plan): string {
  const say = sayIn(job.units);
  const { wheel, grinding } = job;
  return `${wheel.shape} ${say.length(wheel.diameter)}, ${say.speed(grinding.spindleSpeed)} = ${surfaceText(job, surface)}, marked ${say.speed(wheel.ratedSpeed)}`;
}

/** m/s, or feet per minute where inches are spoken. */
const surfaceText = ({ units }: Job, surface: MPerS): string =>
  units === 'inch' ? `${Math.round(surface / M_PER_S_PER_SFPM)} ft/min` : `${fixed(surface, 1)} m/s`;

function setUpRows(plan: Plan): readonly Row[] {
  const { job, touchOff, sineBarHeight } = plan;
  const say = sayIn(job.units);
  const bar = job.holding.slope.sineBar;
  const { part, way } = slopeWords(job);
  const onBar =
    bar === undefined || sineBarHeight === 'none'
      ? ''
      : `; ${say.length(bar)} bar up ${say.length(sineBarHeight)}`;
  const { along, up } = layoutOf(job);
  // What the axes read is in the machine's units, whatever the job is written in.
  const there = sayIn(job.machine.units);
  const reads = (axis: LinearAxis): string =>
    `${axis.toUpperCase()} ${there.column(mm(touchOff.reads[axis]))}`;
  return [
    ['Slope', `${part} ${say.angle(plan.slope.angle)}, ${way}${onBar}`],
    ['Zero', `${ZERO} (${job.machine.program.workOffset})`],
    [
      'Spark at',
      `${reads(along.axis)}  ${reads(up.axis)} ${there.unit}, rim ${say.length(touchOff.overlap)} behind the tip's upper edge`,
    ],
    [
      'Clear',
      `wheel centre ${say.length(plan.positions.clear)} from zero, indexing at height ${say.length(plan.positions.indexHeight)}`,
    ],
    ['Index', indexText(job)],
    ...blockWords(job).map((words, i): Row => [i === 0 ? 'Block' : '', words]),
    [
      'Order',
      `${orderWords(job)}${job.grinding.sequence.length > 1 ? `; flats ${job.grinding.sequence.join(' ')}` : ''}`,
    ],
  ];
}

function indexText({ holding, machine }: Job): string {
  if (holding.index === 'rotary axis')
    return `rotary axis ${machine.rotary?.axis ?? ''}, always arriving from one side`;
  const { device } = holding;
  switch (device?.kind) {
    case 'indexing block':
      return `by hand, indexing block of ${device.sides} sides`;
    case 'spin indexer':
      return `by hand, spin indexer in steps of ${trimmed(degFromRad(device.step), 3)} deg`;
    case 'gear':
      return `by hand, gear of ${device.teeth} teeth and a detent`;
    case 'dividing head':
      return `by hand, dividing head ${device.ratio} to 1`;
    case undefined:
      return 'by hand';
  }
}

/** More flats than this in a row are said by the first and the last. */
const LISTED = 3;
/** What flats of these numbers have, each its own: `1 to 6`, `0 to 300`. */
function listed(flats: readonly number[], of: readonly string[]): string {
  const inTurn = flats.every((flat, i) => flat === (flats[0] ?? 0) + i);
  return inTurn && of.length > LISTED ? `${of[0]} to ${of.at(-1)}` : of.join(' ');
}

/** One row for flats that come out alike but for where they stand; by hand each has a setting of its own. */
function flatTable(plan: Plan): string {
  const { job } = plan;
  const say = sayIn(job.units);
  const there = sayIn(job.machine.units);
  const { along, up } = layoutOf(job);
  const byHand = job.holding.index === 'by hand';
  const rows = plan.flats.map((flat) => {
    const end = onMachine(job, { u: flat.centreEnd, v: 0, w: flat.w + takenBack(job, flat.at) });
    return {
      flat: flat.number,
      at: trimmed(degFromRad(flat.at), 2),
      set: settingText(plan, flat),
      cells: [
        fixed(fromMm(flat.stock, job.units), job.units === 'inch' ? 4 : 3),
        ...PASS_KINDS.map((kind) => `${countPasses(plan.steps, flat, kind)}`),
        there.column(mm(end[along.axis])),
        there.column(mm(end[up.axis])),
      ],
    };
  });
  const [to, down] = [along, up].map(({ axis }) => `to ${axis.toUpperCase()} ${there.unit}`);
  return table(
    [
      'flat',
      'at deg',
      ...(byHand ? ['set'] : []),
      `stock ${say.unit}`,
      'rough',
      'finish',
      'spark',
      to ?? '',
      down ?? '',
    ],
    alike(rows, ({ set, cells }) => [set, ...cells].join()).map(([, group]) => [
      listed(
        group.map(({ flat }) => flat),
        group.map(({ flat }) => `${flat}`),
      ),
      listed(
        group.map(({ flat }) => flat),
        group.map(({ at }) => at),
      ),
      ...(byHand ? [group[0].set] : []),
      ...group[0].cells,
    ]),
  );
}

/** What a hand sets; of side, tooth and crank the figures alone, for which a row has room. */
function settingText({ job, steps }: Plan, flat: FlatPlan): string {
  const step = steps.find((candidate) => candidate.kind === 'index' && candidate.flat === flat);
  if (step?.kind !== 'index') return '-';
  const { setting } = step;
  if (setting.kind === 'block side') return `side ${setting.side}`;
  if (setting.kind === 'tooth') return `tooth ${setting.tooth}`;
  return setting.kind === 'crank'
    ? `${setting.turns} + ${setting.holes}/${setting.circle}`
    : settingWords(setting, job.machine.layout);
}

function measureTable(plan: Plan): string {
  const { job } = plan;
  const say = sayIn(job.units);
  const rows = alike(plan.readings, ({ finished }) => say.column(finished)).map(([shown, readings]) => {
    const [{ roughed, least, most }] = readings;
    return [
      listed(
        readings.map(({ flat }) => flat),
        readings.map(({ flat }) => `${flat}`),
      ),
      say.column(roughed),
      shown,
      say.column(least),
      say.column(most),
    ];
  });
  return table(['across flat', 'roughed', 'finished', 'least', 'most'], rows);
}

function timeRows(plan: Plan): readonly Row[] {
  const say = sayIn(plan.job.units);
  const { strokeLength, engagedLength, running, grinding, least, resting, perFlat } = plan.totals;
  const strokesText =
    plan.job.units === 'inch'
      ? `${trimmed(strokeLength / 304.8, 0)} ft`
      : `${trimmed(strokeLength / 1000, 1)} m`;
  const air = strokeLength === 0 ? 0 : 1 - engagedLength / strokeLength;
  const times = perFlat.map((each) => each.grinding);
  const [shortest, longest] = [Math.min(...times), Math.max(...times)];
  const each =
    times.length === 0
      ? 'none'
      : say.time(seconds(shortest)) === say.time(seconds(longest))
        ? say.time(seconds(longest))
        : `${say.time(seconds(shortest))} to ${say.time(seconds(longest))}`;
  return [
    [
      'Strokes',
      `${plan.totals.passes} in ${strokesText}, ${Math.round(100 * air)} % in the air; each flat ${each}`,
    ],
    ['Grinding', `${say.time(grinding)}; ${say.time(least)} if no stroke ran in the air`],
    ...(resting > 0
      ? [['Resting', `${say.time(resting)}, the wheel clear, for the punch to cool`] as const]
      : []),
    ['Running', `about ${say.time(running)}${stopsText(plan)}`],
    ...standingRows(plan),
  ];
}

/** What is there already, and the time it saves against a whole blank. */
function standingRows({ job, totals }: Plan): readonly Row[] {
  if (job.standing.length === 0) return [];
  const say = sayIn(job.units);
  const saved = planJob({ ...job, standing: [] }).totals.running - totals.running;
  return [['Standing', `${standingWords(job)}, which saves ${say.time(seconds(Math.max(0, saved)))}`]];
}

function stopsText({ totals }: Plan): string {
  if (totals.stops === 0) return ', no stop';
  return ` and ${totals.stops} ${totals.stops === 1 ? 'stop' : 'stops'} for your hands`;
}
