/** `flatwright plan JOB`: what will happen, on one screen. */
import { type Command, Option } from 'commander';
import type { JobSource } from '../file/read.js';
import { takenBack } from '../job/block.js';
import type { Job } from '../job/job.js';
import { layoutOf, onMachine } from '../job/job.js';
import type { LinearAxis } from '../job/layout.js';
import type { FlatPlan } from '../plan/flat.js';
import type { Warmth } from '../plan/heat.js';
import type { PassLoad } from '../plan/load.js';
import { PASS_KINDS } from '../plan/passes.js';
import { isPostable, type Plan, planJob } from '../plan/plan.js';
import { findSavings } from '../plan/savings.js';
import { countPasses } from '../plan/step.js';
import { degFromRad } from '../quantity/angle.js';
import { fixed, trimmed } from '../quantity/decimal.js';
import { fromMm } from '../quantity/length.js';
import { type Say, sayIn } from '../quantity/say.js';
import { M_PER_S_PER_SFPM } from '../quantity/speed.js';
import { type MPerS, mm, seconds } from '../quantity/unit.js';
import { acrossCorners, flatToCorner } from '../section/corner.js';
import { blockWords } from '../wording/block.js';
import { orderWords } from '../wording/order.js';
import { savingWords } from '../wording/saving.js';
import { standingWords } from '../wording/standing.js';
import { wearWords } from '../wording/wear.js';
import { type Done, GOOD, Leave, REFUSED, UNUSABLE } from './exit.js';
import type { Io } from './io.js';
import { machineOption } from './options.js';
import { errorsJson, errorsScreen, findErrors, USUAL_PUNCHES } from './plan-errors.js';
import { planFindings } from './plan-findings.js';
import { planJson, savingJson } from './plan-json.js';
import { labelled, table } from './screen.js';
import { loadJob } from './shipped.js';
import { goesOn, type StandingOptions, withStandingOptions } from './standing.js';

export function planCommand(command: Command, io: Io, done: Done): void {
  withStandingOptions(command)
    .description('Shows what grinding the punch of JOB comes to, before anything is written.')
    .addOption(machineOption())
    .option('--errors', 'show instead what may be off, and how many punches come out in tolerance')
    .addOption(
      new Option('--punches <count>', 'with --errors: punches simulated').default(`${USUAL_PUNCHES}`),
    )
    .addOption(
      new Option('--seed <number>', 'with --errors: the same seed gives the same punches').default('1'),
    )
    .option('--json', 'print the plan as JSON')
    .addHelpText(
      'after',
      '\nExamples:\n  flatwright plan samples/stem-bolt-hex-5.yaml\n  flatwright plan my-hex.yaml --machine knee-mill-by-hand --json\n',
    )
    .action(async (path: string, options: Options) => {
      const [punches, seed] = [whole('punches', options.punches), whole('seed', options.seed)];
      const { job: read, source } = await loadJob(path, io, options.machine);
      const plan = planJob(goesOn(read, options, io).job);
      const errors = options.errors === true && isPostable(plan) ? findErrors(plan, punches, seed) : 'none';
      if (options.json === true) {
        const shown = {
          ...planJson(plan, source),
          savings: isPostable(plan) ? findSavings(plan).map(savingJson) : [],
          ...(errors === 'none' ? {} : { errors: errorsJson(errors) }),
        };
        io.out(`${JSON.stringify(shown, null, 2)}\n`);
      } else {
        io.out(errors === 'none' ? planScreen(plan, source) : errorsScreen(plan, errors));
        io.err(planFindings(plan, source, io));
      }
      done(isPostable(plan) ? GOOD : REFUSED);
    });
}

interface Options extends StandingOptions {
  readonly json?: true;
  readonly machine?: string;
  readonly errors?: true;
  readonly punches: string;
  readonly seed: string;
}

const MOST_PUNCHES = 1_000_000;

function whole(option: string, text: string): number {
  const value = Number(text);
  if (Number.isInteger(value) && value >= 1 && value <= MOST_PUNCHES) return value;
  throw new Leave(UNUSABLE, `--${option}: "${text}" must be a whole number from 1 to ${MOST_PUNCHES}`);
}

function planScreen(plan: Plan, source: JobSource): string {
  const { job } = plan;
  const say = sayIn(job.units);
  const { punch, blank, machine } = job;
  const parts = [
    `${job.title}\n\n`,
    labelled([
      ['Punch', punchText(plan)],
      ...(punch.socket === 'none' ? [] : ([['Socket', socketText(punch.socket, say)]] as const)),
      ['Relief', reliefText(plan)],
      [
        'Blank',
        `${blank.shape} ${say.length(blank.size)}, ${blank.material}, ${say.length(blank.stickOut)} out of the nose`,
      ],
      ['Wheel', wheelText(plan)],
      ['Machine', `${job.machineName}: ${machine.title}`],
      ...(source.shop === 'none'
        ? []
        : ([['Shop', `${source.shop.file}: ${source.shop.taken.join(', ')}`]] as const)),
    ]),
    '\nSet up\n',
    labelled(setUpRows(plan)),
    '\nFlats\n',
    flatTable(plan),
    '\nMeasure at the front face, over what lies opposite: a flat, or the corner of an odd section\n',
    measureTable(plan),
    '\nLoads, the most of any stroke\n',
    loadTable(plan),
    labelled(loadRows(plan)),
    '\nTime\n',
    labelled(timeRows(plan)),
    savingsText(plan),
  ];
  for (const [of, defaults] of [
    ['the job', source.defaults()],
    ['the machine profile', source.machineDefaults()],
  ] as const) {
    // Spreads are shown where they matter, under --errors.
    const shown = defaults.filter(({ key }) => !key.startsWith('spreads.'));
    if (shown.length === 0) continue;
    parts.push(`\nTaken as usual, since ${of} does not say\n`);
    parts.push(labelled(shown.map(({ key, value }) => [key, value])));
  }
  if (punch.corners !== 'sharp')
    parts.push('\nCorners stay as the blank leaves them: the lands have no relief.\n');
  parts.push(
    isPostable(plan)
      ? '\nThe plan is sound on paper. Ring test, guard, the speed marked on the wheel and local rules come first.\n'
      : '\nNot ready to post: see the errors.\n',
  );
  return parts.join('');
}

/** Each thing by itself that would make it quicker. */
function savingsText(plan: Plan): string {
  const savings = isPostable(plan) ? findSavings(plan) : [];
  if (savings.length === 0) return '';
  const say = sayIn(plan.job.units);
  return `\nWould save, each by itself\n${savings.map((saving) => `  ${savingWords(saving, say)}\n`).join('')}`;
}

function punchText({ job }: Plan): string {
  const say = sayIn(job.units);
  const { sides, section, flatLength, corners } = job.punch;
  const length = `flats ${say.length(flatLength)} long`;
  const distance = section[0]?.distance ?? mm(0);
  if (sides === 'free') return `${section.length} flats of a free section, ${length}`;
  const size = mm(2 * distance);
  if (sides % 2 !== 0) {
    const corner = corners === 'sharp' ? `, flat to corner ${say.length(flatToCorner(distance, sides))}` : '';
    return `${sides} flats, inscribed diameter ${say.length(size)}${corner}, ${length}`;
  }
  const across = `${sides} flats, across flats ${say.length(size)}`;
  return corners === 'sharp'
    ? `${across}, across corners ${say.length(acrossCorners(size, sides))}, ${length}`
    : `${across}, ${length}`;
}

const socketText = ({ of, share }: Exclude<Job['punch']['socket'], 'none'>, say: Say): string =>
  `${of.name}, ${say.length(of.least)} to ${say.length(of.most)}; punch ${trimmed(100 * share, 1)} % of the way up (${of.table})`;

function reliefText({ job, workingClearance, cornerRelief }: Plan): string {
  const say = sayIn(job.units);
  const corner = cornerRelief === 'none' ? '' : `, ${say.angle(cornerRelief)} along the corners`;
  return `${say.angle(job.punch.relief)}${corner}; ${say.angle(workingClearance)} clears a head tilted ${say.angle(job.punch.headTilt)}`;
}

function wheelText({ job, surface }: Plan): string {
  const say = sayIn(job.units);
  const { wheel, grinding } = job;
  return `${wheel.shape} ${say.length(wheel.diameter)}, ${say.speed(grinding.spindleSpeed)} = ${surfaceText(job, surface)}, marked ${say.speed(wheel.ratedSpeed)}`;
}

/** m/s, and feet per minute where inches are spoken. */
function surfaceText({ units }: Job, surface: MPerS): string {
  const metric = `${fixed(surface, 1)} m/s`;
  return units === 'inch' ? `${metric} (${Math.round(surface / M_PER_S_PER_SFPM)} ft/min)` : metric;
}

function setUpRows(plan: Plan): (readonly [string, string])[] {
  const { job, touchOff, sineBarHeight } = plan;
  const say = sayIn(job.units);
  const bar = job.holding.slope.sineBar;
  const what =
    plan.slope.by === 'head'
      ? 'head tilted, spindle top toward the shank, punch level:'
      : 'fixture sloped, tip away from the wheel:';
  const onBar =
    bar === undefined || sineBarHeight === 'none'
      ? ''
      : `, sine bar of ${say.length(bar)} raised ${say.length(sineBarHeight)}`;
  const { along, up } = layoutOf(job);
  // What the axes read is in the machine's units, whatever the job is written in.
  const there = sayIn(job.machine.units);
  const reads = (axis: LinearAxis): string =>
    `${axis.toUpperCase()} ${there.column(mm(touchOff.reads[axis]))} ${there.unit}`;
  return [
    ['Slope', `${what} ${say.angle(plan.slope.angle)}${onBar}`],
    ['Layout', job.machine.layout],
    ['Work zero', `centre of the front face, on the tool axis (${job.machine.program.workOffset})`],
    [
      'Touch-off',
      `rim edge ${say.length(touchOff.overlap)} behind the tip's upper edge; at the first spark the axes read ${reads(along.axis)}  ${reads(up.axis)}`,
    ],
    [
      'Clear',
      `in the plane of the rim the wheel's centre stands ${say.length(plan.positions.clear)} from work zero; indexing at height ${say.length(plan.positions.indexHeight)}`,
    ],
    ['Index', indexText(job)],
    ...blockWords(job).map((words, i): readonly [string, string] => [i === 0 ? 'Block' : '', words]),
    ['Order', `${orderWords(job)}; flats ${job.grinding.sequence.join(' ')}`],
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
    case 'dividing head':
      return `by hand, dividing head ${device.ratio} to 1`;
    case undefined:
      return 'by hand';
  }
}

function flatTable(plan: Plan): string {
  const { job } = plan;
  const say = sayIn(job.units);
  const there = sayIn(job.machine.units);
  const { along, up } = layoutOf(job);
  const rows = plan.flats.map((flat) => {
    const end = onMachine(job, { u: flat.centreEnd, v: 0, w: flat.w + takenBack(job, flat.at) });
    return [
      `${flat.number}`,
      trimmed(degFromRad(flat.at), 3),
      settingText(plan, flat),
      fixed(fromMm(flat.stock, job.units), job.units === 'inch' ? 4 : 3),
      ...PASS_KINDS.map((kind) => `${countPasses(plan.steps, flat, kind)}`),
      there.column(mm(end[along.axis])),
      there.column(mm(end[up.axis])),
    ];
  });
  const [to, down] = [along, up].map(({ axis }) => `to ${axis.toUpperCase()} ${there.unit}`);
  return table(
    ['flat', 'at deg', 'set', `stock ${say.unit}`, 'rough', 'finish', 'spark-out', to ?? '', down ?? ''],
    rows,
  );
}

function settingText({ steps }: Plan, flat: FlatPlan): string {
  const step = steps.find((candidate) => candidate.kind === 'index' && candidate.flat === flat);
  const setting = step?.kind === 'index' ? step.setting : undefined;
  switch (setting?.kind) {
    case 'block side':
      return `side ${setting.side} up`;
    case 'degrees':
      return `${trimmed(degFromRad(setting.angle), 3)} deg`;
    case 'crank':
      return `${setting.turns} + ${setting.holes}/${setting.circle}`;
    case 'axis':
      return 'axis';
    case undefined:
      return '-';
  }
}

function measureTable(plan: Plan): string {
  const { job } = plan;
  const say = sayIn(job.units);
  // Flats that read alike share a row.
  const alike = new Set(plan.readings.map(({ finished }) => say.column(finished)));
  const rows = [...alike].flatMap((shown) => {
    const readings = plan.readings.filter(({ finished }) => say.column(finished) === shown);
    const [first] = readings;
    if (first === undefined) return [];
    const { finished, roughed, least, most } = first;
    const cells = [
      readings.map(({ flat }) => flat).join(' '),
      say.column(roughed),
      say.column(finished),
      say.column(least),
      say.column(most),
    ];
    return [cells];
  });
  return table(['across flat', 'roughed', 'finished', 'least', 'most'], rows);
}

function loadTable({ job, loads }: Plan): string {
  const say = sayIn(job.units);
  const rows = Object.entries(loads).flatMap(([kind, load]: [string, PassLoad | 'none']) =>
    load === 'none'
      ? []
      : [
          [
            kind,
            say.column(load.bite),
            fixed(fromMm(load.width, job.units), job.units === 'inch' ? 3 : 2),
            fixed(load.removalRate, 3),
            fixed(load.specific, 3),
            `${Math.ceil(load.power)}`,
            fixed(load.force, 1),
            fixed(load.chip * 1e6, 1),
            fixed(load.bending * 1000, 1),
          ],
        ],
  );
  const head = [
    'stroke',
    `bite ${say.unit}`,
    `wide ${say.unit}`,
    'mm3/s',
    'mm2/s',
    'W',
    'rim N',
    'chip nm',
    'bends um',
  ];
  return table(head, rows);
}

function loadRows(plan: Plan): (readonly [string, string])[] {
  const { job, wear, bias, heat, equalSteps, totals } = plan;
  const say = sayIn(job.units);
  const { figures, grinding } = job;
  const { ratio } = figures;
  const range = ratio.least === ratio.most ? 'as the job says' : `${ratio.least} to ${ratio.most}`;
  const held = grinding.limit.removalRate;
  if (wear.perFlat.length === 0) return [];
  const [loss, handled] = wearWords(plan);
  const warm = (of: Warmth): string => `${trimmed(of.power, 1)} W, some ${Math.round(of.over)} K`;
  return [
    [
      'Energy',
      `up to ${trimmed(figures.energy.most, 0)} J/mm3, ${figures.material} under ${figures.abrasive}, ${grinding.coolant === 'none' ? 'dry' : 'wet'}`,
    ],
    ['Wheel wear', `${loss} (grinding ratio ${trimmed(ratio.taken, 1)}, ${range})`],
    ['', handled],
    [
      'Warmth',
      `into the blank on the mean, roughly: roughing ${warm(heat.rough)} over the room; finishing ${warm(heat.finish)}`,
    ],
    ...(bias === 0
      ? []
      : ([
          [
            'On the mean',
            `a size comes out ${say.length(mm(Math.abs(bias)))} ${bias > 0 ? 'large, for wear' : 'small, for warmth'}`,
          ],
        ] as const)),
    ...(held === undefined ? [] : ([['Held', `no stroke removes more than ${say.removal(held)}`]] as const)),
    ...(equalSteps === 'none'
      ? []
      : ([
          [
            '',
            `equal steps of ${say.length(equalSteps.infeed)} under the same limit: ${equalSteps.passes} passes, ${say.time(equalSteps.running)}; ${say.time(seconds(Math.max(0, equalSteps.running - totals.running)))} saved`,
          ],
        ] as const)),
  ];
}

function timeRows(plan: Plan): (readonly [string, string])[] {
  const say = sayIn(plan.job.units);
  const { passes, strokeLength, engagedLength, running, grinding, least, resting, perFlat } = plan.totals;
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
      'Passes',
      `${passes}, strokes ${trimmed(strokeLength / 1000, 1)} m in all, ${Math.round(100 * air)} % of it in the air`,
    ],
    ['Each flat', each],
    ['Grinding', `${say.time(grinding)}; ${say.time(least)} if no stroke ran in the air`],
    ...(resting > 0
      ? [['Resting', `${say.time(resting)}, the wheel clear, for the punch to cool`] as const]
      : []),
    ['Running', `about ${say.time(running)}${stopsText(plan)}`],
    ...standingRows(plan),
  ];
}

/** What is there already, and the time it saves against a whole blank. */
function standingRows({ job, totals }: Plan): (readonly [string, string])[] {
  if (job.standing.length === 0) return [];
  const say = sayIn(job.units);
  const saved = planJob({ ...job, standing: [] }).totals.running - totals.running;
  return [['Standing', `${standingWords(job)}, which saves ${say.time(seconds(Math.max(0, saved)))}`]];
}

function stopsText({ totals }: Plan): string {
  if (totals.stops === 0) return ', no stop';
  return `, ${totals.stops} program ${totals.stops === 1 ? 'stop' : 'stops'} for your hands not counted`;
}
