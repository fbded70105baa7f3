/** Part 4: the wheel, its speeds, what it loses and what it asks of the machine. Dressing is common practice, no source. */

import { mayNotRing } from '../../job/hazard.js';
import type { Plan } from '../../plan/plan.js';
import { greatest } from '../../plan/totals.js';
import { handsIn } from '../../plan/wait.js';
import { fixed } from '../../quantity/decimal.js';
import { toMm } from '../../quantity/length.js';
import { sayIn } from '../../quantity/say.js';
import { M_PER_S_PER_SFPM } from '../../quantity/speed.js';
import { mm } from '../../quantity/unit.js';
import { wearWords } from '../../wording/wear.js';
import { big, checked, type Fact, fact, type Part, part } from '../model.js';

/** The greatest loads are those of any stroke, rough or finish. */
export function wheelPart(plan: Plan): Part {
  const { job, surface, loads } = plan;
  const say = sayIn(job.units);
  const { wheel, grinding } = job;
  const [loss, handled] = wearWords(plan);
  const rough = greatest([loads.rough, loads.finish].filter((load) => load !== 'none'));
  return part('wheel', 'Wheel and speeds', {
    facts: [
      fact(
        'Wheel',
        `${wheel.shape} ${say.length(wheel.diameter)}, rim ${say.length(wheel.rim)}, ${say.length(wheel.height)} high, ${wheel.abrasive}`,
      ),
      ...markingFacts(plan),
      checked(big('Marked', say.speed(wheel.ratedSpeed)), 'as read'),
      big('Run at', say.speed(grinding.spindleSpeed)),
      fact('At the rim', `${fixed(surface, 1)} m/s, ${Math.round(surface / M_PER_S_PER_SFPM)} ft/min`),
      fact('Stroke speed', `${say.feed(grinding.strokeSpeed)}, out at ${say.feed(grinding.returnSpeed)}`),
      checked(
        fact(
          'Coast-down',
          `${say.time(handsIn(job))} from wheel off to your hands: time both once; a wheel that turns longer or a shorter wait means do not go on`,
        ),
        'as timed',
      ),
      ...leanFacts(plan),
      fact('Coolant', grinding.coolant === 'none' ? 'dry' : grinding.coolant),
      fact('Rim wears', `${loss}; ${handled}`),
      ...(rough === 'none'
        ? []
        : [
            fact(
              'Load, at most',
              `${say.removal(rough.removalRate)}, ${Math.ceil(rough.power)} W, ${say.force(rough.force)} at the rim, blank gives ${say.fine(rough.bending)}`,
            ),
          ]),
    ],
    notes: [
      ...(grinding.wear === 'compensate'
        ? [
            `The program lowers its passes by the wear predicted: touch off anew before every run, and ${plan.steps.some(({ kind }) => kind === 'stop') ? 'but for its stops never' : 'never'} within one. Does the wheel need dressing meanwhile, then stop, dress, touch off and begin the program again.`,
          ]
        : []),
      `${mayNotRing(job) ? 'True it with a silicon carbide wheel or block and open it with a stick of alumina, never a single-point diamond' : 'Dress with a single-point diamond'}; first before touching off, then when it glazes, loads, burns or sings, and set the rim anew.${wheel.periphery > 0 ? '' : ' Arcs that cross on a flat mean a spindle out of tram: stop and tram it.'}`,
    ],
  });
}

/** What is printed on the wheel, and what is usual for this blank. */
function markingFacts({ job }: Plan): readonly Fact[] {
  const { usual } = job.figures;
  const { marking } = job.wheel;
  const dry = job.grinding.coolant === 'none';
  const [softest, hardest] = usual === 'none' ? [] : dry ? usual.dry : usual.wet;
  return [
    ...(marking === 'none'
      ? []
      : [
          fact(
            'Printed on it',
            [marking.text, ...(marking.bond === 'none' ? [] : [marking.bond])].join(', '),
          ),
        ]),
    ...(usual === 'none'
      ? []
      : [
          fact(
            'Usual for this blank',
            `${job.figures.abrasive}, grit ${usual.grit[0]} to ${usual.grit[1]}, grade ${softest} to ${hardest} ${dry ? 'dry' : 'wet'}, vitrified`,
          ),
        ]),
  ];
}

/** What an indicator swings on to prove a lean. */
const SWING = { mm: 100, inch: 4 } as const;

/**
 * A leaned spindle grinds with its edge alone and leaves flats hollow by (Rw - sqrt(Rw^2 - b^2)) tan k, b the half-width;
 * the rim's inner edge stands a heel of b sin k higher. Source: geometry; the edge that touches stays where it is.
 */
function leanFacts({ job, flats }: Plan): readonly Fact[] {
  const { lean } = job.holding;
  if (lean === 0) return [];
  const say = sayIn(job.units);
  const { radius, rim } = job.wheel;
  const widest = Math.max(0, ...flats.map(({ halfWidth }) => halfWidth));
  const hollow = mm((radius - Math.sqrt(radius ** 2 - widest ** 2)) * Math.tan(lean));
  const swing = toMm(SWING[job.units], job.units);
  return [
    fact(
      'Lean',
      `${say.angle(lean)} beyond the slope, shank side low: an indicator swung along the tool axis on ${say.length(swing)} reads ${say.length(mm(swing * Math.tan(lean)))} apart; flats come out hollow by ${say.fine(hollow)}, the heel clears by ${say.length(mm(rim * Math.sin(lean)))}`,
    ),
  ];
}
