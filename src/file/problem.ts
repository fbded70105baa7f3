/** Input that cannot be used, as data: where it stands and what is wrong. Everything found is reported. */
export interface Problem {
  readonly file: string;
  /** 1-based; 0 if the problem is the file itself. */
  readonly line: number;
  readonly column: number;
  /** The key as a path, `punch.relief`; empty for the file as a whole. */
  readonly key: string;
  /** What is wrong and what would do. */
  readonly message: string;
}

/** A job or machine profile that cannot be used. `problems` is never empty. */
export class InputError extends Error {
  override readonly name = 'InputError';
  readonly problems: readonly Problem[];

  constructor(problems: readonly Problem[]) {
    super(problems.map(problemLine).join('\n'));
    this.problems = problems;
  }
}

/** `stem.yaml:9:11 punch.relief: ...` */
export function problemLine({ file, line, column, key, message }: Problem): string {
  const place = line > 0 ? `${file}:${line}:${column}` : file;
  return key === '' ? `${place}: ${message}` : `${place} ${key}: ${message}`;
}
