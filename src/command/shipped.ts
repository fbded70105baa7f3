/** What is read: the data shipped beside the code, jobs and profiles, programs. */
import { createReadStream, existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, isAbsolute, join, relative, resolve } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { splitLines } from '../check/read/lines.js';
import { InputError } from '../file/problem.js';
import { type JobRead, type JobTexts, readJobFile, readMachine } from '../file/read.js';
import type { TextFile } from '../file/text-file.js';
import { suggestion } from '../file/validate.js';
import type { Machine } from '../job/machine.js';
import type { PageAssets } from '../sheet/page.js';
import { because } from './because.js';
import type { Io } from './io.js';

/** Shipped data: shared beside src or dist. */
const SHARED = fileURLToPath(new URL('../../shared/', import.meta.url));
const MACHINES = join(SHARED, 'machines');

/** Where editors find what a job may hold, to complete and to mark it. */
export const jobSchemaUrl = (): string => pathToFileURL(join(SHARED, 'schema', 'job.schema.json')).href;

/** Names of the shipped machine profiles. */
export const shippedMachines = (): readonly string[] =>
  readdirSync(MACHINES)
    .filter((file) => file.endsWith('.yaml'))
    .map((file) => file.slice(0, -'.yaml'.length))
    .toSorted();

const failure = (file: string, message: string): InputError =>
  new InputError([{ file, line: 0, column: 0, key: '', message }]);

function textOf(path: string, shown: string): string {
  try {
    return readFileSync(path, 'utf8');
  } catch (error) {
    throw failure(shown, `cannot be read: ${because(error)}`);
  }
}

/** A text of the user's. @throws InputError */
export const textFile = (path: string, io: Io): TextFile => ({
  file: path,
  text: textOf(resolve(io.cwd, path), path),
});

/** A profile of one's own is named by its path; shipped ones have neither folder nor ending. */
const isPath = (name: string): boolean => /[/\\.]/.test(name);

/** The profile called `name`: a shipped one, or a path as seen from `folder`. */
export function profileText(name: string, folder: string): TextFile {
  if (!isPath(name)) {
    const shipped = shippedMachines();
    if (!shipped.includes(name))
      throw failure(name, `no machine profile of this name; ${suggestion(name, shipped)}`);
    return { file: `shared/machines/${name}.yaml`, text: textOf(join(MACHINES, `${name}.yaml`), name) };
  }
  return { file: name, text: textOf(isAbsolute(name) ? name : resolve(folder, name), name) };
}

const SHOP = 'shop.yaml';

/** The shop file of that path, or the nearest one, from `folder` upwards. */
function shopText(name: string | undefined, folder: string): TextFile | 'none' {
  if (name !== undefined) return { file: name, text: textOf(resolve(folder, name), name) };
  for (let at = folder; ; at = dirname(at)) {
    const path = join(at, SHOP);
    if (existsSync(path)) return { file: relative(folder, path) || SHOP, text: textOf(path, SHOP) };
    if (dirname(at) === at) return 'none';
  }
}

const sharedText = (name: string): TextFile => ({
  file: `shared/${name}`,
  text: textOf(join(SHARED, name), `shared/${name}`),
});

/** The socket tables shipped. */
export const socketTables = (): TextFile => sharedText('sockets.yaml');

/** The drills one can buy. */
export const drillTable = (): TextFile => sharedText('drills.yaml');

/** Style and player of the set-up sheet. */
export const sheetAssets = (): PageAssets => ({
  css: sharedText('sheet/sheet.css').text.trimEnd(),
  player: sharedText('sheet/player.js').text.trimEnd(),
});

/** The shipped texts a job may need; profiles of one's own are looked for from `folder`. */
export const jobTexts = (folder: string): JobTexts => ({
  machine: (name) => profileText(name, folder),
  job: (name) => ({ file: name, text: textOf(isAbsolute(name) ? name : resolve(folder, name), name) }),
  shop: (name) => shopText(name, folder),
  grinding: () => sharedText('grinding.yaml'),
  sockets: socketTables,
  gaugeBlocks: () => sharedText('gauge-blocks.yaml'),
});

/** A job, and the user's own files it was read from, which nothing may be written over. */
export interface JobLoaded extends JobRead {
  readonly inputs: readonly string[];
}

/**
 * Reads the job at `path`, or from standard input for `-`, and the machine it names.
 * @throws InputError
 */
export async function loadJob(path: string, io: Io, machine?: string): Promise<JobLoaded> {
  const folder = path === '-' ? io.cwd : dirname(resolve(io.cwd, path));
  const text = path === '-' ? await io.inputText() : textOf(resolve(io.cwd, path), path);
  const file = path === '-' ? 'standard input' : path;
  const others: string[] = [];
  const own = jobTexts(folder);
  const texts: JobTexts = {
    ...own,
    job: (name) => {
      others.push(resolve(folder, name));
      return own.job(name);
    },
    shop: (name) => {
      const found = own.shop(name);
      if (found !== 'none') others.push(resolve(folder, found.file));
      return found;
    },
  };
  // Read first: a fault in what --machine names is no fault of the job.
  const profile = machine === undefined ? undefined : profileText(machine, io.cwd);
  const read = readJobFile(
    { file, text },
    profile === undefined ? texts : { ...texts, machine: () => profile },
    machine,
  );
  const { machineName } = read.job;
  const profiles = isPath(machineName) ? [resolve(machine === undefined ? folder : io.cwd, machineName)] : [];
  return { ...read, inputs: [path, ...profiles, ...others] };
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
