import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { drawAudit, neverLookedAt } from '../../../services/tally/audit-draw.ts'
import { auditShare, recallOf } from '../../../services/tally/audit-share.ts'
import { type AuditedBurst, correctedTotal } from '../../../services/tally/audit-total.ts'
import { binomialInterval, lookedAtForUpperLimit } from '../../../services/tally/binomial-interval.ts'
import { type AuditStill, type Burst, burstsOf } from '../../../services/tally/bursts.ts'
import { instantAt } from './sightings-arbitrary.ts'

const still = (stillId: number, minutes: number, rest: Partial<AuditStill> = {}): AuditStill => ({
  stillId,
  pointId: 1,
  cameraId: 1,
  at: instantAt(minutes),
  light: 'day',
  score: 0,
  flagged: false,
  checked: false,
  ...rest,
})
const burst = (firstStillId: number, rest: Partial<Burst> = {}): Burst => ({
  firstStillId,
  pointId: 1,
  cameraId: 1,
  light: 'day',
  score: 0,
  stillIds: [firstStillId],
  flagged: false,
  checked: false,
  ...rest,
})
const bursts = (count: number, rest: (i: number) => Partial<Burst> = () => ({})) =>
  Array.from({ length: count }, (_, i) => burst(i + 1, rest(i)))

describe('a burst', () => {
  it('is a point’s photos with no gap over the visit gap, from any camera', () => {
    const stills = [still(1, 0), still(2, 30, { cameraId: 2 }), still(3, 61), still(4, 10, { pointId: 2 })]
    expect(burstsOf(stills, 30).map(({ stillIds }) => stillIds)).toEqual([[1, 2], [3], [4]])
  })

  it('goes by the camera, light and score of its best photo', () => {
    const stills = [still(1, 0, { score: 0.1 }), still(2, 5, { score: 0.3, cameraId: 2, light: 'infra-red' })]
    expect(burstsOf(stills, 30)).toMatchObject([{ score: 0.3, cameraId: 2, light: 'infra-red' }])
  })

  it('with one flagged or checked photo can’t be drawn', () => {
    const stills = [
      still(1, 0),
      still(2, 5, { flagged: true }),
      still(3, 60, { checked: true }),
      still(4, 120),
    ]
    expect(neverLookedAt(burstsOf(stills, 30)).map(({ firstStillId }) => firstStillId)).toEqual([4])
  })
})

describe('the audit’s draw', () => {
  it('takes two bursts of every camera, light and score band when it is large enough', () => {
    const all = bursts(80, (i) => ({
      cameraId: i % 2,
      light: i % 4 < 2 ? 'day' : 'infra-red',
      score: i < 40 ? 0 : 0.3,
    }))
    const { strata, drawn } = drawAudit(all, { seed: 'a', size: 20 })
    expect(strata).toHaveLength(8)
    for (const { name } of strata)
      expect(drawn.filter(({ stratum }) => stratum === name).length).toBeGreaterThanOrEqual(2)
    expect(drawn).toHaveLength(20)
  })

  it('takes cameras together when two of each would be too many', () => {
    const all = bursts(400, (i) => ({ cameraId: i % 40, light: i % 80 < 40 ? 'day' : 'infra-red' }))
    const { strata, drawn } = drawAudit(all, { seed: 'a' })
    expect(strata.map(({ name }) => name)).toEqual(['day, band 0', 'infra-red, band 0'])
    expect(drawn).toHaveLength(20)
  })

  it('keeps with each burst the chance it had: those drawn over those there', () => {
    const { drawn } = drawAudit(bursts(50), { seed: 'a', size: 20 })
    expect(drawn.map(({ chance }) => chance)).toEqual(Array(20).fill(0.4))
  })

  it('stands for every burst: 1 / chance sums to the number of bursts', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 300 }), fc.integer({ min: 2, max: 40 }), (count, size) => {
        const all = bursts(count, (i) => ({ cameraId: i % 7, score: (i % 10) / 20 }))
        const { drawn } = drawAudit(all, { seed: 's', size })
        expect(drawn.reduce((sum, { chance }) => sum + 1 / chance, 0)).toBeCloseTo(count, 6)
        expect(new Set(drawn.map((one) => one.burst.firstStillId)).size).toBe(drawn.length)
      }),
    )
  })

  it('is the same again with the same seed, in whatever order the bursts come, and another with another', () => {
    const ids = (all: Burst[], seed: string) =>
      drawAudit(all, { seed, size: 5 }).drawn.map((one) => one.burst.firstStillId)
    expect(ids(bursts(50).reverse(), 'week 1')).toEqual(ids(bursts(50), 'week 1'))
    expect(ids(bursts(50), 'week 2')).not.toEqual(ids(bursts(50), 'week 1'))
  })

  it('gives each burst the same chance', () => {
    const times = new Map<number, number>()
    for (let week = 0; week < 2000; week++)
      for (const one of drawAudit(bursts(10), { seed: `${week}`, size: 3 }).drawn)
        times.set(one.burst.firstStillId, (times.get(one.burst.firstStillId) ?? 0) + 1)
    for (const id of bursts(10).map(({ firstStillId }) => firstStillId)) {
      const { low, high } = binomialInterval(times.get(id) ?? 0, 2000, 0.9999)
      expect(low < 0.3 && 0.3 < high).toBe(true)
    }
  })
})

describe('a count corrected by the audit', () => {
  // A whole week of two strata, small enough that every draw there could have been is tried.
  const week = {
    quiet: [0, 0, 1, 0, 3],
    likely: [2, -1, 0, 4],
  }
  const strata = [
    { name: 'quiet', bursts: 5 },
    { name: 'likely', bursts: 4 },
  ]
  const MACHINE = 20
  const truth = MACHINE + [...week.quiet, ...week.likely].reduce((a, b) => a + b, 0)
  const audited = (stratum: string, differences: readonly number[]): AuditedBurst[] =>
    differences.map((difference) => ({ stratum, machine: 5, truth: 5 + difference }))
  const draws = subsets(week.quiet, 2).flatMap((quiet) =>
    subsets(week.likely, 3).map((likely) => [...audited('quiet', quiet), ...audited('likely', likely)]),
  )
  const results = draws.map((draw) => {
    const result = correctedTotal({ strata, audited: draw }, { machine: MACHINE })
    if (result.kind === 'not enough checked to say') throw new Error('each draw has two of a stratum')
    return { total: result.total, variance: result.kind === 'corrected' ? result.variance : 0 }
  })
  const mean = (of: readonly number[]) => of.reduce((a, b) => a + b, 0) / of.length

  it('is right on the average of all draws there could have been (Horvitz & Thompson 1952)', () => {
    expect(draws).toHaveLength(10 * 4)
    expect(mean(results.map(({ total }) => total))).toBeCloseTo(truth, 10)
  })

  it('knows on the average how far it varies from draw to draw (Cochran 1977, theorem 5.3)', () => {
    const varies = mean(results.map(({ total }) => (total - truth) ** 2))
    expect(mean(results.map(({ variance }) => variance))).toBeCloseTo(varies, 10)
  })

  it('has the variance of Sen (1953) and Yates & Grundy (1953) from the chances of being drawn in pairs', () => {
    const draw = draws[17]!
    // Of one stratum: n(n-1) / N(N-1) for a pair; of two strata the draws are independent, and such pairs drop out.
    const pairs = (['quiet', 'likely'] as const).flatMap((name) => {
      const there = week[name].length
      const drawn = draw.filter(({ stratum }) => stratum === name)
      const one = drawn.length / there
      const both = (drawn.length * (drawn.length - 1)) / (there * (there - 1))
      return subsets(drawn, 2).map(([a, b]) => {
        const apart = (a!.truth - a!.machine) / one - (b!.truth - b!.machine) / one
        return ((one * one - both) / both) * apart ** 2
      })
    })
    expect(results[17]!.variance).toBeCloseTo(
      pairs.reduce((a, b) => a + b, 0),
      10,
    )
  })

  it('is what was seen, without doubt, when every burst was looked at', () => {
    const all = [...audited('quiet', week.quiet), ...audited('likely', week.likely)]
    expect(correctedTotal({ strata, audited: all }, { machine: MACHINE })).toMatchObject({
      kind: 'corrected',
      total: truth,
      low: truth,
      high: truth,
    })
  })

  it('adds what people found in photos they chose themselves as it is, and lets it stand for nothing else', () => {
    const draw = draws[17]!
    const plain = correctedTotal({ strata, audited: draw }, { machine: MACHINE })
    const known = correctedTotal({ strata, audited: draw }, { machine: MACHINE, known: 7 })
    if (plain.kind !== 'corrected' || known.kind !== 'corrected') throw new Error('draw 17 has differences')
    expect([known.total, known.variance]).toEqual([plain.total + 7, plain.variance])
  })

  it('says how many bursts may still differ when none of those looked at did', () => {
    const nothing = audited('all', Array(20).fill(0))
    expect(
      correctedTotal({ strata: [{ name: 'all', bursts: 100 }], audited: nothing }, { machine: 9 }),
    ).toEqual({
      kind: 'no difference found',
      total: 9,
      // 16.8 % of 100 bursts.
      burstsThatMayDiffer: 16,
    })
  })

  it('takes what was found where all were looked at as it is, and tells of the others what may still differ', () => {
    const some = [
      { name: 'all looked at', bursts: 4 },
      { name: 'all', bursts: 100 },
    ]
    const words = [...audited('all looked at', [2, 0, 0, -1]), ...audited('all', Array(20).fill(0))]
    expect(correctedTotal({ strata: some, audited: words }, { machine: 9 })).toEqual({
      kind: 'no difference found',
      total: 10,
      burstsThatMayDiffer: 16,
    })
  })

  it('is not given until each stratum has two words, and says how many more that takes', () => {
    expect(correctedTotal({ strata, audited: audited('quiet', [1]) }, { machine: MACHINE })).toEqual({
      kind: 'not enough checked to say',
      more: 3,
    })
  })
})

describe('a share told by the audit', () => {
  const one = [{ name: 'all', bursts: 1000 }]
  const hits = (count: number, of: number, stratum = 'all') =>
    Array.from({ length: of }, (_, i) => ({ stratum, hit: i < count }))

  it('of 0 in 20 may still be 16.8 %', () => {
    const share = auditShare({ strata: one, audited: hits(0, 20) })
    expect(share).toMatchObject({ kind: 'said', share: 0, low: 0, looked: 20 })
    expect(share.kind === 'said' && share.high).toBeCloseTo(0.168, 3)
  })

  it('of 0 is under 1 % from 368 on', () => {
    expect(lookedAtForUpperLimit(0.01)).toBe(368)
    expect(binomialInterval(0, 368).high).toBeLessThan(0.01)
    expect(binomialInterval(0, 367).high).toBeGreaterThanOrEqual(0.01)
  })

  it('has the exact interval when all bursts had the same chance', () => {
    expect(auditShare({ strata: one, audited: hits(45, 50) })).toEqual({
      kind: 'said',
      looked: 50,
      ...binomialInterval(45, 50),
    })
  })

  it('is weighted by what each stratum holds', () => {
    const strata = [
      { name: 'quiet', bursts: 900 },
      { name: 'likely', bursts: 100 },
    ]
    const share = auditShare({ strata, audited: [...hits(0, 50, 'quiet'), ...hits(25, 50, 'likely')] })
    expect(share).toMatchObject({ kind: 'said', share: 0.05 })
  })

  it('is less sure than its number of words when their weights are unlike', () => {
    const strata = [
      { name: 'quiet', bursts: 900 },
      { name: 'likely', bursts: 100 },
    ]
    const weighted = auditShare({ strata, audited: [...hits(0, 20, 'quiet'), ...hits(0, 80, 'likely')] })
    expect(weighted.kind === 'said' && weighted.high).toBeGreaterThan(binomialInterval(0, 100).high)
  })

  it('is not given from too few words: as many more as are asked for are then enough', () => {
    const few = auditShare({ strata: one, audited: hits(0, 5) })
    if (few.kind === 'said') throw new Error('five are too few')
    expect(auditShare({ strata: one, audited: hits(0, 5 + few.more) }).kind).toBe('said')
    expect(auditShare({ strata: one, audited: hits(0, 4 + few.more) }).kind).toBe('not enough checked to say')
    expect(auditShare({ strata: one, audited: [] })).toMatchObject({ kind: 'not enough checked to say' })
  })

  it('of animals found falls with every burst that may have been missed', () => {
    const right = binomialInterval(100, 100)
    const missed = binomialInterval(0, 20)
    const recall = recallOf({ flagged: 100, right, unflagged: 1000, missed })
    expect(recall).toMatchObject({ share: 1, high: 1 })
    expect(recall?.low).toBeCloseTo((100 * right.low) / (100 * right.low + 1000 * missed.high), 12)
    expect(recallOf({ flagged: 0, right, unflagged: 0, missed })).toBeNull()
  })
})

function subsets<T>(of: readonly T[], size: number): T[][] {
  if (size === 0) return [[]]
  return of.flatMap((first, i) => subsets(of.slice(i + 1), size - 1).map((rest) => [first, ...rest]))
}
