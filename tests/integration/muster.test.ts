/** The owner's figures for a muster as kept and answered. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { musterAt } from '../../services/http/muster-answer.ts'
import { musterAnswer } from '../../services/http/muster-shapes.ts'
import { type MusterFigures, nothingSaid, USUAL_MUSTER } from '../../services/planning/muster-figures.ts'
import { parseInstant } from '../../services/station-time.ts'
import { keepMusterFigures, listMusterVersions } from '../../services/store/muster.ts'
import { addPoint } from '../../services/store/points.ts'
import type { Tally } from '../../services/words.ts'
import { openSmallStation, receive, record, type SmallStation } from './small-station.ts'

let station: SmallStation
let unwatchedId: number

/** The night of the 24th is over. */
const NOW = parseInstant('2026-11-25T13:00:00+10:30')
/** A camera without heartbeats: watched from its first photo to its last, 10 days and 10 hours. */
const PHOTOS: ReadonlyArray<readonly [at: string, tally: Tally]> = [
  ['2026-11-14T12:00:00+10:30', { cattle: 8 }],
  ['2026-11-16T18:00:00+10:30', { cattle: 12 }],
  ['2026-11-18T18:00:00+10:30', { cattle: 10, camel: 3 }],
  ['2026-11-24T22:00:00+10:30', { horse: 2 }],
]

beforeAll(async () => {
  station = await openSmallStation()
  const point = {
    kind: 'bore',
    lat: -28.2,
    lon: 134.2,
    hasYard: true,
    lowMarkPercent: 40,
    dryMarkPercent: 5,
  } as const
  unwatchedId = (await addPoint(station.ledger, { ...point, name: 'Never Watched' })).id
  for (const [index, [at, tally]] of PHOTOS.entries()) {
    const still = { name: `photo ${index}`, cameraId: station.cameraIds[1], at: parseInstant(at) }
    await record(station, await receive(station, still), tally)
  }
})
afterAll(() => station.close())

const answer = (version?: number) => musterAt(station.ledger, { version, now: NOW })
const keep = (madeOn: number, change: Partial<MusterFigures>, note: string | null = null) =>
  keepMusterFigures(station.ledger, {
    madeOn,
    figures: { ...USUAL_MUSTER, ...change },
    at: NOW,
    who: 'Ada',
    note,
  })

describe('before anybody gave figures', () => {
  it('the usual ones stand, and nobody said them', async () => {
    const muster = musterAnswer.parse(await answer())
    expect(muster).toMatchObject({ version: null, standing: 0, versions: [], figures: USUAL_MUSTER })
  })

  it('the cattle are those that the cameras saw in the nights that are over', async () => {
    const { points, from, to, plan, notMustered } = await answer()
    expect([from, to]).toEqual(['2026-10-28', '2026-11-24'])
    expect(points[0]).toMatchObject({ visits: 3, largest: 12 })
    // From noon on the 14th to ten at night on the 24th, in days of 24 hours.
    expect(points[0]!.watchedNights).toBeCloseTo(10 + 10 / 24, 2)
    // 30 animal-visits in that time, one drink a day.
    expect(points[0]!.head!.rate).toBeCloseTo(30 / (10 + 10 / 24), 2)
    expect(points[1]).toMatchObject({ pointId: unwatchedId, head: null, watchedNights: 0 })
    expect(plan.steps.map(({ pointId }) => pointId)).toEqual([station.pointId])
    expect(notMustered).toEqual([{ pointId: unwatchedId, why: 'not watched' }])
  })
})

describe('figures that somebody gave', () => {
  it('are kept version by version, and earlier ones can be looked at', async () => {
    expect(await keep(0, { endBy: '2026-12-20' as MusterFigures['endBy'] }, 'first try')).toBe(1)
    const head = { low: 100, high: 140 }
    expect(await keep(1, { points: [{ ...nothingSaid(unwatchedId), head }] })).toBe(2)
    const now = await answer()
    expect(now).toMatchObject({ standing: 2, version: { version: 2, who: 'Ada' } })
    expect(now.plan.steps.map(({ pointId }) => pointId)).toContain(unwatchedId)
    expect(now.plan.latestStart).toBeNull()
    const first = await answer(1)
    expect(first).toMatchObject({ standing: 2, version: { version: 1, note: 'first try' } })
    expect(first.plan.latestStart).not.toBeNull()
    expect((await listMusterVersions(station.ledger)).map(({ version }) => version)).toEqual([2, 1])
  })

  it('on figures that no longer stand are refused, and nothing is written', async () => {
    await expect(keep(1, {})).rejects.toMatchObject({ kind: 'conflict', field: 'madeOn' })
    const both = await Promise.allSettled([keep(2, {}, 'one'), keep(2, {}, 'other')])
    expect(both.map(({ status }) => status).sort()).toEqual(['fulfilled', 'rejected'])
    expect((await answer()).standing).toBe(3)
  })

  it('of a point that there is not are refused at their field', async () => {
    await expect(keep(3, { points: [nothingSaid(9_999)] })).rejects.toMatchObject({
      field: 'figures.points.0.pointId',
    })
    await expect(keep(3, { order: [9_999] })).rejects.toMatchObject({ field: 'figures.order.0' })
    await expect(answer(77)).rejects.toMatchObject({ kind: 'not found', field: 'version' })
  })

  it('can’t be changed afterwards, by anyone', async () => {
    await expect(
      station.ledger.updateTable('muster_versions').set({ who: 'Eve' }).where('version', '=', 1).execute(),
    ).rejects.toThrow(/append-only/)
    await expect(station.ledger.deleteFrom('muster_versions').execute()).rejects.toThrow(/append-only/)
  })
})

describe('feed without rain', () => {
  it('is eaten by stock and by the ferals that were seen there, and by no others', async () => {
    const kg = { low: 1_000, high: 1_000 }
    await keep(3, {
      points: [{ ...nothingSaid(station.pointId), feedKg: kg }],
      rain: { days: 42, kgASheepDay: { low: 1, high: 1 } },
    })
    const { feed, feedNotTold } = await answer()
    const nights = 10 + 10 / 24
    // In the middle of the usual ratings: cattle 9, camel 9.5, horse 10 sheep each; donkeys and goats were not seen.
    const [cattle, ferals] = [(30 / nights) * 9, (3 / nights) * 9.5 + (2 / nights) * 10]
    expect(feed[0]!.days.middle).toBeCloseTo(1_000 / (cattle + ferals), 1)
    expect(feed[0]!.daysWithoutFeral.middle).toBeCloseTo(1_000 / cattle, 1)
    expect(feedNotTold).toEqual([{ pointId: unwatchedId, why: 'no feed given' }])
  })
})
