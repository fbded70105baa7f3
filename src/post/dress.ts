/** The program that dresses the wheel on a diamond at a known place, and says by how much the offset falls after it. */
import { headWords } from '../job/heads.js';
import { layoutOf } from '../job/job.js';
import type { DressPlan } from '../plan/dress.js';
import type { Plan } from '../plan/plan.js';
import { indexPlace } from '../plan/position.js';
import { BEFORE_MOVING } from '../plan/wait.js';
import { fixed } from '../quantity/decimal.js';
import { fromMm } from '../quantity/length.js';
import { mm } from '../quantity/unit.js';
import type { WheelPoint } from '../wheel/frame.js';
import { cautions, startChecks } from './caution.js';
import { block, comment, type Line, plainText } from './comment.js';
import { lengthText } from './header.js';
import { startUp } from './index-step.js';
import { axisByAxis, feedTo, goClear, goToHands, modes, stopWheel, switchOff } from './motion.js';
import { type Program, programText } from './program.js';
import { axisWords, dwellWords } from './word.js';

/** @param plan of the job, for its places and dialect. */
export function postDress(plan: Plan, dress: DressPlan): Program {
  const { job, positions } = plan;
  const { levels, point, outside, inside, depth, passes, feed } = dress;
  const axis = layoutOf(job).up.axis.toUpperCase();
  const length = lengthText(job);
  const { units, program } = job.machine;
  // To the last digit of the offset: it is typed.
  const total = `${fixed(fromMm(mm(passes * depth), units), program.decimals)} ${units === 'inch' ? 'IN' : 'MM'}`;
  const index = indexPlace(positions);
  const rapids = (from: WheelPoint, to: WheelPoint): readonly Line[] =>
    axisByAxis(job, from, to, (word) => block('G0', word));
  const above: WheelPoint = { u: outside, v: point.v, w: index.w };
  const near: WheelPoint = { ...above, w: point.w + job.grinding.clearance };
  let at: WheelPoint = near;
  const strokes = levels.flatMap((w, i): readonly Line[] => {
    const begin = { u: outside, v: point.v, w };
    const turn = { ...begin, u: inside };
    const lines = [
      ...feedTo(job, at, begin, i === 0 ? feed : 'as said'),
      ...feedTo(job, begin, turn, 'as said'),
      ...feedTo(job, turn, begin, 'as said'),
    ];
    at = begin;
    return lines;
  });
  const typed = `THEN LOWER THE ZERO ONCE: ADD -${total} TO ${axis} OF ${job.machine.program.workOffset}; THE RIM RUNS AT THE POINT NOW, TOUCH NOTHING OFF`;
  const heard =
    'NO CUT HEARD ALL ROUND ON THE LAST PASS: MORE PASSES, AND ADD NOTHING; A POINT SET BY AN OLD ZERO IS NO POINT';
  const lines = [
    ...[
      headWords('job', plainText(job.title)),
      headWords('rim', `${total} OFF THE RIM IN ${passes} PASSES, ONE MORE WITHOUT INFEED`),
      `DIAMOND: POINT AT ${Object.values(axisWords(job, point)).join(' ')}, LEANED 10 TO 15 DEG, TRAILING`,
      `WHEEL: ${job.wheel.shape} ${length(job.wheel.diameter)}, RATED ${Math.floor(job.wheel.ratedSpeed)} REV/MIN`,
      typed,
      heard,
    ].map((text) => comment(text.toUpperCase())),
    ...[...cautions(job), ...startChecks(job, 'rim')].map(comment),
    ...modes(job),
    block(...dwellWords(job.machine, BEFORE_MOVING)),
    ...goClear(job, positions),
    ...startUp(job, positions),
    ...rapids(index, above),
    ...rapids(above, near),
    ...strokes,
    ...rapids(at, above),
    ...rapids(above, index),
    ...goToHands(job, positions),
    ...stopWheel(job, 'the end'),
    ...switchOff(job),
    comment(typed),
    block(job.machine.program.end),
  ];
  return { suffix: '', text: programText(plan, lines, 0) };
}
