/** Rates drawn towards the station's, against R's likelihood (fixtures/shrinkage.R made fixtures/shrinkage.json). */
import { expect, it, test } from 'vitest'
import { z } from 'zod'
import { ratePrior } from '../../services/tally/shrinkage.ts'
import { farthestApart, readFixture, runScript, whyNoR } from './r-script.ts'

const fixture = z
  .record(
    z.string(),
    z.object({
      visits: z.array(z.number()),
      watchedNights: z.array(z.number()),
      mean: z.number(),
      shape: z.number().optional(),
    }),
  )
  .parse(await readFixture('shrinkage'))

it.each(Object.entries(fixture))('the prior of the %s points is R’s', (_, expected) => {
  const points = expected.visits.map((visits, i) => ({ visits, watchedNights: expected.watchedNights[i]! }))
  const prior = ratePrior(points)!
  // optim stops where the likelihood no longer changes in double precision, which is about half of the digits of its top.
  expect(Math.abs(prior.mean / expected.mean - 1)).toBeLessThan(1e-4)
  if (expected.shape === undefined) expect(prior.shape).toBe(Number.POSITIVE_INFINITY)
  else expect(Math.abs(prior.shape / expected.shape - 1)).toBeLessThan(1e-3)
})

const why = whyNoR()
test.skipIf(why !== '')(`R still gives the fixture${why}`, async () => {
  expect(farthestApart(fixture, await runScript('shrinkage'))).toBeLessThan(1e-4)
})
