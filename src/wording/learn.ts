/** What a log proposes, in words, and as lines to copy into the job or the shop file. */
import type { Learnt, Proposal } from '../measure/learn.js';
import { trimmed } from '../quantity/decimal.js';
import type { Say } from '../quantity/say.js';
import { mm } from '../quantity/unit.js';

interface OfLog {
  readonly title: string;
  readonly log: string;
  readonly unread: number;
}

const values: { readonly [Key in Proposal['key']]: (value: number, say: Say) => string } = {
  'wheel.grindingRatio': (value) => trimmed(value, 1),
  'spreads.touchOff': (value, say) => say.length(mm(value)),
  'spreads.temperature': (value) => trimmed(value, 0),
};

const count = (runs: number): string => `${runs} run${runs === 1 ? '' : 's'}`;

/** `wheel: { grindingRatio: 5.2 }    # from 4 runs`. */
function line({ key, value, from }: Proposal, say: Say): string {
  const [part, name] = key.split('.');
  return `  ${`${part}: { ${name}: ${values[key](value, say)} }`.padEnd(36)}  # from ${count(from)}\n`;
}

export function learntText(
  { proposals, bias, runs }: Learnt,
  { title, log, unread }: OfLog,
  say: Say,
): string {
  const cut = unread === 0 ? '' : `, ${unread} line${unread === 1 ? '' : 's'} of it cut short and left out`;
  const head = `${title}: ${count(runs)} in ${log}${cut}\n`;
  const told =
    proposals.length === 0
      ? '\nThey tell nothing yet: a touch-off wants three runs read after roughing, wear a drift over the pairs.\n'
      : `\nFor the job, or for every job in shop.yaml:\n${proposals.map((each) => line(each, say)).join('')}`;
  const side =
    bias === 'none'
      ? ''
      : `\nThe touch-off comes out ${say.length(mm(Math.abs(bias)))} ${bias > 0 ? 'high' : 'low'} on the mean, and not by chance: ${
          bias > 0 ? 'the rim stands off what the display says' : 'the wheel goes past the first spark'
        }; feel the touch anew, and look at wear and run-out of the blank.\n`;
  return `${head}${told}${side}\nNothing is changed: copy what you trust.\n`;
}
