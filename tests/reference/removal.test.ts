/** Head before a removal against likelihoods written out in R (fixtures/removal.R) and the published example. */
import { describe, expect, it, test } from 'vitest'
import { z } from 'zod'
import { catchPerEffort } from '../../services/planning/catch-per-effort.ts'
import { removalEstimate } from '../../services/planning/removal.ts'
import { catchOf } from '../../services/planning/removal-conditions.ts'
import { likelyHead } from '../../services/planning/removal-likelihood.ts'
import { farthestApart, readFixture, runScript, whyNoR } from './r-script.ts'

const numbers = z.array(z.number())
const fixture = z
  .object({
    catches: z.array(
      z.object({
        catch: numbers,
        likeliest: z.number(),
        low: z.number(),
        high: z.number(),
        weighted: z.number(),
        zippin: z.number(),
        chance: z.number(),
        chiSquare: z.number(),
        p: z.number(),
      }),
    ),
    lines: z.array(
      z.object({
        catch: numbers,
        effort: numbers,
        head: z.number(),
        low: z.number(),
        high: z.number(),
        perEffort: z.number(),
      }),
    ),
  })
  .parse(await readFixture('removal'))

const roundsOf = (heads: readonly number[], effort: readonly number[] = heads.map(() => 1)) =>
  heads.map((head, i) => ({ head, effort: effort[i]!, cameBack: 0 }))

/** R's integrals and roots are good to about 1e-8. */
const close = (seen: number, expected: number) => expect(farthestApart(expected, seen)).toBeLessThan(1e-7)

it.each(fixture.catches)('a catch of $catch has the numbers that R finds', (expected) => {
  const estimate = removalEstimate(roundsOf(expected.catch))
  if (estimate.kind === 'refused') throw new Error(`refused: ${estimate.why}`)
  expect(estimate.head).toBe(expected.weighted)
  expect(estimate.low).toBe(expected.low)
  // R looks 400 head up: what is not found there may still have an end further on.
  if (expected.high > 0) expect(estimate.high).toBe(expected.high)
  else expect(estimate.high ?? Number.POSITIVE_INFINITY).toBeGreaterThan(400)
  expect(likelyHead(catchOf(roundsOf(expected.catch))).likeliest).toBe(expected.likeliest)
  close(estimate.byZippin, expected.zippin)
  close(estimate.chance, expected.chance)
  close(estimate.fit.chiSquare, expected.chiSquare)
  close(estimate.fit.p, expected.p)
})

describe('the examples of Carle & Strub 1978 (from memory)', () => {
  it('38, 26, 12: N = 91, p = 0.444, standard error 9.7; the likelihood alone 92, Zippin’s equation 94.9', () => {
    const estimate = removalEstimate(roundsOf([38, 26, 12]))
    if (estimate.kind === 'refused') throw new Error(estimate.why)
    expect(estimate.head).toBe(91)
    expect(estimate.chance).toBeCloseTo(0.444, 3)
    expect(estimate.standardError).toBeCloseTo(9.7, 1)
    expect(estimate.byZippin).toBeCloseTo(94.9, 1)
    expect(likelyHead(catchOf(roundsOf([38, 26, 12]))).likeliest).toBe(92)
  })

  it('5, 7, 8: the catch does not fall, and nothing can be told', () => {
    expect(removalEstimate(roundsOf([5, 7, 8]))).toEqual({ kind: 'refused', why: 'catch not falling' })
  })
})

it.each(fixture.lines)('a catch of $catch with efforts $effort has the line of R’s lm', (expected) => {
  const estimate = catchPerEffort(roundsOf(expected.catch, expected.effort))
  if (estimate.kind === 'refused') throw new Error(`refused: ${estimate.why}`)
  close(estimate.head, expected.head)
  close(estimate.low, expected.low)
  close(estimate.high, expected.high)
  close(estimate.perEffort, expected.perEffort)
})

const why = whyNoR()
test.skipIf(why !== '')(`R still gives the fixture${why}`, async () => {
  expect(farthestApart(fixture, await runScript('removal'))).toBeLessThan(1e-7)
})
