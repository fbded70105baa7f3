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
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { because } from './because.js';
import { Leave, UNUSABLE } from './exit.js';
import type { Io } from './io.js';

/** One file to write. */
export interface Output {
  readonly path: string;
  readonly text: string;
}

/**
 * Writes every output or none that would replace a file unasked.
 * @throws Leave with exit 2 if a file is there and `force` is not given, or a place cannot be written.
 */
export function writeFiles(outputs: readonly Output[], force: boolean, io: Io): void {
  const places = outputs.map(({ path, text }) => ({ path, text, full: resolve(io.cwd, path) }));
  for (const { path, full } of places) {
    if (!existsSync(dirname(full))) throw new Leave(UNUSABLE, `${path}: there is no folder ${dirname(path)}`);
    if (existsSync(full) && statSync(full).isDirectory())
      throw new Leave(UNUSABLE, `${path}: this is a folder, not a file`);
    if (!force && existsSync(full)) throw new Leave(UNUSABLE, `${path}: already there; --force replaces it`);
  }
  for (const { path, text, full } of places) writeOne(path, full, text, force);
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

function writeOne(path: string, full: string, text: string, force: boolean): void {
  const beside = join(dirname(full), `.flatwright-${randomUUID()}-${basename(full)}`);
  try {
    const file = openSync(beside, 'wx');
    try {
      // Goes on until all of it is there; one write may stop short on a full disk and not say so.
      writeFileSync(file, text);
      fsyncSync(file);
    } finally {
      closeSync(file);
    }
    // A link fails where a file has appeared meanwhile; a rename would replace it.
    if (force) renameSync(beside, full);
    else placeNew(beside, full);
  } catch (error) {
    throw new Leave(UNUSABLE, `${path}: cannot be written: ${because(error)}`);
  } finally {
    rmSync(beside, { force: true });
  }
}
