/** `flatwright plan JOB`: what will happen, on one screen. */
import { type Command, Option } from 'commander';
import { isPostable, planJob } from '../plan/plan.js';
import { findSavings } from '../plan/savings.js';
import { toTheEnd } from '../quantity/in-steps.js';
import { findingErrors, USUAL_PUNCHES } from '../wording/errors.js';
import { type Done, GOOD, Leave, REFUSED, UNUSABLE } from './exit.js';
import type { Io } from './io.js';
import { machineOption } from './options.js';
import { planRest } from './plan-all.js';
import { errorsJson, errorsScreen } from './plan-errors.js';
import { planFindings } from './plan-findings.js';
import { planJson, savingJson } from './plan-json.js';
import { planOnScreen } from './plan-screen.js';
import { loadJob } from './shipped.js';
import { goesOn, type StandingOptions, withStandingOptions } from './standing.js';

export function planCommand(command: Command, io: Io, done: Done): void {
  withStandingOptions(command)
    .description('Shows what grinding the punch of JOB comes to, before anything is written.')
    .addOption(machineOption())
    .option('--errors', 'show instead what may be off, and how many punches come out in tolerance')
    .addOption(
      new Option('--punches <count>', 'with --errors: punches simulated').default(`${USUAL_PUNCHES}`),
    )
    .addOption(
      new Option('--seed <number>', 'with --errors: the same seed gives the same punches').default('1'),
    )
    .option('--all', 'add loads, heat and wear, and every value that was taken as usual')
    .option('--json', 'print the plan as JSON')
    .addHelpText(
      'after',
      '\nExamples:\n  flatwright plan samples/stem-bolt-hex-5.yaml\n  flatwright plan my-hex.yaml --machine knee-mill-by-hand --json\n',
    )
    .action(async (path: string, options: Options) => {
      const [punches, seed] = [whole('punches', options.punches), whole('seed', options.seed)];
      const { job: read, source } = await loadJob(path, io, options.machine);
      const plan = planJob(goesOn(read, options, io).job);
      const errors =
        options.errors === true && isPostable(plan) ? toTheEnd(findingErrors(plan, punches, seed)) : 'none';
      if (options.json === true) {
        const shown = {
          ...planJson(plan, source),
          savings: isPostable(plan) ? findSavings(plan).map(savingJson) : [],
          ...(errors === 'none' ? {} : { errors: errorsJson(errors) }),
        };
        io.out(`${JSON.stringify(shown, null, 2)}\n`);
      } else {
        const findings = planFindings(plan, source, io);
        if (errors === 'none') {
          const { screen, next } = planOnScreen(plan, source, findings, io.colour.out);
          io.out(screen);
          if (options.all === true) io.out(planRest(plan, source));
          io.err(findings);
          io.out(next);
        } else {
          io.out(errorsScreen(plan, errors));
          io.err(findings);
        }
      }
      done(isPostable(plan) ? GOOD : REFUSED);
    });
}

interface Options extends StandingOptions {
  readonly all?: true;
  readonly json?: true;
  readonly machine?: string;
  readonly errors?: true;
  readonly punches: string;
  readonly seed: string;
}

const MOST_PUNCHES = 1_000_000;

function whole(option: string, text: string): number {
  const value = Number(text);
  if (Number.isInteger(value) && value >= 1 && value <= MOST_PUNCHES) return value;
  throw new Leave(UNUSABLE, `--${option}: "${text}" must be a whole number from 1 to ${MOST_PUNCHES}`);
}
