/** Part 2: punch, wheel and nose in the plane of the slope, and what stays clear. */
import { layoutOf, onMachine } from '../../job/job.js';
import { isLathe, punchTurns } from '../../job/layout.js';
import { ZERO } from '../../job/set-up.js';
import type { Plan } from '../../plan/plan.js';
import { indexPlace } from '../../plan/position.js';
import { sayIn } from '../../quantity/say.js';
import { mm } from '../../quantity/unit.js';
import { blankSupport } from '../../section/blank.js';
import { noseCorner } from '../../wheel/frame.js';
import { runOutBehind } from '../../wheel/periphery.js';
import { big, checked, type Fact, fact, type Part, part } from '../model.js';

/** How far a plain wheel runs out behind the flats, which leaves the shank hollow. */
export function runOutFacts({ job, flats }: Plan): readonly Fact[] {
  const { periphery } = job.wheel;
  const [flat] = flats;
  if (periphery === 0 || flat === undefined) return [];
  const say = sayIn(job.units);
  const behind = runOutBehind(
    periphery,
    blankSupport(job.blank, flat.at),
    flat.reach,
    flat.w,
    job.punch.relief,
  );
  return [
    fact(
      'Behind the flats',
      `the wheel runs out over ${say.length(behind)} and leaves the shank hollow; the punch is not weaker for it, but longer`,
    ),
  ];
}

/** What the side drawing goes with. */
export function sidePart(plan: Plan): Part {
  const { job, flats, positions } = plan;
  const say = sayIn(job.units);
  const deepest = flats.toSorted((a, b) => a.reach - b.reach)[0];
  const nose = noseCorner(job.blank.stickOut, job.holding.nose.halfHeight, job.punch.relief);
  const { along, up } = layoutOf(job);
  const there = sayIn(job.machine.units);
  const indexing = onMachine(job, indexPlace(positions));
  return part('side', 'In the plane of the slope', {
    picture: 'side',
    facts: [
      fact('Machine', job.machineName),
      fact('Layout', job.machine.layout),
      checked(big('Stick-out', say.length(job.blank.stickOut)), 'as set'),
      fact('Work zero', `${ZERO} (${job.machine.program.workOffset})`),
      fact('Stroke and infeed', `${along.axis.toUpperCase()} and ${up.axis.toUpperCase()}`),
      ...runOutFacts(plan),
      ...(deepest === undefined || job.wheel.periphery > 0
        ? []
        : [fact('Rim to nose', `${say.length(mm(deepest.reach - nose.u))} along the stroke, at its end`)]),
      fact(
        'Indexing height',
        `${up.axis.toUpperCase()} ${there.length(mm(indexing[up.axis]))} from work zero`,
      ),
    ],
    notes: [
      plan.slope.by === 'head'
        ? punchTurns(job.machine.layout)
          ? 'The punch is chucked, the wheel spindle swivelled, its rear toward the chuck. Drawn with the wheel above.'
          : "The punch lies level; the spindle's top leans toward the shank."
        : isLathe(job.machine.layout)
          ? 'Seen from above the tip swings away from the wheel, in the plane of X and Z; the stroke runs along X.'
          : 'The tip points down, away from the wheel; the stroke is level.',
    ],
  });
}
