/**
 * What a machine without a control is called at the machine, one row a kind: the wheel that brings in, the one that
 * strokes, what is locked before a stroke, how the wheel is approached. Common practice, no source, but where it is said.
 */

import type { DialReading } from '../hand/dial.js';
import type { Job } from '../job/job.js';
import { layoutOf } from '../job/job.js';
import type { MachineKind } from '../job/layout.js';
import { fixed, trimmed } from '../quantity/decimal.js';
import { fromMm } from '../quantity/length.js';
import { mm } from '../quantity/unit.js';

export interface HandWords {
  /** The wheel or screw that brings the rim nearer. */
  readonly infeed: string;
  /** What carries the stroke. */
  readonly stroke: string;
  readonly locks: readonly string[];
  /** The edge of the front face nearest to the wheel. */
  readonly edge: string;
  /** How the punch comes to lie under the middle of the wheel. */
  readonly middle: string;
}

const WORDS: Readonly<
  Record<MachineKind, (axes: { readonly along: string; readonly up: string }) => HandWords>
> = {
  mill: ({ along, up }) => ({
    infeed: `${up} wheel`,
    stroke: `${along} wheel`,
    edge: 'upper edge',
    middle: `${up === 'Z' && along === 'Y' ? 'X' : 'Y'} wheel: shank indicated on both sides, its middle under the spindle; lock it`,
    locks: [
      'Lock the quill, and every slide that does not move: feed with knee or head, never with the quill. Snug gibs.',
    ],
  }),
  'lathe, wheel in the spindle': ({ along, up }) => ({
    infeed: `top slide (${up})`,
    stroke: `cross slide (${along})`,
    edge: 'edge by the wheel',
    middle: 'the shank at centre height, by the tool post',
    locks: [
      'Lock the carriage to the bed; snug the gibs of top slide and cross slide, the top slide most: it holds the size.',
    ],
  }),
  'lathe, punch in the spindle': ({ up }) => ({
    infeed: `cross slide (${up})`,
    stroke: 'top slide',
    edge: 'edge by the wheel',
    middle: 'the middle of the wheel at the height of the lathe centre',
    locks: [
      'Lock the spindle out, out of gear and its plug drawn: it holds the punch. Lock the carriage; snug the gibs.',
      'Cover bed, chuck and lead screw; keep the grit out of the headstock.',
    ],
  }),
  'surface grinder': ({ along, up }) => ({
    infeed: `${up} wheel`,
    stroke: `table (${along})`,
    edge: 'upper edge',
    middle: 'cross slide: shank indicated on both sides, under the middle of the wheel; lock it',
    locks: [
      'Lock the cross slide: the wheel covers the flat in one stroke. Grind with the periphery only, never with its side.',
      'Chuck, vise or block held so that it cannot slide along the stroke; magnet on before the wheel starts, and tried by hand.',
    ],
  }),
  'bench grinder with a rail': () => ({
    infeed: 'rail screw',
    stroke: 'block along the rail',
    edge: 'edge by the wheel',
    middle: 'the shank level with the middle of the wheel',
    locks: [
      'Grind on the face of a cup wheel only: the side of a straight wheel breaks. The guard stays on, whatever it hides.',
      'Turn the rail screw only with the block drawn back to the outer stop, both hands off it. Then push the block with both hands behind it, pressed to the rail; never reach past the stop.',
      // OSHA 29 CFR 1910.215(a)(4): 1/8 inch.
      "The grinder's own tool rest, where one stays on beside the rail, stands within 3 mm (1/8 in) of the wheel and is set with the wheel at rest.",
    ],
  }),
};

/** The words of the job's machine. */
export function handWords(job: Job): HandWords {
  const { kind, along, up } = layoutOf(job);
  return WORDS[kind]({ along: along.axis.toUpperCase(), up: up.axis.toUpperCase() });
}

/** Decimals that show a quarter of a division, or the last digit of a read-out. */
function decimalsOf({ machine }: Job): number {
  const { dials, units } = machine;
  const finest =
    fromMm(dials?.readout ?? dials?.infeed.graduation ?? machine.play, units) /
    (dials?.readout === undefined ? 4 : 1);
  const most = units === 'inch' ? 6 : 4;
  for (let digits = 2; digits < most; digits += 1)
    if (Math.abs(finest * 10 ** digits - Math.round(finest * 10 ** digits)) < 1e-6) return digits;
  return most;
}

/** A length as the machine's dials are marked, without its unit. */
export const marked = (job: Job, length: number): string =>
  fixed(fromMm(mm(length), job.machine.units), decimalsOf(job));

/** What a reading looks like: its digits, and whether it is past 0; what shows as a whole turn is 0. */
export function shown(
  job: Job,
  { shows, turns, above }: DialReading,
): { readonly text: string; readonly turns: number; readonly past: boolean } {
  const { dials } = job.machine;
  const text = marked(job, shows);
  const whole = dials !== undefined && dials.readout === undefined && text === marked(job, dials.infeed.turn);
  const nought = marked(job, 0);
  return {
    text: whole ? nought : text,
    turns,
    past: dials?.readout === undefined && above < 0 && marked(job, above).replace('-', '') !== nought,
  };
}

/** `0.44 mm (1 turn back)`: what stands at the mark, and how many whole turns it is from size; `0.72 mm past 0` under it. */
export function dialWords(job: Job, reading: DialReading): string {
  const { text, turns, past } = shown(job, reading);
  const at = `${text} ${job.machine.units === 'inch' ? 'in' : 'mm'}${past ? ' past 0' : ''}`;
  return turns === 0 ? at : `${at} (${turns} turn${turns === 1 ? '' : 's'} ${past ? 'on' : 'back'})`;
}

/** How the infeed is made to read something with the slide left where it is. */
export const setWords = ({ machine }: Job): string =>
  machine.dials?.readout === undefined ? 'set the ring' : 'preset the read-out';

/** `1 division`, `1/4 division`, `1 1/2 divisions`: a step of the dial. */
export function divisionsWords(job: Job, step: number): string {
  const { dials } = job.machine;
  if (dials === undefined) return '';
  if (dials.readout !== undefined) return `${marked(job, step)} on the read-out`;
  const quarters = Math.round((4 * step) / dials.infeed.graduation);
  const whole = Math.floor(quarters / 4);
  const part = ['', '1/4', '1/2', '3/4'][quarters % 4] ?? '';
  const said = [whole === 0 && part !== '' ? '' : `${whole}`, part].filter((each) => each !== '').join(' ');
  return `${said} division${quarters > 4 ? 's' : ''}`;
}

/** How far a hand turns the infeed wheel for a step, in degrees. */
export function turnWords({ machine }: Job, step: number): string {
  const { dials } = machine;
  return dials === undefined || dials.readout !== undefined
    ? ''
    : `${trimmed((360 * step) / dials.infeed.turn, 1)} deg of the wheel`;
}
