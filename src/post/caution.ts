/** The cautions every program carries, and the check list before a start. Common practice, no source. */
import { holdsCobalt, mayNotRing } from '../job/hazard.js';
import type { Job } from '../job/job.js';
import { isLathe, punchTurns } from '../job/layout.js';

export const cautions = (job: Job): readonly string[] => [
  'CAUTION: A GRINDING WHEEL CAN BURST, A SPINDLE TAKES FINGERS',
  mayNotRing(job)
    ? 'CAUTION: LOOK THE WHEEL OVER FOR CRACKS, NEVER EXCEED ITS MARKED SPEED'
    : 'CAUTION: RING-TEST THE WHEEL, NEVER EXCEED ITS MARKED SPEED',
  'CAUTION: GUARD ON, EYES PROTECTED, STAND CLEAR AT SPIN-UP',
  'CAUTION: HANDS IN ONLY WITH THE SPINDLE STOPPED AND COASTED DOWN',
  holdsCobalt(job)
    ? 'CAUTION: DUST AND MIST HOLD COBALT, DRAW OFF AND WET, COVER THE WAYS'
    : 'CAUTION: DRAW OFF OR WET THE DUST, COVER THE WAYS',
  'CAUTION: WHEEL MARKING, LOCAL RULES AND QUALIFIED PRACTICE FIRST',
];

const FIRST_CHECKS: Readonly<Record<'flats' | 'face' | 'rim', readonly string[]>> = {
  flats: [
    'START CHECK: SPINDLE AT REST, WHEEL RETRACTED ABOVE ALL, OR PAST THE TIP',
    'START CHECK: ZERO AND SLOPE SET, PUNCH CLAMPED, GUARD SHUT',
  ],
  face: [
    'START CHECK: SPINDLE AT REST, WHEEL RETRACTED ABOVE ALL',
    'START CHECK: ZERO SET ON THE FACE, PUNCH CLAMPED UPRIGHT, GUARD SHUT',
  ],
  rim: [
    'START CHECK: SPINDLE AT REST, WHEEL RETRACTED ABOVE ALL, OR PAST THE TIP',
    'START CHECK: ZERO AS THE DIAMOND WAS FOUND BY, DIAMOND TIGHT, GUARD SHUT',
  ],
};

/** What must be so before cycle start; where the control has no word for it, it must be set on the control. */
export const startChecks = (
  { machine, standing, holding }: Job,
  of: 'flats' | 'face' | 'rim' = 'flats',
): readonly string[] => [
  ...FIRST_CHECKS[of],
  ...(of === 'flats' && standing.length > 0
    ? ['START CHECK: FLATS READ AS SAID WITHIN A ROUGH INFEED, ELSE STOP']
    : []),
  machine.program.tool === undefined
    ? 'START CHECK: NO TOOL LENGTH WHEN ZERO WAS SET AND NOW, G49'
    : `START CHECK: ZERO SET WITH TOOL ${machine.program.tool} AND ITS LENGTH ACTIVE`,
  'START CHECK: NO SHIFT, ROTATION, SCALING, MIRROR: G92 G52 G68 G51',
  ...(isLathe(machine.layout) ? ['START CHECK: TOOL OFFSET THE ZERO WAS TAKEN WITH, X COUNTS AS THEN'] : []),
  ...(!punchTurns(machine.layout)
    ? []
    : holding.index === 'by hand'
      ? ['START CHECK: WORK SPINDLE LOCKED OUT, OUT OF GEAR, IT HOLDS THE PUNCH']
      : [`START CHECK: WORK SPINDLE AS ${machine.rotary?.axis ?? 'C'} AXIS ONLY, LOCKED OUT OF RUNNING`]),
  ...(machine.program.exactStop === 'none' ? ['START CHECK: EXACT STOP ON, NO CORNER CUT SHORT'] : []),
];

/**
 * Shown first at a stop where a hand goes in. An emergency stop would end the program on many controls, and with it in
 * nothing can be touched off: the spindle alone is kept from starting.
 */
export const HANDS_IN = 'HANDS IN ONLY WHEN THE WHEEL STANDS STILL AND CANNOT START';
/** Shown at the same stop, for the moment before cycle start. */
export const BEFORE_RESTART: readonly string[] = [
  'THEN: WHEEL BACK CLEAR, RETRACTED ABOVE ALL OR PAST THE TIP',
  'THEN: PUNCH CLAMPED, HANDS OUT, GUARD SHUT, STAND CLEAR',
];
/** For spindles that have their own switch. */
export const SWITCH_OFF = 'SWITCH THE WHEEL OFF, WAIT UNTIL IT STANDS';
export const SWITCH_ON = 'HANDS OUT, GUARD SHUT, SWITCH THE WHEEL ON, FULL SPEED FIRST';
