/**
 * What is wrong with a file that is not YAML, in words for the person who wrote it: by the kind of fault the parser
 * names. The parser's own words stay for kinds a job is not likely to have.
 */
import type { ErrorCode } from 'yaml';

/** The line the fault is in, from the fault on. */
type Words = (rest: string) => string;

const TWO_COLONS =
  'a second colon in one line; put a text that holds a colon in quotes, as in title: "clamp: M8"';

const WORDS: Partial<Record<ErrorCode, Words>> = {
  TAB_AS_INDENT: () => 'a tab before the key; indent with spaces',
  DUPLICATE_KEY: () => 'this key stands twice in the same part; keep one of them',
  BLOCK_AS_IMPLICIT_KEY: (rest) =>
    /:\s/.test(rest)
      ? TWO_COLONS
      : 'the next line is indented deeper, as if it belonged to this value; keys of one part start in the same column',
  BAD_INDENT: () =>
    'this line starts in another column than its part does, or a bracket before it is not closed',
  MULTILINE_IMPLICIT_KEY: () =>
    'no colon and space after a key in this line; write it as "key: value", or "key:" above its own keys',
  MISSING_CHAR: () =>
    'something is not closed or not said before here: a quote, a bracket, or the colon after a key',
  BAD_SCALAR_START: (rest) => `a value cannot start with ${rest.charAt(0)}; put it in quotes`,
  UNEXPECTED_TOKEN: () =>
    'something follows a value that had ended; put all of it in one pair of quotes, or take it out',
  MULTIPLE_DOCS: () => 'a second part after "---"; a file holds one job',
};

/** How a program starts: a per cent sign, a program number, a comment in brackets or a block. */
const PROGRAM = /^\s*(?:%\s*(?:\n|$)|\(|O\d|N\d|G\d)/i;

/** Whether `text` looks like a program in words and numbers, given where a job was asked for. */
export const looksLikeProgram = (text: string): boolean => PROGRAM.test(text);

/** One sentence on a fault. @param rest what stands in its line from there on. @param said the parser's own words. */
export const yamlWords = (code: ErrorCode, rest: string, said: string): string =>
  WORDS[code]?.(rest) ?? `not readable as YAML: ${said}`;
