/** Exact intervals and the functions under them, against R (fixtures/intervals.R made fixtures/intervals.json). */
import { expect, it, test } from 'vitest'
import { z } from 'zod'
import { binomialInterval } from '../../services/tally/binomial-interval.ts'
import { poissonInterval } from '../../services/tally/poisson-interval.ts'
import {
  betaQuantile,
  chiSquareQuantile,
  gammaQuantile,
  incompleteBeta,
  incompleteGamma,
  logGamma,
  studentQuantile,
} from '../../services/tally/special-functions.ts'
import { farthestApart, readFixture, runScript, whyNoR } from './r-script.ts'

const four = z.tuple([z.number(), z.number(), z.number(), z.number()])
const five = z.tuple([z.number(), z.number(), z.number(), z.number(), z.number()])
const three = z.tuple([z.number(), z.number(), z.number()])
const fixture = z
  .object({
    binomial: z.array(five),
    poisson: z.array(five),
    beta: z.array(five),
    gamma: z.array(four),
    chiSquare: z.array(three),
    student: z.array(three),
    logGamma: z.array(z.tuple([z.number(), z.number()])),
  })
  .parse(await readFixture('intervals'))

/** R prints 15 digits; its own limits come from roots found to about 1e-10 of the share. */
const close = (seen: number, expected: number) => expect(farthestApart(expected, seen)).toBeLessThan(1e-9)

it.each(fixture.binomial)(
  'a share of %d in %d at level %d has the limits of binom.test',
  (hits, of, level, low, high) => {
    const interval = binomialInterval(hits, of, level)
    close(interval.low, low)
    close(interval.high, high)
  },
)

it.each(fixture.poisson)(
  'a count of %d over %d at level %d has the limits of poisson.test',
  (count, effort, level, low, high) => {
    const interval = poissonInterval(count, effort, level)
    close(interval.low, low)
    close(interval.high, high)
  },
)

// R 4.2.2 poisson.test, as the design of this project states them, to seven digits.
it.each([
  [0, 1, 0, 3.688879],
  [1, 1, 0.02531781, 5.571643],
  [5, 1, 1.623486, 11.66833],
  [10, 1, 4.795389, 18.39036],
  [20, 1, 12.21652, 30.88838],
  [100, 1, 81.36399, 121.6268],
  [137, 24.19893, 4.753125, 6.692709],
])('a count of %d over %d has Garwood’s limits %d to %d', (count, effort, low, high) => {
  const interval = poissonInterval(count, effort)
  expect(interval.low).toBeCloseTo(low, 5)
  expect(interval.high / high).toBeCloseTo(1, 6)
})

it.each(fixture.beta)(
  'the beta function at %d, %d, %d is R’s pbeta, its quantile qbeta',
  (p, a, b, chance, quantile) => {
    close(incompleteBeta(p, a, b), chance)
    close(betaQuantile(p, a, b), quantile)
  },
)

it.each(fixture.gamma)(
  'the gamma quantile at %d, %d is R’s qgamma, its chance pgamma',
  (p, shape, quantile, chance) => {
    close(gammaQuantile(p, shape), quantile)
    close(incompleteGamma(shape, shape * 1.1), chance)
  },
)

it.each(fixture.chiSquare)('the chi-square quantile at %d, %d is R’s qchisq', (p, freedom, quantile) => {
  close(chiSquareQuantile(p, freedom), quantile)
})

it.each(fixture.student)('the quantile of t at %d, %d is R’s qt', (p, freedom, quantile) => {
  close(studentQuantile(p, freedom), quantile)
})

it.each(fixture.logGamma)('the logarithm of gamma at %d is R’s lgamma', (x, expected) => {
  close(logGamma(x), expected)
})

const why = whyNoR()
test.skipIf(why !== '')(`R still gives the fixture${why}`, async () => {
  expect(farthestApart(fixture, await runScript('intervals'))).toBeLessThan(1e-9)
})
