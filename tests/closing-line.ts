/** Prints one plain closing line, `N passed, N failed, N skipped`, that any tool can read. */
import type { Reporter, TestModule } from 'vitest/node';

export default class ClosingLine implements Reporter {
  onTestRunEnd(modules: readonly TestModule[]): void {
    const states = modules.flatMap((module) =>
      [...module.children.allTests()].map((test) => test.result().state),
    );
    const count = (state: string): number => states.filter((each) => each === state).length;
    process.stdout.write(
      `\n${count('passed')} passed, ${count('failed')} failed, ${count('skipped')} skipped\n`,
    );
  }
}
