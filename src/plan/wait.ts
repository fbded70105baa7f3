/** Waits a program makes around its stops; common practice, no source. */
import type { Job } from '../job/job.js';
import { type Seconds, seconds } from '../quantity/unit.js';

/** Between a cycle start and the first move: a start by mistake leaves this long to pull a hand out. */
export const BEFORE_MOVING: Seconds = seconds(3);
/** A wet wheel spins dry between coolant off and spindle off: stopped wet it is out of balance at the next start. */
export const SPIN_DRY: Seconds = seconds(15);
export const SPIN_DRY_AT_END: Seconds = seconds(60);
/** Program stops at one index where the spindle has its own switch: off, index, on. */
export const SWITCH_STOPS = 3;

/** From the wheel switched off until a hand may go in. */
export const handsIn = ({ machine, holding }: Pick<Job, 'machine' | 'holding'>): Seconds =>
  seconds(machine.spindle.coastDown + holding.handsOff);

/** Whether the wheel is started only after the index that follows a measuring stop: the axis turns with it at rest. */
export const restsUntilIndexed = ({ machine, holding }: Job): boolean =>
  holding.index === 'rotary axis' &&
  machine.rotary?.mayTurnWithSpindle === false &&
  machine.spindle.switched === 'by program';
