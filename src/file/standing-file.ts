/**
 * How a punch stands, as a file: what a check says a program leaves, and what the next plan, program or check goes on
 * from. Heights of the rim over the tool axis and how far toward the shank it ran, mm in the wheel frame of the job.
 */
import * as z from 'zod';
import type { Job } from '../job/job.js';
import type { Floor, Standing } from '../job/standing.js';
import { degFromRad, radFromDeg, withinTurnDeg } from '../quantity/angle.js';
import { trimmed } from '../quantity/decimal.js';
import { SAME_INDEX } from '../quantity/tolerance.js';
import { mm } from '../quantity/unit.js';
import { between } from '../section/flat.js';
import { InputError } from './problem.js';
import type { TextFile } from './text-file.js';
import { validate } from './validate.js';
import { pathOf, readYaml } from './yaml-source.js';

const schema = z.strictObject({
  job: z.string().min(1).describe('title of the job it is a punch of'),
  relief: z.number().positive().describe('slope it was ground at, degrees'),
  flats: z.array(
    z.strictObject({
      at: z.number().min(0).lt(360).describe('direction, degrees'),
      higher: z.number().min(0).max(1).describe('it may stand as much higher, mm'),
      floors: z
        .array(z.tuple([z.number(), z.number()]))
        .min(1)
        .describe('stairs toward the shank, farthest first: how far, how high, mm'),
    }),
  ),
});

/** Two slopes this near are one, degrees. */
const SAME_SLOPE = 1e-6;

/**
 * Reads how the punch of `job` stands.
 * @throws InputError if it is damaged, or of another job.
 */
export function readStandingFile(file: TextFile, job: Job): Standing {
  const source = readYaml(file.text, file.file);
  const { job: title, relief, flats } = validate(source, schema);
  const complain = (key: string, message: string): never => {
    throw new InputError([{ file: file.file, ...source.locate(pathOf(key)), key, message }]);
  };
  if (title !== job.title)
    complain('job', `is "${title}", and the job is "${job.title}"; take the file of that punch`);
  if (Math.abs(relief - degFromRad(job.punch.relief)) > SAME_SLOPE)
    complain(
      'relief',
      `is ${trimmed(relief, 3)} deg, the job has ${trimmed(degFromRad(job.punch.relief), 3)} deg; its planes would not be level`,
    );
  flats.forEach(({ at, floors }, i) => {
    if (flats.some((other, k) => k < i && between(radFromDeg(other.at), radFromDeg(at)) <= SAME_INDEX))
      complain(`flats.${i}.at`, 'names a direction twice; keep one of them');
    const stairs = floors.every(([reach, w], k) => {
      const before = floors[k - 1];
      return before === undefined || (reach > before[0] && w < before[1]);
    });
    if (!stairs)
      complain(`flats.${i}.floors`, 'must be stairs: each nearer to the tip and lower than the one before');
  });
  return flats.map(({ at, higher, floors }) => ({
    at: radFromDeg(at),
    higher: mm(higher),
    floors: floors.map(([reach, w]) => ({ reach, w })),
  }));
}

/** More decimals are noise of floating-point numbers: a picometre, and far less than any axis turns. */
const DECIMALS = 9;
const written = (value: number): string => trimmed(value, DECIMALS);

/** Stairs as they are written: two that are one to the last decimal are one, the farther and the lower of both. */
const stairsText = (floors: readonly Floor[]): string =>
  floors
    .map(({ reach, w }) => [written(reach), written(w)] as const)
    .filter(([, w], i, all) => w !== all[i - 1]?.[1])
    .filter(([reach], i, all) => reach !== all[i + 1]?.[0])
    .map(([reach, w]) => `[${reach}, ${w}]`)
    .join(', ');

/** The text of such a file. */
export function standingText(job: Job, standing: Standing): string {
  const flats = standing.map(
    ({ at, higher, floors }) =>
      `  - at: ${written(withinTurnDeg(Number(written(degFromRad(at)))))}\n    higher: ${written(higher)}\n    floors: [${stairsText(floors)}]\n`,
  );
  return `# How the punch stands. Measure it before you trust this: it is what a dry run says, not what metal is.
job: ${JSON.stringify(job.title)}
relief: ${written(degFromRad(job.punch.relief))}
flats:${flats.length === 0 ? ' []' : `\n${flats.join('').trimEnd()}`}
`;
}
