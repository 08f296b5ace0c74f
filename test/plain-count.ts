import type { Reporter, TestModule } from 'vitest/node';

/** Ends a run with the one plain line that any CI can read: `N passed, N failed`. */
export default class PlainCount implements Reporter {
  onTestRunEnd(modules: ReadonlyArray<TestModule>, errors: ReadonlyArray<unknown>): void {
    let passed = 0;
    let failed = errors.length;
    let skipped = 0;
    for (const module of modules) {
      let testsInFile = 0;
      for (const test of module.children.allTests()) {
        testsInFile += 1;
        const { state } = test.result();
        if (state === 'passed') passed += 1;
        else if (state === 'failed') failed += 1;
        else skipped += 1;
      }
      // A file that could not be loaded has no tests, and is a failure all the same.
      if (testsInFile === 0 && module.state() === 'failed') failed += 1;
    }
    process.on('exit', () => {
      const tail = skipped > 0 ? `, ${skipped} skipped` : '';
      process.stdout.write(`\n${passed} passed, ${failed} failed${tail}\n`);
    });
  }
}
