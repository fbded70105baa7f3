/**
 * How warm the punch gets, roughly: a share of the grinding energy flows into the blank's ground end and along it to
 * the holding nose, which stays at room warmth; the side loses some to the air.
 *   W  = share x e V / time,      dT = W tanh(m S) / (k A m),   m = sqrt(2 h / (k R)),   A = pi R^2
 * e specific energy, V volume, S stick-out, R radius of a round as large as the blank, k conductivity, h loss to the air.
 * Source: straight fin with its root held, any text on heat transfer; share and h from memory: good to a factor of two.
 */
import type { Job } from '../job/job.js';
import { type Watt, watt } from '../quantity/unit.js';
import { passesIn, type Step } from './step.js';
import type { Totals } from './time.js';

export interface Heat {
  /** Into the blank on the mean, while it is roughed and while it is finished; 0 without such passes. */
  readonly rough: Warmth;
  readonly finish: Warmth;
}

export interface Warmth {
  readonly power: Watt;
  /** Of the ground end over the room, kelvin, once it has settled. */
  readonly over: number;
}

/** Share of the energy that flows into the blank, dry; from memory, 0.6 to 0.75. Coolant carries most of it away. */
const SHARE = { dry: 0.7, wet: 0.1 } as const;
/** Fine chips cost more: J/mm3 in finishing, from memory, 100 to 200. */
const FINISH_ENERGY = 100;
/** Loss to still air, W/(m2 K); from memory. */
const TO_AIR = 25;

/** Heat of the steps of a plan; it cools while others are brought up, and in its rests, as well. */
export function planHeat(
  job: Job,
  steps: readonly Step[],
  { grinding, resting, indexing }: Pick<Totals, 'grinding' | 'resting' | 'indexing'>,
): Heat {
  const passes = passesIn(steps);
  const time = (grinding + resting + indexing) / Math.max(1, passes.length);
  const { least, most } = job.figures.energy;
  const of = (rough: boolean, energy: number): Warmth => {
    const own = passes.filter(({ pass }) => (pass.kind === 'rough') === rough);
    const volume = own.reduce((sum, { pass }) => sum + pass.load.volume, 0);
    const share = SHARE[job.grinding.coolant === 'none' ? 'dry' : 'wet'];
    const power = own.length === 0 ? 0 : (share * energy * volume) / (time * own.length);
    return { power: watt(power), over: power * kelvinPerWatt(job) };
  };
  return { rough: of(true, (least + most) / 2), finish: of(false, FINISH_ENERGY) };
}

/** How many kelvin a watt into the ground end makes. */
function kelvinPerWatt({ blank, figures }: Job): number {
  const [radius, out] = [blank.size / 2000, blank.stickOut / 1000];
  const m = Math.sqrt((2 * TO_AIR) / (figures.conductivity * radius));
  return Math.tanh(m * out) / (figures.conductivity * Math.PI * radius ** 2 * m);
}
