import { expect, test } from 'vitest'
import { TAKEN } from '../../../services/demo/outcomes.ts'
import { removalEstimate } from '../../../services/planning/removal.ts'

test('the finished program’s catch falls, so that it can be told how many camels there were', () => {
  const rounds = TAKEN.map(({ classes }) => ({
    head: Object.values(classes).reduce((sum, head) => sum + head, 0),
    effort: 1,
    cameBack: 0,
  }))
  const estimate = removalEstimate(rounds)
  expect(estimate).toMatchObject({ kind: 'estimate', caught: 16 })
  // Most of them were taken, and some were left: cameras saw a few after it.
  if (estimate.kind !== 'estimate') return
  expect(estimate.head).toBeGreaterThan(16)
  expect(16 / estimate.head).toBeGreaterThan(0.5)
})
