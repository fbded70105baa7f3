/** Quantities as a person reads them, in the units of the job. */
import { degFromRad } from './angle.js';
import { fixed, trimmed } from './decimal.js';
import { fromMm, toMm } from './length.js';
import type {
  JPerMm3,
  LengthUnit,
  Mm,
  Mm2PerS,
  Mm3,
  Mm3PerS,
  MmPerMin,
  Newton,
  NPerMm2,
  Rad,
  RevPerMin,
  Seconds,
} from './unit.js';
import { mm } from './unit.js';

export interface Say {
  /** `5.06 mm`, `0.1992 in`. */
  readonly length: (length: Mm) => string;
  /** `5.060`, for columns. */
  readonly column: (length: Mm) => string;
  /** `0.4 um`, `16 uin`: what no micrometer shows. */
  readonly fine: (length: Mm) => string;
  readonly unit: string;
  readonly angle: (angle: Rad) => string;
  /** `0.5 arcmin`: what no protractor shows. */
  readonly fineAngle: (angle: Rad) => string;
  readonly feed: (feed: MmPerMin) => string;
  readonly speed: (speed: RevPerMin) => string;
  readonly volume: (volume: Mm3) => string;
  readonly area: (area: number) => string;
  readonly removal: (rate: Mm3PerS) => string;
  /** On a millimetre of width. */
  readonly specific: (rate: Mm2PerS) => string;
  readonly energy: (energy: JPerMm3) => string;
  readonly force: (force: Newton) => string;
  /** `1.4 kN`, `310 lbf`: what a machine is asked to press, no better known than to two digits. */
  readonly thrust: (force: Newton) => string;
  /** `530 N/mm2`, `77 ksi`, to two digits. */
  readonly stress: (stress: NPerMm2) => string;
  readonly time: (time: Seconds) => string;
}

/** Source: 1 lbf = 4.4482216 N (NIST SP 811, B.8); 1 hp = 745.69987 W. */
export const LBF_PER_N = 1 / 4.4482216;
/** A kip on a square inch: 4448.2216 N on 25.4^2 mm2. */
const N_PER_MM2_KSI = 4448.2216 / 25.4 ** 2;
const HP_MIN_PER_IN3 = 25.4 ** 3 / (745.69987 * 60);

/** Decimals of a length as it is said. */
const DECIMALS = { mm: 3, inch: 5 } as const;

/** A limit that is a whole last digit is that digit. */
const NOISE = 1e-4;

/** A limit to the last digit it is said with, never past itself: the least up, the most down. */
export function limitSaid(limit: Mm, way: 'up' | 'down', units: LengthUnit): Mm {
  const scale = 10 ** DECIMALS[units];
  const digits = fromMm(limit, units) * scale;
  return toMm((way === 'up' ? Math.ceil(digits - NOISE) : Math.floor(digits + NOISE)) / scale, units);
}

/** How quantities read in a job of these units. */
export function sayIn(units: LengthUnit): Say {
  const [unit, decimals] = [units === 'inch' ? 'in' : 'mm', DECIMALS[units]];
  return {
    unit,
    length: (length) => `${trimmed(fromMm(length, units), decimals)} ${unit}`,
    fine: (length) =>
      units === 'inch' ? `${fixed((length / 25.4) * 1e6, 0)} uin` : `${fixed(length * 1000, 1)} um`,
    column: (length) => fixed(fromMm(length, units), decimals),
    fineAngle: (angle) => `${trimmed(degFromRad(angle) * 60, 2)} arcmin`,
    angle: (angle) => `${trimmed(degFromRad(angle), 3)} deg`,
    feed: (feed) => `${trimmed(fromMm(mm(feed), units), 2)} ${unit}/min`,
    // Rounded down: a rating must not read higher than it is.
    speed: (speed) => `${Math.floor(speed)} rev/min`,
    volume: (volume) =>
      units === 'inch' ? `${trimmed(volume / 25.4 ** 3, 4)} in3` : `${trimmed(volume, 1)} mm3`,
    area: (area) => (units === 'inch' ? `${trimmed(area / 25.4 ** 2, 4)} in2` : `${trimmed(area, 1)} mm2`),
    removal: (rate) =>
      units === 'inch' ? `${trimmed((rate * 60) / 25.4 ** 3, 5)} in3/min` : `${trimmed(rate, 3)} mm3/s`,
    specific: (rate) =>
      units === 'inch' ? `${trimmed((rate * 60) / 25.4 ** 2, 4)} in2/min` : `${trimmed(rate, 2)} mm2/s`,
    energy: (energy) =>
      units === 'inch' ? `${trimmed(energy * HP_MIN_PER_IN3, 1)} hp min/in3` : `${trimmed(energy, 0)} J/mm3`,
    force: (force) => (units === 'inch' ? `${fixed(force * LBF_PER_N, 2)} lbf` : `${fixed(force, 1)} N`),
    thrust: (force) =>
      units === 'inch'
        ? `${Number((force * LBF_PER_N).toPrecision(2))} lbf`
        : `${Number((force / 1000).toPrecision(2))} kN`,
    stress: (stress) =>
      units === 'inch'
        ? `${Number((stress / N_PER_MM2_KSI).toPrecision(2))} ksi`
        : `${Number(stress.toPrecision(2))} N/mm2`,
    time: sayTime,
  };
}

function sayTime(time: Seconds): string {
  if (time < 59.95) return `${trimmed(time, time < 1 ? 3 : 1)} s`;
  const whole = Math.round(time);
  const minutes = Math.floor(whole / 60);
  const hours = Math.floor(minutes / 60);
  return hours === 0 ? `${minutes} min ${whole % 60} s` : `${hours} h ${minutes % 60} min`;
}

/** `7/16 in` from sixteenths. */
export function inchText(sixteenths: number): string {
  const whole = Math.floor(sixteenths / 16);
  let [above, below] = [sixteenths % 16, 16];
  while (above > 0 && above % 2 === 0) [above, below] = [above / 2, below / 2];
  const fraction = above === 0 ? '' : `${above}/${below}`;
  return `${[whole === 0 ? '' : `${whole}`, fraction].filter((part) => part !== '').join(' ')} in`;
}
