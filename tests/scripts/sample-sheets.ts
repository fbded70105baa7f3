/** The set-up sheet each sample gives, with the programs that lie beside it. */

import { sheetAssets } from '../../src/command/shipped.js';
import { planJob } from '../../src/plan/plan.js';
import { type DialSheet, dialSheet } from '../../src/sheet/hand/sheet.js';
import { sheetFor } from '../../src/sheet/of-plan.js';
import { dialPage, sheetPage } from '../../src/sheet/page.js';
import type { Sheet } from '../../src/sheet/sheet.js';
import { sampleJob } from '../arbitrary/samples.js';
import { samplePrograms } from './sample-programs.js';

export function sampleSheet(name: string): Sheet {
  const programs = samplePrograms(name).map(({ suffix, text }) => ({ name: `${name}${suffix}.nc`, text }));
  return sheetFor(planJob(sampleJob(name)), programs);
}

export const handSheet = (name: string): DialSheet => dialSheet(planJob(sampleJob(name)));

export const handPage = (name: string): string => dialPage(handSheet(name), sheetAssets());

export const samplePage = (name: string): string => sheetPage(sampleSheet(name), sheetAssets());
