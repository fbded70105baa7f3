/**
 * Part 7: bringing each flat up. Indexing block: the side up. Spin indexer: degrees, as a hole of ten degrees and
 * a vernier hole of one. Dividing head: turns and holes from the flat before, with sector arms set that many
 * spaces apart, one hole more counting the pin's own. Rotary axis: its position and block.
 * Source: US Navy NAVEDTRA 14345, plain indexing; a forum article on the spin index (36 holes, vernier 0 to 9).
 */

import type { Setting } from '../../job/indexing.js';
import { layoutOf } from '../../job/job.js';
import { isLathe, rotarySign } from '../../job/layout.js';
import type { Plan } from '../../plan/plan.js';
import { alike } from '../../quantity/alike.js';
import { degFromRad, withinTurnDeg } from '../../quantity/angle.js';
import { trimmed } from '../../quantity/decimal.js';
import { rad } from '../../quantity/unit.js';
import { blockFit, blockTable, blockWords } from '../../wording/block.js';
import { type Part, part } from '../model.js';

/** Where in the programs a flat is brought up. */
export interface IndexPlace {
  readonly program: string;
  readonly flat: number;
  /** Line from 1. */
  readonly line: number;
}

export interface SheetProgram {
  readonly name: string;
  readonly text: string;
}

/** The program stop, or rotary block, after every INDEX comment, in the order of the programs. */
export function indexPlaces(programs: readonly SheetProgram[]): readonly IndexPlace[] {
  return programs.flatMap(({ name, text }) => {
    const lines = text.split('\n');
    return lines.flatMap((line, i): readonly IndexPlace[] => {
      const said = /INDEX TO \S+ DEG - FLAT (\d+)/.exec(line);
      if (said === null) return [];
      const after = lines.findIndex((later, k) => k > i && /^(N\d+ )?(M0|G0 [ABC]\S+)$/.test(later));
      return [{ program: name, flat: Number(said[1]), line: after < 0 ? i + 1 : after + 1 }];
    });
  });
}

/** Degrees between the main holes of a spin indexer. */
const MAIN_HOLE_DEG = 10;

function settingCells(setting: Setting, lathe: boolean): readonly string[] {
  switch (setting.kind) {
    case 'axis':
      return [];
    case 'block side':
      return [`side ${setting.side} ${lathe ? 'to the wheel' : 'up'}`];
    case 'degrees': {
      const angle = withinTurnDeg(degFromRad(setting.angle));
      const main = Math.floor(angle / MAIN_HOLE_DEG + 1e-9) * MAIN_HOLE_DEG;
      return [`hole ${main} deg`, `vernier ${trimmed(angle - main, 3)}`];
    }
    case 'tooth':
      return [`tooth ${setting.tooth}`, `${setting.on} teeth on`];
    case 'crank': {
      if (setting.turns === 0 && setting.holes === 0) return ['stays', '-'];
      const arms = setting.holes === 0 ? '-' : `${setting.holes + 1} holes, counting the pin's`;
      const holes = setting.holes === 0 ? '' : ` + ${setting.holes} holes on ${setting.circle}`;
      return [`${setting.turns} turns${holes}`, arms];
    }
  }
}

const HEADS: Record<Setting['kind'], readonly string[]> = {
  axis: [],
  'block side': ['block'],
  degrees: ['main hole', 'vernier'],
  tooth: ['at the detent', 'count'],
  crank: ['crank, forward', 'sector arms over'],
};

/** One row for each index of the plan, with its line in `programs`. */
export function indexPart(plan: Plan, programs: readonly SheetProgram[]): Part {
  const { job, steps } = plan;
  const places = indexPlaces(programs);
  const several = new Set(programs.map(({ name }) => name)).size > 1;
  const indexes = steps.flatMap((step) => (step.kind === 'index' ? [step] : []));
  const byHand = job.holding.index === 'by hand';
  const sign = rotarySign(layoutOf(job), job.machine.rotary?.sense ?? 'standard');
  const rows = indexes.map(({ flat, setting }, i) => {
    const place = places[i];
    const known = place?.flat === flat.number;
    const where = known ? (several ? place.program : `${place.line}`) : '-';
    // What the program says to the axis, which may count the other way.
    const angle = trimmed((byHand ? 1 : sign) * degFromRad(flat.at), 3);
    return [`${flat.number}`, angle, ...settingCells(setting, isLathe(job.machine.layout)), where];
  });
  const twice = new Set(indexes.map(({ flat }) => flat.number)).size < indexes.length;
  const kind = indexes[0]?.setting.kind ?? 'axis';
  const axis = job.machine.rotary?.axis ?? 'A';
  return part('index', 'Indexing', {
    tables: [
      {
        head: [
          'flat',
          byHand ? 'at deg' : `${axis} at deg`,
          ...HEADS[kind],
          several ? 'then run' : byHand ? 'stop in line' : 'block in line',
        ],
        rows: merged(rows),
      },
      ...(blockFit(job) === 'none' ? [] : [blockTable(job)]),
    ],
    notes: [
      ...blockWords(job).map((words) => `Block as measured: ${words}.`),
      ...(job.grinding.order === 'one pass all round'
        ? ['Every flat comes up for each of its passes, in this order, round and round.']
        : twice
          ? ['Flats that come up twice are roughed first and finished later, in the order of the lines.']
          : []),
      ...(several && steps.some(({ kind }) => kind === 'stop')
        ? ['Where a program begins with words on measuring or dressing, do that before the punch is turned.']
        : []),
      ...(byHand
        ? []
        : ['Never begin at one of these lines: the wheel stands still there. Begin at the head.']),
      ...(byHand
        ? [
            `${several ? 'Bring the flat up between the programs, in their order; each ends with the wheel stopped.' : 'Bring the flat up at its program stop.'} The wheel must stand still before a hand goes in. Angles count counter-clockwise seen from the tip; the punch turns the other way.`,
            ...(kind === 'crank'
              ? ['Always turn the crank forward; overshot, go back a turn and come again.']
              : []),
            ...(kind === 'tooth'
              ? [
                  'Mark tooth 0 with the first flat up and count on from it; draw the detent home before anything else is done. Lock the spindle out, out of gear: it holds the punch.',
                ]
              : []),
            ...(kind === 'block side'
              ? ['Wipe block and seat at every turn; the first side is the one up at the start.']
              : []),
          ]
        : [
            `The axis turns only in the clear position, and always arrives from one side (${trimmed(degFromRad(rad(job.machine.rotary?.backlash ?? 0)), 3)} deg backlash).`,
          ]),
    ],
  });
}

/** So many places are listed one by one. */
const LISTED = 4;

/** All of a few places; of many the first, the last and how often. */
const listed = (places: readonly string[]): string =>
  places.length <= LISTED ? places.join(', ') : `${places[0]} ... ${places.at(-1)}, ${places.length} times`;

/** Rows that differ only in where they stand in the program, as one. */
const merged = (rows: readonly (readonly string[])[]): readonly (readonly string[])[] =>
  alike(rows, (row) => row.slice(0, -1).join('|')).map(([, same]) => [
    ...same[0].slice(0, -1),
    listed(same.map((row) => row.at(-1) ?? '')),
  ]);
