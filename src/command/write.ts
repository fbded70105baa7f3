/**
 * Writing files. A file is written beside its place and renamed, so that a failure leaves
 * the old one or none, never half of one; an existing one is replaced only when the user says so.
 */
import { randomUUID } from 'node:crypto';
import {
  closeSync,
  existsSync,
  fsyncSync,
  linkSync,
  openSync,
  readdirSync,
  readFileSync,
  realpathSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { basename, dirname, extname, join, resolve } from 'node:path';
import { because } from './because.js';
import { Leave, UNUSABLE } from './exit.js';
import type { Io } from './io.js';

/** One file to write. */
export interface Output {
  readonly path: string;
  readonly text: string;
}

/** `cap.nc` and `-02` give `cap-02.nc`. */
export function suffixed(path: string, suffix: string): string {
  const extension = extname(path);
  return `${path.slice(0, path.length - extension.length)}${suffix}${extension}`;
}

/**
 * Writes every output or none. Nothing is replaced unasked, and nothing that the command has read; a link is followed.
 * @param inputs files the command has read.
 * @throws Leave with exit 2 if a file is there and `force` is not given, or a place cannot be written.
 */
export function writeFiles(
  outputs: readonly Output[],
  force: boolean,
  io: Io,
  inputs: readonly string[] = [],
): void {
  if (outputs.some(({ path }) => path === '-'))
    throw new Leave(
      UNUSABLE,
      '-o -: no file is called that; what can go to standard output goes there without -o',
    );
  const places = outputs.map(({ path, text }) => ({ path, text, full: realPlace(resolve(io.cwd, path)) }));
  const read = new Set(inputs.filter((path) => path !== '-').map((path) => realPlace(resolve(io.cwd, path))));
  for (const { path, full } of places) {
    if (!existsSync(dirname(full))) throw new Leave(UNUSABLE, `${path}: there is no folder ${dirname(path)}`);
    if (existsSync(full) && statSync(full).isDirectory())
      throw new Leave(UNUSABLE, `${path}: this is a folder, not a file`);
    if (read.has(full))
      throw new Leave(
        UNUSABLE,
        `${path}: this is read by the same command; give what is written another name`,
      );
    if (force && existsSync(full) && !statSync(full).isFile())
      throw new Leave(
        UNUSABLE,
        `${path}: this is a device or a pipe, not a file; leave -o out and send the output there`,
      );
    if (!force && existsSync(full)) throw new Leave(UNUSABLE, `${path}: already there; --force replaces it`);
  }
  const staged: { readonly path: string; readonly full: string; readonly beside: string }[] = [];
  const placed: string[] = [];
  let last = '';
  try {
    for (const { path, text, full } of places) {
      last = path;
      const beside = join(dirname(full), `.flatwright-${randomUUID()}`);
      staged.push({ path, full, beside });
      writeWhole(beside, text);
    }
    for (const { path, full, beside } of staged) {
      last = path;
      // A link fails where a file has appeared meanwhile; a rename would replace it.
      if (force) renameSync(beside, full);
      else placeNew(beside, full);
      placed.push(full);
    }
  } catch (error) {
    // What was not there before goes again; with --force the old ones are gone, the new ones whole.
    if (!force) for (const full of placed) rmSync(full, { force: true });
    throw new Leave(UNUSABLE, `${last}: cannot be written: ${because(error)}`);
  } finally {
    for (const { beside } of staged) rmSync(beside, { force: true });
  }
}

/** Where a path leads once links are followed; itself if nothing is there yet. */
function realPlace(full: string): string {
  try {
    return realpathSync(full);
  } catch {
    return full;
  }
}

function writeWhole(place: string, text: string): void {
  const file = openSync(place, 'wx');
  try {
    // Goes on until all of it is there; one write may stop short on a full disk and not say so.
    writeFileSync(file, text);
    fsyncSync(file);
  } finally {
    closeSync(file);
  }
}

/** Some file systems know no links; there the look just taken has to do. */
const NO_LINKS: ReadonlySet<string> = new Set(['EPERM', 'ENOTSUP', 'EOPNOTSUPP', 'ENOSYS', 'EMLINK']);

function placeNew(beside: string, full: string): void {
  try {
    linkSync(beside, full);
  } catch (error) {
    if (!NO_LINKS.has((error as NodeJS.ErrnoException).code ?? '')) throw error;
    renameSync(beside, full);
  }
}

/** How a program of a set begins. */
const OF_A_SET = /PROGRAM \d+ OF \d+ - /;

/**
 * Programs of a longer set that stood there before, named or, with `force`, removed: run by mistake they would grind
 * another punch.
 */
export function leftOver(outputs: readonly Output[], output: string, force: boolean, io: Io): string {
  const extension = extname(output);
  const stem = basename(output, extension);
  const folder = resolve(io.cwd, dirname(output));
  const written = new Set(outputs.map(({ path }) => basename(path)));
  const others = readdirSync(folder).filter((name) => {
    if (written.has(name) || !name.startsWith(`${stem}-`) || !name.endsWith(extension)) return false;
    if (!/^\d+$/.test(name.slice(stem.length + 1, name.length - extension.length))) return false;
    return OF_A_SET.test(readFileSync(join(folder, name), 'latin1').slice(0, 200));
  });
  if (force) for (const name of others) rmSync(join(folder, name));
  return others
    .map(
      (name) =>
        `${name}: of an older set, ${force ? 'removed' : 'remove it, or it may be run with this one'}\n`,
    )
    .join('');
}
