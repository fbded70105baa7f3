/** What a hand sets to bring a flat up, in words. */
import type { Setting } from '../job/indexing.js';
import { type LayoutName, wheelAbove } from '../job/layout.js';
import { degFromRad } from '../quantity/angle.js';
import { trimmed } from '../quantity/decimal.js';

/** `side 2 up`, on a lathe `side 2 to the wheel`; `60 deg`, `6 turns + 14 holes on 21`; empty for a rotary axis. */
export function settingWords(setting: Setting, layout: LayoutName): string {
  switch (setting.kind) {
    case 'axis':
      return '';
    case 'block side':
      return `side ${setting.side} ${wheelAbove(layout) ? 'up' : 'to the wheel'}`;
    case 'degrees':
      return `${trimmed(degFromRad(setting.angle), 3)} deg`;
    case 'tooth':
      return `tooth ${setting.tooth} at the detent`;
    case 'crank':
      if (setting.turns === 0 && setting.holes === 0) return 'the crank stays';
      return setting.holes === 0
        ? `${setting.turns} turns`
        : `${setting.turns} turns + ${setting.holes} holes on ${setting.circle}`;
  }
}
