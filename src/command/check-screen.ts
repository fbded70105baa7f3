/** The check's verdict for a person, in two seconds first, and for machines. */

import type { BesideReport } from '../check/beside.js';
import type { AirRun, CheckReport } from '../check/dry-run.js';
import type { MeasuredFlat } from '../check/punch/measure.js';
import type { ReadingReport } from '../check/reading.js';
import type { Job } from '../job/job.js';
import type { Machine } from '../job/machine.js';
import { degFromRad } from '../quantity/angle.js';
import { trimmed } from '../quantity/decimal.js';
import { sayIn } from '../quantity/say.js';
import { mm } from '../quantity/unit.js';
import { checkFindingLines, checkSentence } from '../wording/check.js';
import { NOT_JUDGED, readRows, readWords } from '../wording/reading.js';
import { sectionDrawing } from './drawing.js';
import { paint } from './io.js';
import type { ReportJson } from './report-schema.js';
import { labelled, onOneScreen, table } from './screen.js';

/** More than this nobody reads before fixing the first. */
const MOST_SHOWN = 12;

/** Findings by block, the block shown under each. */
export function findingsText(
  report: Pick<CheckReport, 'findings'>,
  job: Pick<Job, 'units'>,
  colour: boolean,
): string {
  const { bad, warn } = paint(colour);
  const rest = report.findings.length - MOST_SHOWN;
  const shown = report.findings
    .slice(0, MOST_SHOWN)
    .map((finding) => {
      const [first = '', ...below] = checkFindingLines(finding, job);
      const label = finding.severity === 'error' ? bad('error') : warn('warning');
      return [`${label} ${first}`, ...below].map((line) => `${line}\n`).join('');
    })
    .join('');
  return rest > 0 ? `${shown}and ${rest} more; --json lists them\n` : shown;
}

type Verdict = Pick<CheckReport, 'verdict' | 'findings' | 'lines'>;

function verdictLine({ verdict, findings, lines }: Verdict, colour: boolean): string {
  const { good, bad, warn } = paint(colour);
  const errors = findings.filter(({ severity }) => severity === 'error').length;
  const warnings = findings.length - errors;
  const count = (many: number, one: string): string => `${many} ${one}${many === 1 ? '' : 's'}`;
  return verdict === 'run'
    ? `${good('SOUND ON PAPER')}  ${count(lines, 'line')} read, ${warnings === 0 ? 'nothing against it' : `no error, ${warn(count(warnings, 'warning'))}`}`
    : `${bad('DO NOT RUN')}  ${count(errors, 'error')}${warnings > 0 ? `, ${count(warnings, 'warning')}` : ''} in ${count(lines, 'line')}`;
}

/** Of a program that grinds a face or dresses the rim. */
export function otherScreen(report: BesideReport, job: Job, kind: 'face' | 'rim', colour: boolean): string {
  const verdict = verdictLine(report, colour);
  const off = sayIn(job.units).length(report.off);
  return [
    `${verdict}\n`,
    ...(report.findings.length > 0 ? ['\n', findingsText(report, job, colour)] : []),
    kind === 'face'
      ? `\nThe face: ${off} comes off it. Upright the profile's work zero does not hold, so travel is not judged.\n`
      : `\nThe rim: ${off} comes off it: afterwards lower the zero once by as much, add -${off} to its offset.\n`,
    report.verdict === 'run' ? CAUTION : `\n${verdict}\n`,
  ].join('');
}

/** Of a program read for a machine alone. */
export function readScreen(report: ReadingReport, machine: Machine, name: string, colour: boolean): string {
  const { bad, warn } = paint(colour);
  const refused = report.verdict === 'refused';
  const verdict = `${refused ? bad('DO NOT RUN') : warn('READ WITHOUT A JOB')}  ${readWords(report, name)}`;
  return [
    `${verdict}\n`,
    ...(report.findings.length > 0 ? ['\n', findingsText(report, { units: machine.units }, colour)] : []),
    '\n',
    labelled(readRows(report, machine)),
    `\n${NOT_JUDGED}\n`,
    refused ? `\n${verdict}\n` : CAUTION,
  ].join('');
}

export const readJson = (
  { travel, left, feeds, speeds, findings, ...rest }: ReadingReport,
  machine: Machine,
): string =>
  `${JSON.stringify(
    {
      judged: 'reading, travel, feeds, speeds and modal rules alone',
      ...rest,
      travelMm: Object.fromEntries(
        (['x', 'y', 'z'] as const).flatMap((axis) => {
          const { least, most } = travel[axis];
          return least > most ? [] : [[axis, [least, most]]];
        }),
      ),
      travelLeftMm: left,
      feedsMmPerMin: feeds,
      speedsRevPerMin: speeds,
      findings: findings.map((finding) => ({ ...finding, message: checkSentence(finding, machine.units) })),
    },
    null,
    2,
  )}\n`;

export const otherJson = (report: BesideReport, job: Job): string =>
  `${JSON.stringify(
    {
      verdict: report.verdict,
      lines: report.lines,
      offMm: report.off,
      findings: report.findings.map((finding) => ({
        ...finding,
        message: checkSentence(finding, job.units),
      })),
    },
    null,
    2,
  )}\n`;

export function checkScreen(report: CheckReport, job: Job, colour: boolean): string {
  const verdict = verdictLine(report, colour);
  const parts = [`${verdict}\n`];
  if (report.findings.length > 0) parts.push('\n', findingsText(report, job, colour));
  if (report.air === 'none') parts.push('\nThe punch it would leave\n', punchTable(report, job));
  else parts.push(airText(report.air, job));
  parts.push(travelText(report, job));
  if (job.machine.workZero === undefined) {
    parts.push('\nThe profile does not say where work zero lies, so travel is checked by its span alone.\n');
  }
  // On a short screen the verdict has scrolled away by now.
  parts.push(report.verdict === 'run' ? CAUTION : `\n${verdict}\n`);
  return onOneScreen(parts.join(''));
}

/** `Travel left  X 12.4  Y -  Z 41 mm`: how far each axis stays from its ends. */
function travelText({ travelLeft }: CheckReport, job: Job): string {
  const there = sayIn(job.machine.units);
  const axes = Object.entries(travelLeft);
  if (axes.every(([, left]) => left === 'unknown')) return '';
  const each = axes.map(
    ([axis, left]) =>
      `${axis.toUpperCase()} ${left === 'unknown' ? '-' : there.column(mm(Math.max(0, left)))}`,
  );
  return `\nTravel left: ${each.join('  ')} ${there.unit}\n`;
}

/** What no dry run can see; common practice, no source. */
const CAUTION = `\nNot seen here: the wheel itself, the clamping, your hands. Run it in the air\nfirst: ring test, guard, eye protection, hands out, stand clear. The marking of\nthe wheel and local rules come before this page.\n`;

/** `Raised 5 mm: nothing is cut, as wanted; the rim passes 3.084 mm over the punch at its nearest.` */
function airText({ raised, nearest }: AirRun, job: Job): string {
  const say = sayIn(job.units);
  const how = raised === 0 ? 'As it stands' : `Raised ${say.length(raised)}`;
  if (nearest === 'never over the punch') return `\n${how}: the rim never comes over the punch.\n`;
  if (nearest <= 0) return `\n${how}: the wheel meets the punch.\n`;
  return `\n${how}: nothing is cut, as wanted; the rim passes ${say.length(nearest)} over the punch at its nearest.\n`;
}

function punchTable({ punch }: CheckReport, job: Job): string {
  const say = sayIn(job.units);
  if (punch.flats.length === 0) return '  no flat is ground\n';
  const rows = punch.flats.map((flat) => [
    flat.flat === 'not ordered' ? 'extra' : `${flat.flat}`,
    trimmed(degFromRad(flat.at), 3),
    say.column(flat.distance),
    flat.ordered === 'none' ? '' : say.column(flat.ordered),
    say.column(flat.across),
    say.column(flat.lengthAtCorners),
    `${flat.passes}`,
    say.column(flat.deepestBite),
    `${flat.sparkOut}`,
  ]);
  const head = ['flat', 'at deg', 'to axis', 'ordered', 'across', 'length', 'passes', 'deepest', 'spark-out'];
  const facts: (readonly [string, string])[] = [];
  const [relief] = punch.flats.map((flat) => flat.relief);
  if (relief !== undefined) facts.push(['Relief', `${say.angle(relief)}, as the set-up gives it`]);
  if (punch.acrossCorners !== 'none') facts.push(['Across corners', say.length(punch.acrossCorners)]);
  if (punch.land !== 'none')
    facts.push(['Corner lands', `the blank leaves ${say.length(punch.land)} of its own outline`]);
  if (punch.offAxis !== 'none') facts.push(['Off the axis', say.length(mm(punch.offAxis))]);
  facts.push(['Removed', `${trimmed(punch.removed, 1)} mm3`]);
  return `${table(head, rows)}\n${labelled(facts)}\n${sectionDrawing(job.blank, punch.flats)}  # stays, . comes off the blank; seen from the tip\n`;
}

const flatJson = (flat: MeasuredFlat): ReportJson['punch']['flats'][number] => ({
  flat: flat.flat,
  atDeg: degFromRad(flat.at),
  distanceMm: flat.distance,
  orderedMm: flat.ordered,
  acrossMm: flat.across,
  toNextDeg: degFromRad(flat.toNext),
  reliefDeg: degFromRad(flat.relief),
  lengthAtCentreMm: flat.lengthAtCentre,
  lengthAtCornersMm: flat.lengthAtCorners,
  passes: flat.passes,
  deepestBiteMm: flat.deepestBite,
  averageBiteMm: flat.averageBite,
  sparkOut: flat.sparkOut,
});

/** The report for machines: mm, degrees, mm3; each finding with its sentence. */
export function checkJson(report: CheckReport, job: Job): ReportJson {
  const { punch } = report;
  return {
    verdict: report.verdict,
    lines: report.lines,
    travelLeftMm: report.travelLeft,
    air: report.air === 'none' ? 'none' : { raisedMm: report.air.raised, nearestMm: report.air.nearest },
    findings: report.findings.map((finding) => ({ ...finding, message: checkSentence(finding, job.units) })),
    punch: {
      flats: punch.flats.map(flatJson),
      acrossCornersMm: punch.acrossCorners,
      offAxisMm: punch.offAxis,
      landMm: punch.land,
      removedMm3: punch.removed,
    },
  };
}
