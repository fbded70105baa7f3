/**
 * Holds a YAML source against a schema and turns what the schema library says into sentences for the
 * person who wrote the file: which key, at which line, what would do, and the nearest known name.
 */
import { closest, distance } from 'fastest-levenshtein';
import * as z from 'zod';
import { InputError, type Problem } from './problem.js';
import { keyText, type Path, type YamlSource } from './yaml-source.js';

/** A default that a file left to us. */
export interface DefaultTaken {
  readonly key: string;
  readonly value: string;
}

interface JsonSchema {
  readonly description?: string;
  readonly default?: unknown;
  readonly enum?: readonly unknown[];
  readonly const?: unknown;
  readonly properties?: Readonly<Record<string, JsonSchema>>;
  readonly items?: JsonSchema;
  readonly anyOf?: readonly JsonSchema[];
  readonly oneOf?: readonly JsonSchema[];
}

/** The JSON Schema of what may be written in the file. */
export const inputSchema = (schema: z.ZodType): JsonSchema =>
  z.toJSONSchema(schema, { io: 'input' }) as JsonSchema;

/**
 * @returns the schema's output.
 * @throws InputError with every problem found, each at its line and column.
 */
export function validate<Output>(source: YamlSource, schema: z.ZodType<Output>): Output {
  // A file is read once: compiling a parser for it costs more than it saves, and a page does not allow it.
  const result = schema.safeParse(source.value, { reportInput: true, jitless: true });
  if (result.success) return result.data;
  const shape = inputSchema(schema);
  const problems = result.error.issues.flatMap((issue) => problemsOf(issue, [], source, shape));
  // A key that is missing only because it is misspelt is one problem, not two.
  const misspelt = new Set(problems.flatMap(({ meant }) => (meant === undefined ? [] : [meant])));
  const told = problems.filter(({ key, missing }) => missing !== true || !misspelt.has(key));
  throw new InputError(
    told.map(({ file, line, column, key, message }) => ({ file, line, column, key, message })),
  );
}

interface Told extends Problem {
  /** The key is not there. */
  readonly missing?: true;
  /** The key the person seems to have meant. */
  readonly meant?: string;
}

type Issue = z.core.$ZodIssue;

function problemsOf(issue: Issue, above: Path, source: YamlSource, shape: JsonSchema): Told[] {
  const path = [...above, ...issue.path];
  const at = (end: Path, message: string): Problem => ({
    file: source.file,
    ...source.locate(end),
    key: keyText(end),
    message,
  });
  if (issue.code === 'unrecognized_keys') {
    const known = keysAt(shape, path);
    return issue.keys.map((key) => {
      const near = nearest(key, known);
      return {
        ...at([...path, key], `unknown key; ${suggestion(key, known)}`),
        ...source.locateKey([...path, key]),
        ...(near === undefined ? {} : { meant: keyText([...path, near]) }),
      };
    });
  }
  if (issue.code === 'invalid_union') {
    const branch = likeliestBranch(issue.errors);
    if (branch !== undefined) return branch.flatMap((inner) => problemsOf(inner, path, source, shape));
  }
  const written = valueAt(source.value, path);
  if (written === undefined) {
    const what = schemasAt(shape, path)[0]?.description;
    return [{ ...at(path, what === undefined ? 'is missing' : `is missing: ${what}`), missing: true }];
  }
  if (issue.code === 'invalid_value') {
    // A sentence of the schema's own says more than a list.
    if (!issue.message.startsWith('Invalid')) return [at(path, issue.message)];
    const values = issue.values.map(String);
    return [at(path, `"${String(written)}" is not known here; ${suggestion(String(written), values)}`)];
  }
  return [at(path, sentence(issue))];
}

const typeNames: Readonly<Record<string, string>> = {
  int: 'a whole number',
  number: 'a number',
  string: 'text',
  object: 'a set of keys',
  array: 'a list',
  tuple: 'a list',
  boolean: 'true or false',
};

function sentence(issue: Issue): string {
  if (issue.code === 'invalid_type') return `must be ${typeNames[issue.expected] ?? issue.expected}`;
  if (issue.code === 'too_small') {
    if (issue.origin === 'string') return 'must not be empty';
    if (issue.inclusive === false) return `must be more than ${issue.minimum}`;
    return `must be at least ${issue.minimum}${issue.origin === 'array' ? ' long' : ''}`;
  }
  if (issue.code === 'too_big')
    return `must be at most ${issue.maximum}${issue.origin === 'string' ? ' characters' : ''}`;
  return issue.message;
}

/**
 * Of the readings a value might have had, the one it came nearest to: the one whose complaints lie
 * deepest, or, at equal depth, that complains about the value and not about its type, and then least.
 */
function likeliestBranch(branches: readonly (readonly Issue[])[]): readonly Issue[] | undefined {
  const score = (branch: readonly Issue[]): number =>
    Math.max(...branch.map((issue) => issue.path.length * 10 + (issue.code === 'invalid_type' ? 0 : 5)));
  const complaints = (branch: readonly Issue[]): number =>
    branch.reduce((sum, issue) => sum + (issue.code === 'unrecognized_keys' ? issue.keys.length : 1), 0);
  const best = branches.toSorted((a, b) => score(b) - score(a) || complaints(a) - complaints(b))[0];
  return best !== undefined && score(best) > 0 ? best : undefined;
}

/** The known name that `typed` comes near to, if any does. */
function nearest(typed: string, known: readonly string[]): string | undefined {
  if (known.length === 0) return undefined;
  const near = closest(typed, [...known]);
  return distance(typed.toLowerCase(), near.toLowerCase()) <= Math.max(2, typed.length / 3)
    ? near
    : undefined;
}

/** `did you mean flatLength? known here: ...` */
export function suggestion(typed: string, known: readonly string[]): string {
  if (known.length === 0) return 'nothing is known here';
  const list = `known here: ${known.join(', ')}`;
  const near = nearest(typed, known);
  return near === undefined ? list : `did you mean ${near}? ${list}`;
}

function valueAt(value: unknown, path: Path): unknown {
  return path.reduce<unknown>(
    (inner, part) => (inner === null || typeof inner !== 'object' ? undefined : Reflect.get(inner, part)),
    value,
  );
}

/** Every schema that may describe the value at `path`; a union gives several. */
function schemasAt(shape: JsonSchema, path: Path): readonly JsonSchema[] {
  const open = (schema: JsonSchema): readonly JsonSchema[] => [
    schema,
    ...[...(schema.anyOf ?? []), ...(schema.oneOf ?? [])].flatMap(open),
  ];
  return path.reduce<readonly JsonSchema[]>(
    (schemas, part) =>
      schemas.flatMap((schema) => {
        const next = typeof part === 'number' ? schema.items : schema.properties?.[String(part)];
        return next === undefined ? [] : open(next);
      }),
    open(shape),
  );
}

const keysAt = (shape: JsonSchema, path: Path): readonly string[] => [
  ...new Set(schemasAt(shape, path).flatMap((schema) => Object.keys(schema.properties ?? {}))),
];

const defaultText = (value: unknown): string =>
  Array.isArray(value) ? (value.length === 0 ? 'none' : value.join(', ')) : String(value);

/** Every default that `value` leaves to the schema, in the schema's order. */
export function defaultsTaken(shape: JsonSchema, value: unknown, above = ''): readonly DefaultTaken[] {
  return Object.entries(shape.properties ?? {}).flatMap(([name, schema]) => {
    const key = above === '' ? name : `${above}.${name}`;
    const written = valueAt(value, [name]);
    if (schema.properties !== undefined && (written !== undefined || schema.default !== undefined)) {
      return defaultsTaken(schema, written ?? schema.default, key);
    }
    return written === undefined && schema.default !== undefined
      ? [{ key, value: defaultText(schema.default) }]
      : [];
  });
}
