/**
 * The cautions before anything turns, by what the job grinds, with which wheel, how cooled and on which machine: a caution
 * that does not fit is read over, and the next with it. Common practice, no source.
 */
import { holdsCobalt, mayNotRing } from '../../job/hazard.js';
import { isLathe } from '../../job/layout.js';
import type { Plan } from '../../plan/plan.js';
import { type Part, part } from '../model.js';

const WHEEL = {
  rings:
    'Compare the speed marked on the wheel with the spindle. Ring-test the wheel, then mount it, then the guard, then let it run free for a minute with nobody beside it.',
  metal:
    'Compare the speed marked on the wheel with the spindle. Ring-test the wheel if its body rings, look over rim and bond for cracks if it does not; mount it, then the guard, then let it run free for a minute with nobody beside it.',
} as const;

const DUST = {
  cobaltDry:
    'The dust of this blank holds cobalt, which harms lungs for good: grind wet, and draw off besides; wear a mask made for it. Cover the ways, clean up damp.',
  cobaltWet:
    'The mist of this blank holds cobalt, which harms lungs for good: draw it off, keep skin out of the coolant, change it as its maker says. Cover the ways, clean up damp.',
  dry: 'Draw off the dust or wet it, wear a mask, cover the ways, clean up after; sparks set fire to oily rags.',
  wet: 'Draw off the mist, cover the ways, keep water from motors and clamps; the wheel spins dry before it stops.',
} as const;

export function cautionPart({ job }: Plan): Part {
  const { grinding, holding, machine } = job;
  const wet = grinding.coolant !== 'none';
  return part('caution', 'Before anything turns', {
    notes: [
      'A grinding wheel can burst and a spindle takes fingers. The marking of the wheel maker, local rules and qualified practice come before this page.',
      mayNotRing(job) ? WHEEL.metal : WHEEL.rings,
      'Guard on, eyes protected, stand clear at spin-up. No gloves, no loose sleeves near the spindle.',
      `Hands go in only when the spindle is stopped and has coasted down, and you see it stand.${holding.index === 'rotary axis' ? ' The rotary axis turns by itself.' : ''}${machine.dials === undefined && machine.spindle.switched === 'by hand' ? ' The switch is yours: the program cannot stop this spindle.' : ''}`,
      DUST[holdsCobalt(job) ? (wet ? 'cobaltWet' : 'cobaltDry') : wet ? 'wet' : 'dry'],
      machine.dials !== undefined
        ? 'Hands on the hand wheels and nowhere near the rim. Once the dials are set go through a whole stroke with the wheel at rest, backed off, before it is started.'
        : `Once the zero is set run the program in the air first, the wheel well ${isLathe(machine.layout) ? 'away from' : 'above'} the work and a finger on the stop; how far, passes and time say.`,
    ],
  });
}
