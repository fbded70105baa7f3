/**
 * The shop file: what is in the drawers, for jobs that refer to it by name. A job that names its `shop`, or a wheel, blank or
 * holding of one, takes from it what it does not say itself; any other job is read as it stands, whatever lies beside it.
 *   wheels, blanks, holdings   entries by name: `wheel: white cup`, or `wheel: {of: white cup, land: 2}`
 *   punch, blank, wheel, grinding, holding, spreads, machine   what every job has that does not say otherwise
 */
import { InputError, type Problem } from './problem.js';
import type { TextFile } from './text-file.js';
import { suggestion } from './validate.js';
import { keyText, type Path, readYaml, type YamlSource } from './yaml-source.js';

type Keys = Readonly<Record<string, unknown>>;

/** Parts of a job that a drawer may hold by name. */
const DRAWERS = { wheel: 'wheels', blank: 'blanks', holding: 'holdings' } as const;
type Drawn = keyof typeof DRAWERS;

const PARTS = ['punch', 'blank', 'wheel', 'grinding', 'holding', 'spreads'] as const;
const KNOWN: readonly string[] = ['units', 'machine', ...Object.values(DRAWERS), ...PARTS];

/** A job's source with what it takes from a shop, and what that was, by key. */
export interface Furnished {
  readonly source: YamlSource;
  readonly shop: { readonly file: string; readonly taken: readonly string[] } | 'none';
}

const isKeys = (value: unknown): value is Keys =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

const keysOf = (value: unknown): Keys => (isKeys(value) ? value : {});

/** The entry of a drawer that a part of a job names. */
function nameIn(part: unknown): string | 'none' {
  if (typeof part === 'string') return part;
  const { of } = keysOf(part);
  return typeof of === 'string' ? of : 'none';
}

const isDrawn = (part: string): part is Drawn => part in DRAWERS;

function valueAt(value: unknown, path: Path): unknown {
  return path.reduce<unknown>(
    (inner, key) => (isKeys(inner) || Array.isArray(inner) ? Reflect.get(inner, key) : undefined),
    value,
  );
}

/** What is more particular wins, key by key; a list is one value. */
function over(base: unknown, own: unknown): unknown {
  if (own === undefined) return base;
  if (!isKeys(base) || !isKeys(own)) return own;
  return Object.fromEntries(
    [...new Set([...Object.keys(base), ...Object.keys(own)])].map((key) => [key, over(base[key], own[key])]),
  );
}

/**
 * A job's source with what it takes from its shop.
 * @param shop the file a job names, or for `undefined` the one that lies beside or above; `none` where there is none.
 * @throws InputError for a name that is in no drawer, and for a shop file that is none.
 */
export function furnish(
  source: YamlSource,
  shop: (name: string | undefined) => TextFile | 'none',
): Furnished {
  const { shop: named, ...job } = keysOf(source.value);
  const names = Object.keys(DRAWERS).filter((part) => nameIn(job[part]) !== 'none');
  if (named === undefined && names.length === 0) return { source, shop: 'none' };
  const complain = (path: Path, message: string, at: YamlSource = source): never => {
    const problem: Problem = { file: at.file, ...at.locate(path), key: keyText(path), message };
    throw new InputError([problem]);
  };
  if (named !== undefined && typeof named !== 'string')
    complain(['shop'], 'must be the path of a shop file, such as shop.yaml');
  const found = shop(typeof named === 'string' ? named : undefined);
  if (found === 'none')
    return complain(
      [names[0] ?? 'shop'],
      'names something of a shop file, and no shop.yaml lies beside the job or above; write it out, or say shop: PATH',
    );
  const from = readYaml(found.text, found.file);
  const drawers = keysOf(from.value);
  const unknown = Object.keys(drawers).find((key) => !KNOWN.includes(key));
  if (unknown !== undefined) complain([unknown], `unknown key; ${suggestion(unknown, KNOWN)}`, from);
  if (job['units'] !== undefined && drawers['units'] !== undefined && job['units'] !== drawers['units'])
    complain(
      ['units'],
      `the job is in ${String(job['units'])} and ${found.file} in ${String(drawers['units'])}: bare numbers of one would be read in the other; write units beside them, or keep two shop files`,
    );
  const taken: string[] = [];
  const entryOf = (part: string): Path | 'none' => {
    if (!isDrawn(part)) return 'none';
    const name = nameIn(job[part]);
    if (name === 'none') return 'none';
    const drawer = keysOf(drawers[DRAWERS[part]]);
    if (drawer[name] === undefined)
      complain(
        typeof job[part] === 'string' ? [part] : [part, 'of'],
        `"${name}" is not among the ${DRAWERS[part]} of ${found.file}; ${suggestion(name, Object.keys(drawer))}`,
      );
    return [DRAWERS[part], name];
  };
  const entries = new Map(PARTS.map((part) => [part as string, entryOf(part)]));
  const furnished = Object.fromEntries(
    PARTS.flatMap((part) => {
      const entry = entries.get(part) ?? 'none';
      const own =
        typeof job[part] === 'string' ? undefined : isDrawn(part) ? withoutOf(job[part]) : job[part];
      const drawn = entry === 'none' ? undefined : valueAt(drawers, entry);
      if (entry !== 'none') taken.push(`${part} ${String(entry[1])}`);
      else if (drawers[part] !== undefined) taken.push(part);
      const value = over(over(drawers[part], drawn), own);
      return value === undefined ? [] : [[part, value]];
    }),
  );
  const common = (key: 'units' | 'machine'): Keys => {
    const value = job[key] ?? drawers[key];
    if (job[key] === undefined && value !== undefined)
      taken.push(key === 'machine' ? `machine ${String(value)}` : key);
    return value === undefined ? {} : { [key]: value };
  };
  const value = { ...job, ...furnished, ...common('units'), ...common('machine') };
  /** Where a value comes from: the job, the entry it names, or what the shop says of every job. */
  const placed = (path: Path): { readonly in: YamlSource; readonly at: Path } => {
    const [part, ...rest] = path;
    const entry = entries.get(String(part)) ?? 'none';
    if (valueAt(job, path) !== undefined) return { in: source, at: path };
    if (entry !== 'none' && valueAt(drawers, [...entry, ...rest]) !== undefined)
      return { in: from, at: [...entry, ...rest] };
    if (valueAt(drawers, path) !== undefined) return { in: from, at: path };
    return { in: source, at: path };
  };
  return {
    shop: { file: found.file, taken },
    source: {
      file: source.file,
      value,
      locate: (path) => {
        const { in: where, at } = placed(path);
        return { file: where.file, ...where.locate(at) };
      },
      locateKey: (path) => {
        const { in: where, at } = placed(path);
        return { file: where.file, ...where.locateKey(at) };
      },
    },
  };
}

/** What a part says besides the name it is drawn by. */
function withoutOf(part: unknown): unknown {
  if (!isKeys(part)) return part;
  const { of: _, ...own } = part;
  return own;
}
