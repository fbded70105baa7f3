/** Part 4: the wheel, its speeds, what it loses and what it asks of the machine. Dressing is common practice, no source. */

import type { Plan } from '../../plan/plan.js';
import { greatest } from '../../plan/totals.js';
import { fixed } from '../../quantity/decimal.js';
import { sayIn } from '../../quantity/say.js';
import { M_PER_S_PER_SFPM } from '../../quantity/speed.js';
import { seconds } from '../../quantity/unit.js';
import { wearWords } from '../../wording/wear.js';
import { big, fact, type Part, part } from '../model.js';

/** The greatest loads are those of any stroke, rough or finish. */
export function wheelPart(plan: Plan): Part {
  const { job, surface, loads } = plan;
  const say = sayIn(job.units);
  const { wheel, grinding } = job;
  const { spindle } = job.machine;
  const [loss, handled] = wearWords(plan);
  const rough = greatest([loads.rough, loads.finish].filter((load) => load !== 'none'));
  return part('wheel', 'Wheel and speeds', {
    facts: [
      fact(
        'Wheel',
        `${wheel.shape} ${say.length(wheel.diameter)}, rim ${say.length(wheel.rim)}, ${say.length(wheel.height)} high, ${wheel.abrasive}`,
      ),
      big('Marked', say.speed(wheel.ratedSpeed)),
      big('Run at', say.speed(grinding.spindleSpeed)),
      fact('At the rim', `${fixed(surface, 1)} m/s, ${Math.round(surface / M_PER_S_PER_SFPM)} ft/min`),
      fact('Stroke speed', say.feed(grinding.strokeSpeed)),
      fact(
        'Coast-down',
        `${say.time(seconds(spindle.coastDown + job.holding.handsOff))} from wheel off to your hands: time both once; a wheel that turns longer or a shorter wait means do not go on`,
      ),
      fact('Coolant', grinding.coolant === 'none' ? 'dry' : grinding.coolant),
      fact('Rim wears', `${loss}; ${handled}`),
      ...(rough === 'none'
        ? []
        : [
            fact(
              'Load, at most',
              `${say.removal(rough.removalRate)}, ${Math.ceil(rough.power)} W, ${fixed(rough.force, 1)} N at the rim, blank gives ${say.fine(rough.bending)}`,
            ),
          ]),
    ],
    notes: [
      ...(grinding.wear === 'compensate'
        ? [
            `The program lowers its passes by the wear predicted: touch off anew before every run, and ${grinding.measuringStop === 'none' ? 'never' : 'but for the measuring stop never'} dress or touch off within one.`,
          ]
        : []),
      'Dress first, before touching off; then whenever it glazes, loads, burns or sings, and set the rim anew. Arcs that cross on a flat mean a spindle out of tram: stop and tram it.',
    ],
  });
}
