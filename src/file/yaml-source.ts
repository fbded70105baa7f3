/** YAML text with the place of every key, so that each problem can point at its line and column. */
import { type Document, isAlias, isMap, isScalar, isSeq, LineCounter, type Node, parseDocument } from 'yaml';
import { InputError } from './problem.js';
import { looksLikeProgram, yamlWords } from './yaml-words.js';

export type Path = readonly PropertyKey[];

export interface Place {
  /** Where it is not the file that is read. */
  readonly file?: string;
  readonly line: number;
  readonly column: number;
}

export interface YamlSource {
  readonly file: string;
  readonly value: unknown;
  /** Where the value at `path` stands, or the nearest key above it that is there. */
  readonly locate: (path: Path) => Place;
  /** Where the last key of `path` itself stands. */
  readonly locateKey: (path: Path) => Place;
}

/** Names a path as a person would: `punch.section.flats[1].at`. */
export const keyText = (path: Path): string =>
  path.reduce<string>((text, part) => {
    if (typeof part === 'number') return `${text}[${part}]`;
    return text === '' ? String(part) : `${text}.${String(part)}`;
  }, '');

/** The inverse of `keyText` for keys without brackets. */
export const pathOf = (key: string): Path => (key === '' ? [] : key.split('.'));

/**
 * Parses one YAML (or JSON) document.
 * @throws InputError naming line and column of every syntax error.
 */
export function readYaml(text: string, file: string): YamlSource {
  if (looksLikeProgram(text)) {
    const message =
      'this is a program; here belongs a file of keys and values, such as a job (flatwright check reads programs)';
    throw new InputError([{ file, line: 1, column: 1, key: '', message }]);
  }
  const lines = new LineCounter();
  const document = parseDocument(text, { lineCounter: lines, uniqueKeys: true, prettyErrors: false });
  const place = (offset: number): Place => {
    const { line, col } = lines.linePos(offset);
    return { line, column: col };
  };
  // What follows a first syntax error is mostly its echo.
  const [error] = [...document.errors, ...document.warnings];
  if (error !== undefined) {
    const [rest = ''] = text.slice(error.pos[0]).split('\n');
    const message = yamlWords(error.code, rest, error.message);
    throw new InputError([{ file, ...place(error.pos[0]), key: '', message }]);
  }
  if (!isMap(document.contents)) {
    const message = 'the file must hold keys and values, such as "title: stem-bolt hex 5"';
    throw new InputError([{ file, line: 1, column: 1, key: '', message }]);
  }
  let value: unknown;
  try {
    value = document.toJS({ maxAliasCount: 100 });
  } catch (error) {
    throw new InputError([{ file, line: 1, column: 1, key: '', message: `not readable: ${String(error)}` }]);
  }
  return {
    file,
    value,
    locate: (path) => place(offsetOf(document, path, 'value')),
    locateKey: (path) => place(offsetOf(document, path, 'key')),
  };
}

function offsetOf(document: Document, path: Path, end: 'key' | 'value'): number {
  let node = document.contents as Node | null;
  let offset = 0;
  for (const [depth, part] of path.entries()) {
    if (isAlias(node)) node = node.resolve(document) ?? null;
    if (isMap(node)) {
      const pair = node.items.find(({ key }) => isScalar(key) && key.value === part);
      if (pair === undefined) return offset;
      node = (pair.value as Node | null) ?? null;
      const key = pair.key as Node;
      const ofValue =
        isScalar(node) && !(end === 'key' && depth === path.length - 1) ? node.range?.[0] : undefined;
      offset = ofValue ?? key.range?.[0] ?? offset;
    } else if (isSeq(node)) {
      node = (node.items[Number(part)] as Node | undefined) ?? null;
      offset = node?.range?.[0] ?? offset;
    } else return offset;
  }
  return offset;
}
