/** Densities round the clock and overlaps against R's package circular (fixtures/circular.R made fixtures/circular.json). */
import { describe, expect, it, test } from 'vitest'
import { z } from 'zod'
import { besselRatios, expOverBesselI0 } from '../../services/tally/bessel-ratios.ts'
import {
  concentrationOf,
  FULL_CIRCLE,
  kernelConcentration,
  kernelSums,
  resultantLength,
  vonMisesDensity,
} from '../../services/tally/circular-density.ts'
import { type NightOfTwo, overlapOf } from '../../services/tally/overlap.ts'
import { STEPS } from '../../services/tally/when-they-come.ts'
import { farthestApart, readFixture, runScript, whyNoR } from './r-script.ts'

const numbers = z.array(z.number())
const fixture = z
  .object({
    sets: z.record(
      z.string(),
      z.object({
        hours: numbers,
        concentrations: numbers,
        kernel: z.number(),
        packageKernel: z.number(),
        density: numbers,
      }),
    ),
    overlaps: z.array(z.tuple([z.string(), z.string(), z.number(), z.number()])),
    vonMises: z.array(numbers.length(3)),
    bessel: z.array(numbers.length(5)),
  })
  .parse(await readFixture('circular'))

const close = (seen: unknown, expected: unknown, by = 1e-8) =>
  expect(farthestApart(expected, seen)).toBeLessThan(by)
const anglesOf = (name: string) => fixture.sets[name]!.hours.map((hour) => (hour / 24) * FULL_CIRCLE)

it.each(fixture.bessel)(
  'ratios of Bessel functions at %d are R’s',
  (x, first, second, third, ofExponential) => {
    close(besselRatios(x!).slice(1, 4), [first, second, third])
    close(expOverBesselI0(x!), ofExponential)
  },
)

it.each(fixture.vonMises)(
  'the von Mises density %d off, concentration %d, is R’s',
  (apart, concentration, density) => {
    close(vonMisesDensity(apart!, concentration!), density)
  },
)

describe.each(Object.keys(fixture.sets))('visits %s', (name) => {
  const angles = anglesOf(name)
  const expected = fixture.sets[name]!

  it('have the concentrations that R finds for their first three moments', () => {
    const seen = [1, 2, 3].map((moment) => concentrationOf(resultantLength(angles, moment), moment))
    close(seen, expected.concentrations)
  })

  it('have the bandwidth of Taylor 2008 as the package has it', () => {
    close(kernelConcentration(angles), expected.kernel)
    // The package's own concentration is a root found to about 1e-4.
    close(kernelConcentration(angles), expected.packageKernel, 1e-3)
  })

  it('have the density that the package draws', () => {
    const every = STEPS.filter((_, step) => step % 6 === 0)
    const sums = kernelSums(angles, every, kernelConcentration(angles))
    close(
      [...sums].map((sum) => sum / angles.length),
      expected.density,
    )
  })
})

describe.each(fixture.overlaps)('%s and %s', (one, other, first, fourth) => {
  // All visits in one night: without an interval, but with the estimate that their number asks for.
  const night: NightOfTwo = { one: anglesOf(one), other: anglesOf(other) }
  const isFew = Math.min(night.one.length, night.other.length) < 50

  it('overlap as Ridout & Linkie 2009 define it', () => {
    // The curve is told at each ten minutes, R's at ten thousand places.
    close(overlapOf([night], { seed: 1 })!.overlap, isFew ? first : fourth, 5e-4)
  })
})

const why = whyNoR(['circular'])
test.skipIf(why !== '')(`R still gives the fixture${why}`, async () => {
  expect(farthestApart({ ...fixture, overlaps: numbersOf(fixture) }, await rerun())).toBeLessThan(1e-7)
})

/** Names can't be told apart by a difference. */
const numbersOf = ({ overlaps }: typeof fixture) => overlaps.map(([, , first, fourth]) => [first, fourth])
async function rerun() {
  const again = (await runScript('circular')) as typeof fixture
  return { ...again, overlaps: numbersOf(again) }
}
