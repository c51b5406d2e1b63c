import type { Reporter, TestModule } from 'vitest/node'

/**
 * Prints which tests of the browser were tried twice, then the run's last line, `N passed, N failed, N skipped`: a file
 * that could not be loaded counts as failed.
 */
export default class ClosingLine implements Reporter {
  onTestRunEnd(modules: ReadonlyArray<TestModule>, unhandledErrors: ReadonlyArray<unknown>): void {
    const twice: string[] = []
    const count = { passed: 0, failed: unhandledErrors.length, skipped: 0 }
    for (const module of modules) {
      const before = count.passed + count.failed + count.skipped
      for (const test of module.children.allTests()) {
        const state = test.result().state
        if (state === 'passed' || state === 'failed') count[state] += 1
        else count.skipped += 1
        if ((test.diagnostic()?.retryCount ?? 0) > 0) twice.push(test.fullName)
      }
      const ran = count.passed + count.failed + count.skipped - before
      if (module.state() === 'failed' && ran === 0) count.failed += 1
    }
    // After the default reporter's summary, which is written in the same tick.
    setImmediate(() => {
      for (const name of twice) console.log(`Tried twice: ${name}`)
      console.log(`${count.passed} passed, ${count.failed} failed, ${count.skipped} skipped`)
    })
  }
}
