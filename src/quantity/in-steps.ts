/**
 * Work that takes long: it says now and then how far it is, as a share from 0 to 1, and may be left there. Whoever cannot
 * wait drives it a step at a time; whoever can, to its end.
 */
export type InSteps<Result> = Generator<number, Result, undefined>;

/** All of it at once; whoever wants to hears each share. */
export function toTheEnd<Result>(work: InSteps<Result>, hear?: (share: number) => void): Result {
  let step = work.next();
  while (step.done !== true) {
    hear?.(step.value);
    step = work.next();
  }
  return step.value;
}
