/** Looks, their draw, and what the words on them say of the rest: a made-up week of which all is known. */
import { describe, expect, it } from 'vitest'
import { randomFor } from '../../../services/demo/random.ts'
import {
  type AuditedLook,
  type AuditWeek,
  foundShare,
  missedShare,
  rightShare,
} from '../../../services/tally/audit-evidence.ts'
import { correctedTotal } from '../../../services/tally/audit-total.ts'
import { correctedCount, isWhole } from '../../../services/tally/corrected-counts.ts'
import { drawLooks } from '../../../services/tally/draw-looks.ts'
import { lightOf } from '../../../services/tally/light.ts'
import {
  countsOf,
  isMissed,
  type Look,
  type LookStill,
  looksOf,
  MOST_PHOTOS_A_LOOK,
} from '../../../services/tally/looks.ts'
import type { Tally } from '../../../services/words.ts'
import { instantAt } from './sightings-arbitrary.ts'

const GAP = 30
const still = (stillId: number, minutes: number, rest: Partial<LookStill> = {}): LookStill => ({
  stillId,
  pointId: 1,
  cameraId: 1,
  at: instantAt(minutes),
  light: 'day',
  score: 0,
  flagged: false,
  checked: false,
  machine: {},
  standing: {},
  lead: null,
  shown: true,
  ...rest,
})
const lead = (species: 'camel' | 'cattle', score: number) => ({ species, score, feral: species === 'camel' })

describe('a look', () => {
  it('is a burst, and in pieces where it is long: a camera on a timer makes one that never ends', () => {
    const stills = Array.from({ length: 30 }, (_, i) => still(i, i * 5))
    expect(looksOf(stills, GAP).map(({ stillIds }) => stillIds.length)).toEqual([
      MOST_PHOTOS_A_LOOK,
      MOST_PHOTOS_A_LOOK,
      30 - 2 * MOST_PHOTOS_A_LOOK,
    ])
  })

  it('counts visits and their peaks as everywhere else, by the machine and as it stands', () => {
    const [look] = looksOf(
      [
        still(1, 0, { machine: { camel: 2 }, standing: { camel: 2 } }),
        still(2, 20, { machine: { camel: 3 }, standing: { camel: 5 } }),
        still(3, 40, { standing: { goat: 1 } }),
        still(4, 60, { machine: { camel: 1 }, standing: { camel: 1 } }),
      ],
      GAP,
    )
    // The last camel comes 40 minutes after the one before it.
    expect(look?.machine).toEqual({ camel: { visits: 2, head: 4 } })
    expect(look?.standing).toEqual({ camel: { visits: 2, head: 6 }, goat: { visits: 1, head: 1 } })
  })

  it('on the flagged side goes by its best feral box, though a cow be surer', () => {
    const stills = [
      still(1, 0, { flagged: true, lead: lead('cattle', 0.9) }),
      still(2, 5, { flagged: true, lead: lead('camel', 0.4) }),
      still(3, 10, { lead: lead('camel', 0.99) }),
    ]
    expect(looksOf(stills, GAP)).toMatchObject([{ side: 'flagged', species: 'camel' }])
  })

  it('has been looked at once all that was flagged has a word, or any photo where nothing was flagged', () => {
    const flagged = { flagged: true, lead: lead('camel', 0.9) }
    const lookedAt = (...stills: LookStill[]) => looksOf(stills, GAP)[0]?.lookedAt
    expect(lookedAt(still(1, 0, { ...flagged, checked: true }), still(2, 5, flagged))).toBe(false)
    expect(lookedAt(still(1, 0, { ...flagged, checked: true }), still(2, 5))).toBe(true)
    expect(lookedAt(still(1, 0), still(2, 5, { checked: true }))).toBe(true)
  })

  it('misses a species that was there and not counted, not one of which too few were counted', () => {
    const counts = (tally: Tally) => countsOf([{ at: instantAt(0), tally }], GAP)
    expect(isMissed('camel', counts({ camel: 1 }), counts({}))).toBe(true)
    expect(isMissed('camel', counts({ camel: 5 }), counts({ camel: 1 }))).toBe(false)
    expect(isMissed('camel', counts({}), counts({ camel: 1 }))).toBe(false)
  })
})

it('a photo is infra-red by its lack of colour, and neither where that was not measured', () => {
  expect([0, 9.9, 10, 80, null].map(lightOf)).toEqual([
    'infra-red',
    'infra-red',
    'day',
    'day',
    'not measured',
  ])
})

/** 600 looks: of the 120 flagged three in four are camels; fifteen of the others hide two camels each. */
const TRUTH_RIGHT = 90
const TRUTH_MISSED = 15
const WEEK: ReadonlyArray<{ readonly look: Look; readonly truth: Tally }> = Array.from(
  { length: 600 },
  (_, i) => {
    const flagged = i % 5 === 0
    const [look] = looksOf(
      [
        still(i, 0, {
          cameraId: i % 3,
          score: flagged ? 0.6 : (i % 7) / 25,
          flagged,
          lead: flagged ? lead('camel', 0.6) : null,
          machine: flagged ? { camel: 1 } : {},
          standing: flagged ? { camel: 1 } : {},
        }),
      ],
      GAP,
    )
    const truth: Tally = flagged ? (i % 4 === 0 ? {} : { camel: 1 }) : i % 40 === 1 ? { camel: 2 } : {}
    return { look: look!, truth }
  },
)

/** The week's looks drawn with a seed, and looked at: all of them, or none. */
function auditOf(seed: string, size: number, answered = true): AuditWeek {
  const { drawn, strata } = drawLooks(
    WEEK.map(({ look }) => look),
    { seed, size },
  )
  const truthOf = new Map(WEEK.map(({ look, truth }) => [look.firstStillId, truth]))
  const there = strata.flatMap(({ side, name, members }) =>
    members.map((look) => ({
      side,
      stratum: name,
      species: look.species ?? ('none' as const),
      cameraId: look.cameraId,
      pointId: look.pointId,
      light: look.light,
      looks: 1,
    })),
  )
  const looks = drawn.map(
    ({ side, stratum, burst }): AuditedLook => ({
      side,
      stratum,
      species: burst.species,
      cameraId: burst.cameraId,
      pointId: burst.pointId,
      light: burst.light,
      machine: burst.machine,
      truth: answered
        ? countsOf([{ at: instantAt(0), tally: truthOf.get(burst.firstStillId) ?? {} }], GAP)
        : null,
    }),
  )
  const counts = [
    { pointId: 1, species: 'camel' as const, visits: 120, head: 120, knownVisits: 0, knownHead: 0 },
  ]
  return { id: 1, there, looks, known: [], counts }
}

describe('words on the looks that were drawn', () => {
  it('cover the truth as often as they say, over many draws', () => {
    const seeds = Array.from({ length: 100 }, (_, i) => `draw ${i}`)
    const covered = { right: 0, missed: 0, head: 0 }
    for (const seed of seeds) {
      const week = auditOf(seed, 60)
      const right = rightShare([week], ['camel'])
      const missed = missedShare([week], { of: ['camel'], known: 'camel' })
      const head = correctedCount([week], { species: 'camel', what: 'head' }).corrected
      if (right.kind !== 'said' || missed.kind !== 'said') throw new Error('sixty of each side are enough')
      if (right.low <= TRUTH_RIGHT / 120 && TRUTH_RIGHT / 120 <= right.high) covered.right++
      if (missed.low <= TRUTH_MISSED / 480 && TRUTH_MISSED / 480 <= missed.high) covered.missed++
      const truth = TRUTH_RIGHT + 2 * TRUTH_MISSED
      if (head.kind === 'corrected' && head.low <= truth && truth <= head.high) covered.head++
    }
    // Of 100 intervals that each hold at 95 in 100, fewer than 89 would come once in some hundred (binomial, 0.4 %).
    expect(covered.right).toBeGreaterThanOrEqual(89)
    expect(covered.missed).toBeGreaterThanOrEqual(89)
    // Few looks hide camels, so a total's interval is rough (services/tally/audit-total.ts): a little less is allowed.
    expect(covered.head).toBeGreaterThanOrEqual(80)
  })

  it('tell several weeks together, and leave a week out until it has its words', () => {
    const [first, second] = [auditOf('one', 40), { ...auditOf('two', 40, false), id: 2 }]
    expect([isWhole(first), isWhole(second)]).toEqual([true, false])
    expect(rightShare([first, second], ['camel'])).toEqual(rightShare([first], ['camel']))
    const both = rightShare([first, { ...auditOf('two', 40), id: 2 }], ['camel'])
    expect(both.drawn).toBe(80)
  })

  it('put several weeks right together, and say more of them than of one', () => {
    const weeks = ['one', 'two', 'three'].map((seed, id) => ({ ...auditOf(seed, 60), id }))
    const told = (of: readonly AuditWeek[]) => correctedCount(of, { species: 'camel', what: 'head' })
    const [one, all] = [told(weeks.slice(0, 1)), told(weeks)]
    if (one.corrected.kind !== 'corrected' || all.corrected.kind !== 'corrected')
      throw new Error('sixty looks of each side hold some that differ')
    expect(all.seen).toBe(3 * one.seen)
    const reach = ({ low, high }: { readonly low: number; readonly high: number }) => high - low
    expect(reach(all.corrected)).toBeLessThan(3 * reach(one.corrected))
    const sums = weeks.map((week) => told([week]).corrected)
    const total = sums.reduce((sum, part) => sum + (part.kind === 'corrected' ? part.total : Number.NaN), 0)
    expect(all.corrected.total).toBeCloseTo(total, 9)
  })

  it('are told for a camera where its looks are enough, and not where they are not', () => {
    const week = auditOf('cameras', 200)
    const told = missedShare([week], { of: ['camel'], known: 'any' }, { cameraId: 1 })
    expect(told.kind).toBe('said')
    expect(told.drawn).toBeLessThan(missedShare([week], { of: ['camel'], known: 'any' }).drawn)
    expect(missedShare([week], { of: ['camel'], known: 'any' }, { cameraId: 99 })).toMatchObject({
      kind: 'not enough checked to say',
      drawn: 0,
    })
  })

  it('find of all looks with camels as many as were flagged', () => {
    const all = auditOf('all', 1000)
    expect(foundShare([all], 'camel')?.share).toBeCloseTo(TRUTH_RIGHT / (TRUTH_RIGHT + TRUTH_MISSED), 12)
  })
})

/**
 * Lohr 2021, Sampling: Design and Analysis, 3rd edition, example 3.2: acres of farm land in the United States from a
 * stratified sample of 300 of 3,078 counties; total 909,736,035 with standard error 50,417,248. The strata by their
 * counties, sample, mean and variance, from memory; they give the total and the error of the book.
 */
it('a total over strata is that of a published example', () => {
  const book = [
    { name: 'north-east', bursts: 220, sample: 21, mean: 97_629.81, variance: 7_647_472_708 },
    { name: 'north-central', bursts: 1054, sample: 103, mean: 300_504.16, variance: 29_618_183_543 },
    { name: 'south', bursts: 1382, sample: 135, mean: 211_315.04, variance: 53_587_487_856 },
    { name: 'west', bursts: 422, sample: 41, mean: 662_295.51, variance: 396_185_950_266 },
  ]
  const audited = book.flatMap(({ name, sample, mean, variance }) => {
    // Samples of an odd size with this mean and variance: one in the middle, the others as far to either side.
    const away = Math.sqrt(variance)
    return Array.from({ length: sample }, (_, i) => ({
      stratum: name,
      machine: 0,
      truth: mean + (i === 0 ? 0 : i % 2 === 0 ? away : -away),
    }))
  })
  const told = correctedTotal({ strata: book, audited }, { machine: 0 })
  if (told.kind !== 'corrected') throw new Error('each stratum has its sample')
  // The means are rounded to a hundredth of an acre.
  expect(Math.abs(told.total - 909_736_035)).toBeLessThan(20)
  expect(Math.sqrt(told.variance)).toBeCloseTo(50_417_248, -1)
})

it('a draw for which the seed is told can be made again by anyone', () => {
  const looks = WEEK.map(({ look }) => look)
  const ids = (seed: string) =>
    drawLooks(looks, { seed, size: 20 }).drawn.map(({ burst }) => burst.firstStillId)
  expect(ids('seed')).toEqual(ids('seed'))
  const shuffled = randomFor(1, 'looks').sample(looks, looks.length)
  expect(
    drawLooks(shuffled, { seed: 'seed', size: 20 }).drawn.map(({ burst }) => burst.firstStillId),
  ).toEqual(ids('seed'))
})
