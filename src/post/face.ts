/** The program that grinds a punch's face square, from a face plan: strokes over it, infeeds beside it. */
import { headWords } from '../job/heads.js';
import { layoutOf } from '../job/job.js';
import type { LinearAxis } from '../job/layout.js';
import type { FacePlan } from '../plan/face.js';
import type { Plan } from '../plan/plan.js';
import { BEFORE_MOVING } from '../plan/wait.js';
import type { Mm } from '../quantity/unit.js';
import { cautions, SWITCH_ON, startChecks } from './caution.js';
import { block, comment, type Line, plainText } from './comment.js';
import { lengthText } from './header.js';
import { modes, startWheel, stopWheel, switchOff } from './motion.js';
import { type Program, programText } from './program.js';
import { dwellWords, feedWord, lengthWord } from './word.js';

/** @param plan of the job, for its dialect and the top of its travel. */
export function postFace(plan: Plan, face: FacePlan): Program {
  const { job, levels, start, end, clear, top } = face;
  const { along, across, up } = layoutOf(job);
  const length = lengthText(job);
  const word = (axis: LinearAxis, value: Mm): string => lengthWord(job, axis, value);
  const at = (value: Mm): string => word(along.axis, (along.sign * value) as Mm);
  const level = (value: Mm): string => word(up.axis, (up.sign * value) as Mm);
  const { machineTop } = plan.positions;
  const rise =
    machineTop === 'none' ? block('G0', level(top)) : block('G53', 'G0', word(up.axis, machineTop as Mm));
  const over = block('G0', at(start), ...(across === 'none' ? [] : [word(across.axis, 0 as Mm)]));
  const ownSwitch = job.machine.spindle.switched === 'by hand';
  const { strokeSpeed } = job.grinding;
  const stroke = levels.flatMap((height, i): readonly Line[] => [
    block('G1', level(height), ...(i === 0 ? [feedWord(job.machine, strokeSpeed)] : [])),
    block('G1', at(end)),
    block('G1', at(start)),
  ]);
  const lines = [
    ...[
      headWords('job', plainText(job.title)),
      headWords(
        'face',
        `${length(face.cut)} OFF, PUNCH UPRIGHT IN ITS BLOCK OR COLLET, TOOL ALONG +${up.axis}`,
      ),
      `WORK ZERO ${job.machine.program.workOffset}: CENTRE OF THE FACE, ${up.axis} 0 AT THE FIRST SPARK ON IT`,
      `WHEEL: ${job.wheel.shape} ${length(job.wheel.diameter)}, RATED ${Math.floor(job.wheel.ratedSpeed)} REV/MIN`,
      `SQUARE: INDICATE THE SHANK UPRIGHT BOTH WAYS; OUT OF ITS HOLDING BY MORE THAN ${length(clear)}`,
      'DRESS BEFORE THE FIRST SPARK; AFTERWARDS STONE THE BURR OFF, NEVER THE EDGE',
    ].map((text) => comment(text.toUpperCase())),
    ...[...cautions(job), ...startChecks(job, 'face')].map(comment),
    ...modes(job),
    block(...dwellWords(job.machine, BEFORE_MOVING)),
    rise,
    over,
    ...(ownSwitch ? [comment(SWITCH_ON), block('M0'), ...modes(job), rise, over] : []),
    ...startWheel(job),
    block('G0', level(clear)),
    ...stroke,
    block('G0', level(top)),
    ...stopWheel(job, 'the end'),
    ...switchOff(job),
    block(job.machine.program.end),
  ];
  return { suffix: '', text: programText(plan, lines, 0) };
}
