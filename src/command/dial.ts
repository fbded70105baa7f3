/** `flatwright dial JOB`: everything for the hand wheels of a machine without a control. */
import type { Command } from 'commander';
import { DialError, type DialPlan, type DialReading } from '../hand/dial.js';
import { planJob } from '../plan/plan.js';
import { passesIn } from '../plan/step.js';
import { type DialSheet, dialSheet } from '../sheet/hand/sheet.js';
import { dialPage } from '../sheet/page.js';
import { type Done, GOOD, Leave, orLeave, REFUSED } from './exit.js';
import type { Io } from './io.js';
import { machineOption } from './options.js';
import { refuseUnplannable } from './plan-findings.js';
import { dialText, partsJson } from './sheet-text.js';
import { loadJob, sheetAssets } from './shipped.js';
import { writeFiles } from './write.js';

interface Options {
  readonly output?: string;
  readonly force?: true;
  readonly json?: true;
  readonly machine?: string;
}

export function dialCommand(command: Command, io: Io, done: Done): void {
  command
    .description(
      'Writes everything for hand wheels: what the dials are set to, how far to back off before the first stroke, the way down pass by pass, stops, the flats in order, how a size is corrected. For a machine without a control, whose profile has dials.',
    )
    .option('-o, --output <file>', 'write it as a page to print, to this file')
    .option('--force', 'replace a file that is already there')
    .option('--json', 'print it as JSON, every pass one by one')
    .addOption(machineOption())
    .addHelpText(
      'after',
      `
Examples:
  flatwright dial samples/by-hand/hub-cap-square-6.yaml
  flatwright dial samples/by-hand/hub-cap-square-6.yaml -o dials.html
`,
    )
    .action(async (path: string, options: Options) => {
      const { job, source, inputs } = await loadJob(path, io, options.machine);
      const plan = planJob(job);
      refuseUnplannable(plan, source, io, 'no sheet is written');
      if (plan.totals.passes === 0) throw new Leave(REFUSED, `${source.file}: nothing is left to grind`);
      const sheet = orLeave([DialError], () => dialSheet(plan));
      if (options.json === true) io.out(`${JSON.stringify(dialJson(sheet), null, 2)}\n`);
      else if (options.output === undefined) io.out(dialText(sheet));
      if (options.output !== undefined) {
        const page = { path: options.output, text: dialPage(sheet, sheetAssets()) };
        writeFiles([page], options.force === true, io, inputs);
        io.err(
          `${options.output}: written, ${sheet.verdict === 'run' ? 'its passes are sound on paper' : 'its passes are REFUSED'}\n`,
        );
      }
      done(sheet.verdict === 'run' ? GOOD : REFUSED);
    });
}

const readingJson = ({ above, turns, shows }: DialReading): object => ({
  aboveMm: above,
  turns,
  showsMm: shows,
});

/** Lengths as the dials are marked, in mm. */
function dialJson({ dial, title, verdict, findings, parts }: DialSheet): object {
  const {
    plan,
    touch,
    backOff,
    faceToTouch,
    faceToEnd,
    clearOut,
    strokeLength,
    strokeTime,
    expect,
  }: DialPlan = dial;
  return {
    title,
    verdict,
    findings,
    touch: readingJson(touch),
    backOff: readingJson(backOff),
    biteFromTouchMm: dial.biteFromTouch,
    faceToTouchMm: faceToTouch,
    faceToEndMm: faceToEnd,
    clearOutMm: clearOut,
    stroke: { lengthMm: strokeLength, seconds: strokeTime },
    collarWithinMm: dial.collarWithin,
    ladders: dial.ladders.map(({ flats, rows }) => ({
      flats,
      rows: rows.map(({ kind, from, to, step, passes }) => ({
        kind,
        from: readingJson(from),
        to: readingJson(to),
        stepMm: step,
        passes,
      })),
    })),
    passes: passesIn(plan.steps).map(({ flat, pass }) => ({
      flat: flat.number,
      kind: pass.kind,
      heightMm: pass.w,
    })),
    ring: dial.ringTurns.map(({ flats, ground, reading, at, perReading }) => ({
      flats,
      ground,
      acrossMm: reading,
      at: readingJson(at),
      marksPerMm: perReading,
    })),
    expectSeconds: expect,
    parts: partsJson(parts),
  };
}
