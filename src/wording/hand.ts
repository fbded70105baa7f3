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

export interface HandWords {
  /** The wheel or screw that brings the rim nearer. */
  readonly infeed: string;
  /** What carries the stroke. */
  readonly stroke: string;
  /** Which way the infeed goes toward the work. */
  readonly nearer: string;
  readonly locks: readonly string[];
}

const WORDS: Readonly<
  Record<MachineKind, (axes: { readonly along: string; readonly up: string }) => HandWords>
> = {
  mill: ({ along, up }) => ({
    infeed: `${up} wheel`,
    stroke: `${along} wheel`,
    nearer: 'down',
    locks: [
      'Lock the quill, and every slide that does not move: feed with knee or head, never with the quill. Snug gibs.',
    ],
  }),
  'lathe, wheel in the spindle': ({ along, up }) => ({
    infeed: `top slide (${up})`,
    stroke: `cross slide (${along})`,
    nearer: 'toward the headstock',
    locks: [
      'Lock the carriage to the bed; snug the gibs of top slide and cross slide, the top slide most: it holds the size.',
    ],
  }),
  'lathe, punch in the spindle': ({ up }) => ({
    infeed: `cross slide (${up})`,
    stroke: 'top slide',
    nearer: 'toward the work',
    locks: [
      'Lock the spindle out, out of gear and its plug drawn: it holds the punch. Lock the carriage; snug the gibs.',
      'Cover bed, chuck and lead screw; keep the grit out of the headstock.',
    ],
  }),
  'surface grinder': ({ along, up }) => ({
    infeed: `${up} wheel`,
    stroke: `table (${along})`,
    nearer: 'down',
    locks: [
      'Lock the cross slide: the wheel covers the flat in one stroke. Grind with the periphery only, never with its side.',
      'Chuck, vise or block held so that it cannot slide along the stroke; magnet on before the wheel starts, and tried by hand.',
    ],
  }),
  'bench grinder with a rail': () => ({
    infeed: 'rail screw',
    stroke: 'block along the rail',
    nearer: 'toward the wheel',
    locks: [
      'Grind on the face of a cup wheel only: the side of a straight wheel breaks. The guard stays on, whatever it hides.',
      // OSHA 29 CFR 1910.215(a)(4): 1/8 inch.
      'A work rest stands within 3 mm (1/8 in) of the wheel, and is never set while it turns.',
      'Push the block with both hands behind it, pressed to the rail; never reach past the stop.',
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
  fixed(fromMm(length as Parameters<typeof fromMm>[0], job.machine.units), decimalsOf(job));

/** `0.44 mm (1 whole turn back)`: what stands at the mark, and how many whole turns are still to go. */
export function dialWords(job: Job, { shows, turns }: DialReading): string {
  const at = `${marked(job, shows)} ${job.machine.units === 'inch' ? 'in' : 'mm'}`;
  if (turns === 0) return at;
  const whole = Math.abs(turns);
  return `${at} (${whole} whole turn${whole === 1 ? '' : 's'} ${turns > 0 ? 'back' : 'on'})`;
}

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
  return dials === undefined ? '' : `${trimmed((360 * step) / dials.infeed.turn, 1)} deg of the wheel`;
}
