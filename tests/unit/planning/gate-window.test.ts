/** When a set trap meets most of the target and few cattle. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  chosenHours,
  type GateAnswer,
  type GateGiven,
  type GateWindow,
  gateWindow,
} from '../../../services/planning/gate-window.ts'
import { insideOf, mostWithin } from '../../../services/planning/window-search.ts'
import { FULL_CIRCLE } from '../../../services/tally/circular-density.ts'
import type { NightOfTwo } from '../../../services/tally/overlap.ts'
import { drawsFrom } from '../../../services/tally/seeded-draws.ts'

const angleOf = (hour: number) => ((((hour / 24) % 1) + 1) % 1) * FULL_CIRCLE

/** About normal: the sum of twelve even draws less six. */
const around = (hour: number, spread: number, draw: (below: number) => number) =>
  angleOf(
    hour + spread * (Array.from({ length: 12 }, () => draw(1000) / 1000).reduce((a, b) => a + b, 0) - 6),
  )

const cattleAngle = (draw: (below: number) => number) =>
  draw(10) < 3 ? around(19, 1, draw) : around(9, 1.5, draw)

/** Camels about 22:00; cattle in the morning and, three times in ten, at 19:00. */
function drawnNights(many: number, draw: (below: number) => number): NightOfTwo[] {
  return Array.from({ length: many }, () => ({
    one: Array.from({ length: draw(4) }, () => around(22, 1.5, draw)),
    other: Array.from({ length: draw(5) }, () => cattleAngle(draw)),
  }))
}
const given = (nights: readonly NightOfTwo[]): GateGiven => ({
  nights,
  cattleANight: { rate: 30, low: 24, high: 38 },
  seed: 1,
  draws: 200,
})
const windowOf = (answer: GateAnswer): GateWindow => {
  if (answer.kind !== 'window') throw new Error(answer.kind)
  return answer
}
const nights = drawnNights(40, drawsFrom(3))

describe('hours that a person chose', () => {
  it('hold what the same hours hold where they were worked out', () => {
    const worked = windowOf(gateWindow(given(nights), { cattleShare: 0.05, mostHours: 12 }))
    expect(chosenHours(given(nights), worked)).toEqual(worked)
  })

  it('are told as they are, whatever cattle come in them, over midnight and all day round', () => {
    expect(windowOf(chosenHours(given(nights), { from: 6, to: 12 })).cattle!.share).toBeGreaterThan(0.5)
    expect(chosenHours(given(nights), { from: 23.5, to: 1 })).toMatchObject({ from: 23.5, to: 1, hours: 1.5 })
    const all = windowOf(chosenHours(given(nights), { from: 8, to: 8 }))
    expect(all).toMatchObject({ from: 8, to: 8, hours: 24 })
    expect(all.target.share).toBeCloseTo(1, 3)
    expect(chosenHours(given([]), { from: 1, to: 2 })).toMatchObject({ kind: 'too few visits', visits: 0 })
  })
})

describe('the hours of a set trap', () => {
  it('are those of the target, without those of cattle', () => {
    const window = windowOf(gateWindow(given(nights), { cattleShare: 0.05, mostHours: 12 }))
    expect(window.from).toBeGreaterThan(19)
    expect(window.from).toBeLessThan(22)
    expect(window.to).toBeLessThan(9)
    expect(window.target.share).toBeGreaterThan(0.75)
    expect(window.cattle!.share).toBeLessThanOrEqual(0.05 + 0.005)
    expect(window.nights).toBe(40)
  })

  it('come with intervals that hold the shares, and with cattle in head', () => {
    const { target, cattle, cattleHeadANight } = windowOf(
      gateWindow(given(nights), { cattleShare: 0.05, mostHours: 12 }),
    )
    for (const { share, interval } of [target, cattle!]) {
      expect(interval!.low).toBeLessThanOrEqual(share)
      expect(interval!.high).toBeGreaterThanOrEqual(share)
    }
    expect(cattleHeadANight!.rate).toBeCloseTo(cattle!.share * 30, 9)
    expect(cattleHeadANight!.low).toBeCloseTo(cattle!.interval!.low * 24, 9)
    expect(cattleHeadANight!.high).toBeCloseTo(cattle!.interval!.high * 38, 9)
  })

  it('meet no fewer of the target the more cattle are put up with', () => {
    const shares = [0.01, 0.05, 0.2, 0.5, 1].map(
      (cattleShare) => windowOf(gateWindow(given(nights), { cattleShare, mostHours: 10 })).target.share,
    )
    expect(shares).toEqual([...shares].sort((a, b) => a - b))
  })

  it('are never longer than said', () => {
    expect(windowOf(gateWindow(given(nights), { cattleShare: 1, mostHours: 4.3 })).hours).toBe(4)
  })

  it('are none where every half hour has more cattle than the bound', () => {
    const atAllHours = nights.map(({ one }, i) => ({ one, other: [angleOf(i), angleOf(i + 12)] }))
    // A half hour has a forty-eighth of them.
    expect(gateWindow(given(atAllHours), { cattleShare: 0.01, mostHours: 12 })).toEqual({ kind: 'no window' })
  })

  it('are not told under ten visits of the target', () => {
    const few = nights.map(({ other }, i) => ({ one: i < 9 ? [angleOf(22)] : [], other }))
    expect(gateWindow(given(few), { cattleShare: 1, mostHours: 12 })).toEqual({
      kind: 'too few visits',
      visits: 9,
      least: 10,
    })
  })

  it('are told without the bound where cattle came too seldom, and say so', () => {
    const noCattle = nights.map(({ one }) => ({ one, other: [] }))
    expect(windowOf(gateWindow(given(noCattle), { cattleShare: 0.05, mostHours: 8 }))).toMatchObject({
      cattle: null,
      cattleVisits: 0,
      cattleHeadANight: null,
    })
  })

  it('have no interval under 28 nights', () => {
    const { target, cattleHeadANight } = windowOf(
      gateWindow(given(nights.slice(0, 27)), { cattleShare: 0.1, mostHours: 12 }),
    )
    expect(target.interval).toBeNull()
    expect(cattleHeadANight).toBeNull()
  })

  it('turn with the clock', () => {
    const turned = nights.map(({ one, other }) => ({
      one: one.map((angle) => (angle + angleOf(5)) % FULL_CIRCLE),
      other: other.map((angle) => (angle + angleOf(5)) % FULL_CIRCLE),
    }))
    const before = windowOf(gateWindow(given(nights), { cattleShare: 0.05, mostHours: 12 }))
    const after = windowOf(gateWindow(given(turned), { cattleShare: 0.05, mostHours: 12 }))
    expect(after.from).toBe((before.from + 5) % 24)
    expect(after.hours).toBe(before.hours)
  })

  it('meet target and cattle about as often as their interval says, though they were chosen on the same nights', () => {
    const draw = drawsFrom(77)
    const camels = Array.from({ length: 20_000 }, () => around(22, 1.5, draw))
    const cattleHours = Array.from({ length: 20_000 }, () => cattleAngle(draw))
    const trials = 100
    let told = 0
    const [held, lean] = [
      [0, 0],
      [0, 0],
    ]
    for (let trial = 0; trial < trials; trial++) {
      const answer = gateWindow(
        { ...given(drawnNights(40, draw)), seed: trial },
        { cattleShare: 0.05, mostHours: 12 },
      )
      if (answer.kind !== 'window') continue
      told++
      const { from, hours, target, cattle } = answer
      const inside = (angle: number) => ((angle / FULL_CIRCLE) * 24 - from + 24) % 24 < hours
      const species = [
        { seen: target, all: camels },
        { seen: cattle!, all: cattleHours },
      ]
      for (const [i, { seen, all }] of species.entries()) {
        const share = all.filter(inside).length / all.length
        lean[i]! += seen.share - share
        if (seen.interval!.low <= share && seen.interval!.high >= share) held[i]!++
      }
    }
    const leans = lean.map((sum) => (sum / told).toFixed(3))
    console.info(
      `gate windows: of ${told} intervals ${held[0]} held the target's true share, ${held[1]} that of cattle`,
    )
    console.info(
      `gate windows: told shares less true ones, on the average: target ${leans[0]}, cattle ${leans[1]}`,
    )
    expect(told).toBeGreaterThan(90)
    for (const many of held) expect(many / told).toBeGreaterThan(0.85)
    for (const sum of lean) expect(Math.abs(sum / told)).toBeLessThan(0.04)
  })
})

it('of all stretches of half hours none keeps the bound and holds more, and none as short or as early as much', () => {
  const curve = fc.array(fc.integer({ min: 0, max: 9 }), { minLength: 48, maxLength: 48 }).map((halves) => {
    const all = Math.max(
      1,
      halves.reduce((a, b) => a + b, 0),
    )
    return halves.flatMap((half) => Array(3).fill(half / all / 3) as number[])
  })
  fc.assert(
    fc.property(
      curve,
      curve,
      fc.constantFrom(0, 0.1, 0.4),
      fc.integer({ min: 1, max: 24 }),
      (wanted, unwanted, cattleShare, mostHours) => {
        const sum = (of: readonly number[], from: number, long: number) =>
          insideOf({ from, long }).reduce((total, step) => total + of[step]!, 0)
        const window = mostWithin(wanted, unwanted, { cattleShare, mostHours })
        let most = 0
        let first: { from: number; long: number } | null = null
        for (let long = 1; long <= mostHours * 2; long++)
          for (let from = 0; from < 48; from++)
            if (sum(unwanted, from, long) <= cattleShare + 1e-9 && sum(wanted, from, long) > most + 1e-9) {
              most = sum(wanted, from, long)
              first = { from, long }
            }
        expect(window).toEqual(first)
      },
    ),
    { numRuns: 15 },
  )
})
