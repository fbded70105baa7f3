/** Going on where a run was broken off: the options for it, and the job as it goes on from there. */
import { type Command, Option } from 'commander';
import { readStandingFile } from '../file/standing-file.js';
import type { Job } from '../job/job.js';
import { planJob } from '../plan/plan.js';
import { FROM_FILE, goOnFrom, onlyFlats, RestartError, readRestart, restartText } from '../plan/restart.js';
import { passesIn } from '../plan/step.js';
import { Leave, orLeave, UNUSABLE } from './exit.js';
import type { Io } from './io.js';
import { lengthOption } from './options.js';
import { textFile } from './shipped.js';

/** Why work does not go on from a place. */
const NO_PLACE = [RestartError];

export interface StandingOptions {
  readonly from?: string;
  readonly height?: string;
  readonly finishOnly?: true;
  readonly flats?: string;
  readonly standing?: string;
}

export const standingOption = (): Option =>
  new Option('--standing <file>', 'the punch stands as this file says, which check --left has written');

export const withStandingOptions = (command: Command): Command =>
  command
    .option('--from <place>', 'go on from here, all before it done: "flat 4", or "finish flat 4"')
    .option('--height <length>', 'with --from: that flat is ground down to this reading of the infeed axis')
    .option('--finish-only', 'go on where finishing begins, everything roughed')
    .option('--flats <numbers>', 'these flats alone, the others done: 4,5')
    .addOption(standingOption());

/** A job with the flats that stand, and what the head of its program says of it; `none` where it begins at the beginning. */
export interface GoesOn {
  readonly job: Job;
  readonly said: string | 'none';
  readonly inputs: readonly string[];
}

/** The job as the options say it goes on. @throws Leave, InputError */
export function goesOn(job: Job, options: StandingOptions, io: Io): GoesOn {
  const { from, height, finishOnly, flats, standing } = options;
  const given = [from, finishOnly, flats, standing].filter((option) => option !== undefined);
  if (given.length > 1)
    throw new Leave(
      UNUSABLE,
      'take one of --from, --finish-only, --flats and --standing; each says how the punch stands',
    );
  if (height !== undefined && from === undefined)
    throw new Leave(UNUSABLE, '--height goes with --from, such as --from "flat 4" --height 2.9');
  if (standing !== undefined) {
    const stands = readStandingFile(textFile(standing, io), job);
    return { job: { ...job, standing: stands }, said: FROM_FILE, inputs: [standing] };
  }
  const said =
    from !== undefined
      ? `FROM ${sayPlace(from, height, job)}`
      : finishOnly === true
        ? `FROM FINISH FLAT ${firstFinished(job)}`
        : flats !== undefined
          ? sayFlats(flats)
          : 'none';
  return said === 'none' ? { job, said, inputs: [] } : { job: goesOnAsSaid(job, said), said, inputs: [] };
}

function sayPlace(from: string, height: string | undefined, job: Job): string {
  const place = orLeave(NO_PLACE, () => readRestart(from));
  const reads = height === undefined ? place.height : lengthOption('--height', height, job.machine.units);
  return restartText({ ...place, height: reads }).toUpperCase();
}

/** The flat that is finished first. */
function firstFinished(job: Job): number {
  const first = passesIn(planJob(job).steps).find(({ pass }) => pass.kind !== 'rough');
  if (first === undefined) throw new Leave(UNUSABLE, '--finish-only: nothing is left to finish');
  return first.flat.number;
}

function sayFlats(flats: string): string {
  if (!/^\s*\d+(\s*,\s*\d+)*\s*$/.test(flats))
    throw new Leave(UNUSABLE, `--flats ${flats}: write the numbers of the flats, such as 4,5`);
  const numbers = [...new Set(flats.split(',').map(Number))];
  return `FLATS ${numbers.join(' ')} ONLY`;
}

/** The job as the head of a program says it goes on: `FROM FINISH FLAT 4`, or `FLATS 4 5 ONLY`. @throws Leave */
export function goesOnAsSaid(job: Job, said: string): Job {
  if (said === FROM_FILE)
    throw new Leave(
      UNUSABLE,
      'the program goes on from a file that says how the punch stands, as adjust and check --left write it; give it with --standing',
    );
  const [, place] = /^FROM (.+)$/.exec(said) ?? [];
  const [, numbers] = /^FLATS ([\d ]+) ONLY$/.exec(said) ?? [];
  const plan = planJob(job);
  if (place !== undefined) return orLeave(NO_PLACE, () => goOnFrom(plan, readRestart(place)));
  if (numbers !== undefined) return orLeave(NO_PLACE, () => onlyFlats(plan, numbers.split(' ').map(Number)));
  throw new Leave(UNUSABLE, `RE-ENTRY: ${said}: no place this job could go on from`);
}
