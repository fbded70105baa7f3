/** How a command ends: the code, and for a failure the lines a person reads on standard error. */

export const GOOD = 0;
/** Refused: findings, or a plan that cannot be made safely. */
export const REFUSED = 1;
/** The input cannot be used. */
export const UNUSABLE = 2;
/** A fault of ours. */
export const OUR_FAULT = 3;

export type ExitCode = typeof GOOD | typeof REFUSED | typeof UNUSABLE | typeof OUR_FAULT;

/** How a command says what it came to. */
export type Done = (code: ExitCode) => void;

/** Ends a command from anywhere inside it. */
export class Leave extends Error {
  override readonly name = 'Leave';
  readonly code: ExitCode;
  constructor(code: ExitCode, message: string) {
    super(message);
    this.code = code;
  }
}

/** The value of `work`; where it throws one of `expected`, the command ends as one whose input cannot be used. */
export function orLeave<Value>(
  expected: readonly (new (message: string) => Error)[],
  work: () => Value,
): Value {
  try {
    return work();
  } catch (error) {
    if (error instanceof Error && expected.some((kind) => error instanceof kind))
      throw new Leave(UNUSABLE, error.message);
    throw error;
  }
}
