/** The shipped samples, read as a user's would be. */
import { readdirSync, readFileSync } from 'node:fs';
import { type JobRead, type JobTexts, readJobFile } from '../../src/file/read.js';
import type { TextFile } from '../../src/file/text-file.js';
import type { Job } from '../../src/job/job.js';
import type { Machine } from '../../src/job/machine.js';

const root = new URL('../../', import.meta.url);

export const shippedProfile = (name: string): TextFile => ({
  file: `shared/machines/${name}.yaml`,
  text: readFileSync(new URL(`shared/machines/${name}.yaml`, root), 'utf8'),
});

const shared = (name: string): TextFile => ({
  file: `shared/${name}`,
  text: readFileSync(new URL(`shared/${name}`, root), 'utf8'),
});

export const shippedTexts: JobTexts = {
  machine: shippedProfile,
  job: (name) => ({ file: name, text: readFileSync(new URL(`samples/${name}`, root), 'utf8') }),
  shop: () => 'none',
  grinding: () => shared('grinding.yaml'),
  sockets: () => shared('sockets.yaml'),
  gaugeBlocks: () => shared('gauge-blocks.yaml'),
};

export const sampleText = (name: string): string =>
  readFileSync(new URL(`samples/${name}.yaml`, root), 'utf8');

/** A sample with some of its text exchanged; every exchange must find its text. */
export const sampleJob = (
  name: string,
  ...exchanges: readonly (readonly [from: string, to: string])[]
): Job => sampleRead(name, ...exchanges).job;

/** The same, with the places of its keys. */
export function sampleRead(
  name: string,
  ...exchanges: readonly (readonly [from: string, to: string])[]
): JobRead {
  const text = exchanges.reduce((before, [from, to]) => {
    if (!before.includes(from)) throw new Error(`no "${from}" in sample ${name}`);
    return before.replace(from, to);
  }, sampleText(name));
  return readJobFile({ file: `samples/${name}.yaml`, text }, shippedTexts);
}

export const sampleNames: readonly string[] = readdirSync(new URL('samples/', root))
  .filter((file) => file.endsWith('.yaml'))
  .map((file) => file.slice(0, -'.yaml'.length))
  .toSorted();

/** Those for machines without a control, by their path from the samples. */
export const handNames: readonly string[] = readdirSync(new URL('samples/by-hand/', root))
  .filter((file) => file.endsWith('.yaml'))
  .map((file) => `by-hand/${file.slice(0, -'.yaml'.length)}`)
  .toSorted();

/** Jobs of the workshop that newcomers tried, by name. */
export const trialNames: readonly string[] = readdirSync(new URL('tests/terminal/jobs/', root))
  .filter((file) => file.endsWith('.yaml'))
  .map((file) => file.slice(0, -'.yaml'.length))
  .toSorted();

export const trialText = (name: string): string =>
  readFileSync(new URL(`tests/terminal/jobs/${name}.yaml`, root), 'utf8');

/** The same machine with a control that reads axis words without a point as whole units, as RS274/NGC does. */
export const wholeUnits = (machine: Machine): Machine => ({
  ...machine,
  program: { ...machine.program, bareNumbers: 'whole units' },
});
