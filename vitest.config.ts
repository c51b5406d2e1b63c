import { defineConfig } from 'vitest/config'

export default defineConfig({
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  test: {
    include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
    globalSetup: ['tests/integration/start-postgres.ts'],
    reporters: ['default', './tests/closing-line.ts'],
    maxWorkers: 2,
    testTimeout: 60_000,
    hookTimeout: 120_000,
    // A browser on a shared machine may miss a step: what it says itself is tried once more, and told at the end.
    // An assertion that does not hold is never tried again.
    retry: { count: 1, condition: /^(locator|page)\.\w+: / },
  },
})
