/** The made-up years of the growth bench: what is kept beside the photos must be what the product would keep of them. */
import { describe, expect, it } from 'vitest'
import { secondsWithin, unionOf, watchedSpells } from '../../../services/tally/effort.ts'
import { judgeStill } from '../../../services/tally/judge.ts'
import { nightRowsOf } from '../../../services/tally/night-rows.ts'
import { nightOf, nightSpell, nightsBetween } from '../../../services/tally/nights.ts'
import { type Sighting, visitsOf } from '../../../services/tally/visits.ts'
import { type Box, type Instant, type NightDate, SPECIES, type Zone } from '../../../services/words.ts'
import { countNight, sightingOf } from '../../bench/growth/counts.ts'
import { type HistoryPlan, type MadeStill, nightsOfHistory } from '../../bench/growth/history.ts'
import { heartbeatsOf, scheduleOf, watchedAt } from '../../bench/growth/schedule.ts'

const zone = 'Australia/Adelaide' as Zone
const GAP_MINUTES = 30
const SILENCE_HOURS = 26
/** Both changes of the clock in South Australia lie in these nights: October 2025 and April 2026. */
const plan: HistoryPlan = {
  seed: 5,
  stills: 6_000,
  points: 6,
  camerasPerPoint: 2,
  nights: nightsBetween('2025-09-01' as NightDate, '2026-05-01' as NightDate),
  zone,
}
const nights = [...nightsOfHistory(plan)]
const stills = nights.flatMap((night) => night.stills)

describe('a made-up history', () => {
  it('is the same for the same seed, and another for another', () => {
    expect([...nightsOfHistory(plan)]).toEqual(nights)
    expect([...nightsOfHistory({ ...plan, seed: 6 })]).not.toEqual(nights)
  })

  it('has as many photos as planned, numbered in order of time', () => {
    expect(stills.map(({ id }) => id)).toEqual(Array.from({ length: plan.stills }, (_, i) => i + 1))
    expect(stills.every((still, i) => i === 0 || still.takenAt >= stills[i - 1]!.takenAt)).toBe(true)
  })

  it('has every sort of photo', () => {
    const some = (is: (still: MadeStill) => boolean) => expect(stills.some(is)).toBe(true)
    for (const species of SPECIES) some((still) => still.species === species)
    some(({ boxes }) => boxes.length === 0)
    some(({ unreadable }) => unreadable)
    some(({ clockInDoubt }) => clockInDoubt)
    some(({ unsure }) => unsure)
    some(({ check }) => check === 'agreed')
    some(({ check }) => check === 'corrected')
  })

  it('puts each photo into its night, by a camera of its point that is up', () => {
    const schedule = scheduleOf(plan)
    for (const still of stills) {
      expect(nightOf(still.takenAt, zone)).toBe(still.night)
      expect(schedule.camerasUp(still.point, plan.nights.indexOf(still.night))).toContain(still.camera)
    }
  })

  it('marks and counts each photo as the product judges its boxes', () => {
    const thresholds = Object.fromEntries(
      SPECIES.map((species) => [species, { count: 0.5, flag: 0.35 }]),
    ) as Record<(typeof SPECIES)[number], { count: number; flag: number }>
    for (const still of stills) {
      const found = still.boxes.map(({ species, score, place }) => {
        const box: Box = [10 + place * 150, 120, 130 + place * 150, 210]
        return { species, score, runnerUp: 0.05, box }
      })
      const judged = judgeStill({ found, thresholds, feral: new Set(['camel', 'horse', 'donkey', 'goat']) })
      expect(judged).toMatchObject({ flagged: still.flagged, unsure: still.unsure, feral: still.feral })
      if (still.check !== 'corrected') {
        expect(judged.tally).toEqual(still.species === null ? {} : { [still.species]: still.head })
      }
    }
  })

  it('counts visits and nights as a count from nothing over all its years does', () => {
    const counted = nights.flatMap(({ night, stills: ofNight }) =>
      countNight(ofNight, GAP_MINUTES).map((row) => ({ night, ...row })),
    )
    for (let point = 0; point < plan.points; point += 1) {
      for (const species of SPECIES) {
        const sightings = stills
          .filter((still) => still.point === point && still.species === species)
          .map(sightingOf)
          .filter((sighting): sighting is Sighting => sighting !== null)
        const visits = visitsOf(sightings, GAP_MINUTES)
        const kept = counted.filter((row) => row.point === point && row.species === species)
        expect(kept.flatMap((row) => row.visits)).toEqual(visits)
        expect(
          kept.map(({ night, visits: { length }, least, sumOfPeaks, photos }) => ({
            night,
            visits: length,
            least,
            sumOfPeaks,
            photos,
          })),
        ).toEqual(nightRowsOf({ sightings, visits, zone }))
      }
    }
  })

  it('knows when each point was watched as its heartbeats and photos say', () => {
    const schedule = scheduleOf(plan)
    const trusted = (camera: number) =>
      stills.filter((still) => still.camera === camera && !still.clockInDoubt).map(({ takenAt }) => takenAt)
    const putUpAt = nightSpell(plan.nights[0]!, zone).from
    for (let point = 0; point < plan.points; point += 1) {
      const spells = [2 * point, 2 * point + 1].flatMap((camera) =>
        watchedSpells({
          contacts: [...heartbeatsOf(plan, schedule, camera), ...trusted(camera)],
          deployments: [{ from: putUpAt, to: null }],
          expectedSilenceHours: SILENCE_HOURS,
          sendsHeartbeats: schedule.sendsHeartbeats(camera),
        }),
      )
      const lastPhotoAt = (camera: number) => (trusted(camera).at(-1) ?? null) as Instant | null
      const watched = watchedAt(plan, schedule, { point, lastPhotoAt })
      const seconds = (of: typeof spells) =>
        plan.nights.map((night) => secondsWithin(of, nightSpell(night, zone)))
      expect(seconds(watched)).toEqual(seconds(unionOf(spells)))
      expect(seconds(watched).some((one) => one === 0) || point % 4 === 0).toBe(true)
    }
  })
})
