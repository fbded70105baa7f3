/**
 * Reading and writing files. A file is written beside its place and renamed, so that a failure leaves
 * the old one or none, never half of one; an existing one is replaced only when the user says so.
 */
import { randomUUID } from 'node:crypto';
import {
  closeSync,
  createReadStream,
  existsSync,
  fsyncSync,
  linkSync,
  openSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { basename, dirname, isAbsolute, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Job } from '../job/job.js';
import type { Machine } from '../job/machine.js';
import { InputError } from '../job/problem.js';
import { type JobTexts, readJob, readMachine } from '../job/read.js';
import type { TextFile } from '../job/text-file.js';
import { suggestion } from '../job/validate.js';
import type { PageAssets } from '../sheet/page.js';
import { Leave, UNUSABLE } from './exit.js';
import type { Io } from './io.js';

/** Shipped data: shared beside src or dist. */
const SHARED = fileURLToPath(new URL('../../shared/', import.meta.url));
const MACHINES = join(SHARED, 'machines');

/** Names of the shipped machine profiles. */
export const shippedMachines = (): readonly string[] =>
  readdirSync(MACHINES)
    .filter((file) => file.endsWith('.yaml'))
    .map((file) => file.slice(0, -'.yaml'.length))
    .toSorted();

const failure = (file: string, message: string): InputError =>
  new InputError([{ file, line: 0, column: 0, key: '', message }]);

const systemWords: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file',
  EISDIR: 'this is a folder, not a file',
  EACCES: 'no permission',
  ENOSPC: 'the disk is full',
  ENOTDIR: 'a part of this path is no folder',
  EROFS: 'this place cannot be written to',
};

const because = (error: unknown): string => {
  const code = (error as NodeJS.ErrnoException).code ?? '';
  return systemWords[code] ?? (error instanceof Error ? error.message : String(error));
};

function textOf(path: string, shown: string): string {
  try {
    return readFileSync(path, 'utf8');
  } catch (error) {
    throw failure(shown, `cannot be read: ${because(error)}`);
  }
}

/** The profile called `name`: a shipped one, or a path as seen from `folder`. */
export function profileText(name: string, folder: string): TextFile {
  if (!/[/\\.]/.test(name)) {
    const shipped = shippedMachines();
    if (!shipped.includes(name))
      throw failure(name, `no machine profile of this name; ${suggestion(name, shipped)}`);
    return { file: `shared/machines/${name}.yaml`, text: textOf(join(MACHINES, `${name}.yaml`), name) };
  }
  return { file: name, text: textOf(isAbsolute(name) ? name : resolve(folder, name), name) };
}

const sharedText = (name: string): TextFile => ({
  file: `shared/${name}`,
  text: textOf(join(SHARED, name), `shared/${name}`),
});

/** The socket tables shipped. */
export const socketTables = (): TextFile => sharedText('sockets.yaml');

/** The gauge-block sets shipped. */
export const gaugeTables = (): TextFile => sharedText('gauge-blocks.yaml');

/** Style and player of the set-up sheet. */
export const sheetAssets = (): PageAssets => ({
  css: sharedText('sheet/sheet.css').text.trimEnd(),
  player: sharedText('sheet/player.js').text.trimEnd(),
});

/** The shipped texts a job may need; profiles of one's own are looked for from `folder`. */
export const jobTexts = (folder: string): JobTexts => ({
  machine: (name) => profileText(name, folder),
  grinding: () => sharedText('grinding.yaml'),
  sockets: socketTables,
});

/**
 * Reads the job at `path`, or from standard input for `-`, and the machine it names.
 * @throws InputError
 */
export async function loadJob(path: string, io: Io, machine?: string): Promise<Job> {
  const folder = path === '-' ? io.cwd : dirname(resolve(io.cwd, path));
  const text = path === '-' ? await io.inputText() : textOf(resolve(io.cwd, path), path);
  const file = path === '-' ? 'standard input' : path;
  const texts = jobTexts(folder);
  if (machine === undefined) return readJob({ file, text }, texts);
  // Read first: a fault in what --machine names is no fault of the job.
  const profile = profileText(machine, io.cwd);
  return readJob({ file, text }, { ...texts, machine: () => profile }, machine);
}

/** @throws InputError */
export const loadMachine = (name: string, io: Io): Machine => readMachine(profileText(name, io.cwd));

/** Lines of a program file, or of standard input for `-`, without their ends; bytes as Latin-1, one a column. */
export async function* programLines(path: string, io: Io): AsyncGenerator<string> {
  if (path === '-') {
    yield* io.inputLines();
    return;
  }
  try {
    if (statSync(resolve(io.cwd, path)).isDirectory()) throw Object.assign(new Error(), { code: 'EISDIR' });
    yield* splitLines(createReadStream(resolve(io.cwd, path), { encoding: 'latin1' }));
  } catch (error) {
    throw failure(path, `cannot be read: ${because(error)}`);
  }
}

/** A whole program, its bytes as Latin-1; for a page that shows it. */
export async function programText(path: string, io: Io): Promise<string> {
  const lines: string[] = [];
  for await (const line of programLines(path, io)) lines.push(line);
  return `${lines.join('\n')}\n`;
}

/** Lines of a stream of text, split at LF, CRLF or CR even where a chunk ends between the two. */
export async function* splitLines(chunks: AsyncIterable<string>): AsyncGenerator<string> {
  let rest = '';
  for await (const chunk of chunks) {
    const text = rest + chunk;
    // A CR at the very end may be half of a CRLF: keep it for the next chunk.
    const held = text.endsWith('\r') ? 1 : 0;
    const lines = text.slice(0, text.length - held).split(/\r\n|\n|\r/);
    rest = (lines.pop() ?? '') + text.slice(text.length - held);
    yield* lines;
  }
  if (rest === '') return;
  yield rest.endsWith('\r') ? rest.slice(0, -1) : rest;
}

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
