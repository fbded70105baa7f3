/** In which order the flats are ground and where hands act on the way, in one line for plan and sheet. */
import type { DressingStop, Job } from '../job/job.js';
import { sayIn } from '../quantity/say.js';
import type { LengthUnit } from '../quantity/unit.js';

function dressedWords(stop: DressingStop, units: LengthUnit): string {
  if (stop === 'none') return '';
  if (stop === 'before finishing') return ', dressed before finishing';
  if ('flats' in stop)
    return stop.flats === 1 ? ', dressed after each flat' : `, dressed after every ${stop.flats} flats`;
  return `, dressed after every ${sayIn(units).volume(stop.volume)}`;
}

/** `rough first, finished in reverse, measured after roughing, dressed before finishing`. */
export function orderWords({ grinding, units }: Job): string {
  const { order, finishSequence, measuringStop, dressingStop } = grinding;
  return [
    order,
    finishSequence === 'reversed' ? ', finished in reverse' : '',
    measuringStop === 'none' ? '' : `, measured ${measuringStop}`,
    dressedWords(dressingStop, units),
  ].join('');
}
