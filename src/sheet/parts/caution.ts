/** Part 9: the usual cautions for grinding on a mill, in plain words. Common practice, no source. */
import { type Part, part } from '../model.js';

/** The same on every sheet. */
export const cautionPart = (): Part =>
  part('caution', 'Before anything turns', {
    notes: [
      'A grinding wheel can burst and a spindle takes fingers. The marking of the wheel maker, local rules and qualified practice come before this page.',
      'Compare the speed marked on the wheel with the spindle. Ring-test the wheel, then mount it, then the guard, then let it run free for a minute with nobody beside it.',
      'Guard on, eyes protected, stand clear at spin-up. No gloves, no loose sleeves near the spindle.',
      'Hands go in only when the spindle is stopped and has coasted down, and you see it stand.',
      'Draw off or wet the dust, wear a mask, cover the ways, clean up after.',
      'Run the program in the air first, the wheel well above the work and a finger on the stop.',
    ],
  });
