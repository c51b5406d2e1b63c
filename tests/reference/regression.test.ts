/** The station namer's regression against R (fixtures/regression.R made fixtures/regression.json). */
import { expect, it, test } from 'vitest'
import { z } from 'zod'
import { fitRegression, type Matrix, type Sample } from '../../services/learning/softmax-regression.ts'
import { spanOf } from '../../services/learning/span.ts'
import { farthestApart, readFixture, runScript, whyNoR } from './r-script.ts'

const rows = z.array(z.array(z.number()))
const fixture = z
  .object({
    features: rows,
    offsets: rows,
    kinds: z.array(z.number()),
    unridged: rows,
    'ridge0.1': rows,
    ridge5: rows,
  })
  .parse(await readFixture('regression'))

const matrixOf = (values: number[][]): Matrix => ({
  values: Float64Array.from(values.flat()),
  columns: values[0]!.length,
})
const rowsOf = ({ values, columns }: Matrix) =>
  Array.from({ length: values.length / columns }, (_, row) => [
    ...values.slice(row * columns, (row + 1) * columns),
  ])

const sample: Sample = {
  features: matrixOf(fixture.features),
  offsets: matrixOf(fixture.offsets),
  kinds: Int32Array.from(fixture.kinds),
}

it('without a ridge to speak of has the coefficients of nnet::multinom, offset and all', () => {
  const [first, ...others] = rowsOf(fitRegression(sample, 1e-7, { flatness: 1e-9 }).weights)
  // multinom holds the first kind at 0; only differences from it can be told without a ridge.
  const differences = others.map((row) => row.map((weight, j) => weight - first![j]!))
  expect(farthestApart(fixture.unridged, differences)).toBeLessThan(1e-3)
})

it.each([
  ['a light ridge', 0.1, fixture['ridge0.1']],
  ['a heavy ridge', 5, fixture.ridge5],
] as const)('under %s has the coefficients of the likelihood written out in R', (_, ridge, expected) => {
  expect(farthestApart(expected, rowsOf(fitRegression(sample, ridge).weights))).toBeLessThan(1e-3)
})

it('has the same coefficients when fewer crops than numbers are learned in their own span', () => {
  const few = Int32Array.of(0, 1, 2)
  const part: Sample = {
    features: matrixOf(fixture.features.slice(0, 3)),
    offsets: matrixOf(fixture.offsets.slice(0, 3)),
    kinds: sample.kinds.slice(0, 3),
  }
  const span = spanOf(part.features)
  expect(span.features.columns).toBe(3)
  const plain = fitRegression(sample, 0.1, { of: few, flatness: 1e-9 }).weights
  const spanned = span.unfold(
    fitRegression({ ...part, features: span.features }, 0.1, { flatness: 1e-9 }).weights,
  )
  expect(farthestApart(rowsOf(plain), rowsOf(spanned))).toBeLessThan(1e-6)
})

const why = whyNoR(['nnet'])
test.skipIf(why !== '')(`R still gives the fixture${why}`, async () => {
  expect(farthestApart(fixture, await runScript('regression'))).toBeLessThan(1e-4)
})
