/** What `flatwright plan --all` adds: the loads of strokes, heat and wear, and every value that was taken as usual. */
import type { JobSource } from '../file/read.js';
import type { Warmth } from '../plan/heat.js';
import type { PassLoad } from '../plan/load.js';
import type { Plan } from '../plan/plan.js';
import { fixed, trimmed } from '../quantity/decimal.js';
import { fromMm, toMm } from '../quantity/length.js';
import { LBF_PER_N, sayIn } from '../quantity/say.js';
import { jPerMm3, type LengthUnit, mm, seconds } from '../quantity/unit.js';
import { wearWords } from '../wording/wear.js';
import { labelled, table } from './screen.js';

const INCH = toMm(1, 'inch');

export function planRest(plan: Plan, source: JobSource): string {
  return [
    `\nMachine  ${plan.job.machineName}: ${plan.job.machine.title}\n`,
    '\nLoads, the most of any stroke\n',
    loadTable(plan),
    labelled(loadRows(plan)),
    ...(
      [
        ['the job', source.defaults()],
        ['the machine profile', source.machineDefaults()],
      ] as const
    ).map(([of, defaults]) =>
      defaults.length === 0
        ? ''
        : `\nTaken as usual, since ${of} does not say\n${labelled(defaults.map(({ key, value }) => [key, inUnits(value, plan.job.units)]))}`,
    ),
  ].join('');
}

/** A usual value as a person reads it there: `0.0008 in` in an inch job. */
function inUnits(value: string, units: LengthUnit): string {
  const [, length, per = ''] = /^([\d.]+) mm(\/min)?$/.exec(value) ?? [];
  return length === undefined || units === 'mm'
    ? value
    : `${trimmed(fromMm(mm(Number(length)), units), per === '' ? 5 : 2)} in${per}`;
}

function loadTable({ job, loads }: Plan): string {
  const { units } = job;
  const say = sayIn(units);
  const inch = units === 'inch';
  const rows = Object.entries(loads).flatMap(([kind, load]: [string, PassLoad | 'none']) =>
    load === 'none'
      ? []
      : [
          [
            kind,
            say.column(load.bite),
            fixed(fromMm(load.width, units), inch ? 3 : 2),
            fixed(inch ? (load.removalRate * 60) / INCH ** 3 : load.removalRate, 3),
            fixed(inch ? (load.specific * 60) / INCH ** 2 : load.specific, 3),
            `${Math.ceil(load.power)}`,
            inch ? fixed(load.force * LBF_PER_N, 2) : fixed(load.force, 1),
            fixed(inch ? (load.chip / INCH) * 1e6 : load.chip * 1e6, inch ? 2 : 1),
            inch ? fixed((load.bending / INCH) * 1e6, 0) : fixed(load.bending * 1000, 1),
          ],
        ],
  );
  const metric = ['mm3/s', 'mm2/s', 'W', 'rim N', 'chip nm', 'bends um'];
  const imperial = ['in3/min', 'in2/min', 'W', 'rim lbf', 'chip uin', 'bends uin'];
  return table(['stroke', `bite ${say.unit}`, `wide ${say.unit}`, ...(inch ? imperial : metric)], rows);
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
      `up to ${say.energy(jPerMm3(figures.energy.most))}, ${figures.material} under ${figures.abrasive}, ${grinding.coolant === 'none' ? 'dry' : 'wet'}`,
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
