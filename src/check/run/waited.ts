/** How long the wheel has been waited for: a start from rest, a stop, and a faster speed each begin a wait. */
import type { ModalState } from '../read/state.js';
import type { WheelStands } from './standing.js';

export const AT_REST: WheelStands = { waited: 0, speed: 0, running: false, everStarted: false };

/** A faster wheel must come up to speed anew; the same speed said again changes nothing. */
export function afterSpeed(wheel: WheelStands, { speed, spindle }: ModalState): WheelStands {
  if (speed === 'unsaid') return wheel;
  const faster = spindle !== 'off' && speed > wheel.speed;
  return { ...wheel, speed, waited: faster ? 0 : wheel.waited };
}

/** A start from rest, or a stop, begins a wait. */
export function afterSpindle(wheel: WheelStands, { spindle, speed }: ModalState): WheelStands {
  const running = spindle !== 'off';
  return {
    running,
    speed: speed === 'unsaid' ? wheel.speed : speed,
    waited: running === wheel.running ? wheel.waited : 0,
    everStarted: wheel.everStarted || running,
  };
}

export const afterDwell = (wheel: WheelStands, seconds: number): WheelStands => ({
  ...wheel,
  waited: wheel.waited + seconds,
});
