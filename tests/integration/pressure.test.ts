/** A week's pressure as kept and answered, held against a count from the photos themselves. */
import { parse as parseCsv } from 'csv-parse/sync'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { pressureOf } from '../../services/http/pressure-answer.ts'
import { whenTheyComeAt } from '../../services/http/when-they-come-answer.ts'
import { REPORT_COLUMNS } from '../../services/report/columns.ts'
import { reportCsv, unitsCsv } from '../../services/report/csv.ts'
import { parseInstant } from '../../services/station-time.ts'
import { addPoint } from '../../services/store/points.ts'
import { saveRatings } from '../../services/store/ratings.ts'
import { weekNamed } from '../../services/tally/week-name.ts'
import type { NightDate, Tally } from '../../services/words.ts'
import { keptAggregates, recountFromNothing } from './recount.ts'
import { openSmallStation, receive, record, type SmallStation } from './small-station.ts'

let station: SmallStation
let unwatchedId: number

/** Clocks go forward on Sunday 2026-10-04 in Adelaide: the week 2026-W40, of Monday 2026-09-28, has 167 hours. */
const NOW = parseInstant('2026-10-06T09:00:00+10:30')
const PHOTOS: ReadonlyArray<readonly [at: string, tally: Tally]> = [
  // Before noon on Monday: the night of Sunday, last week.
  ['2026-09-28T11:50:00+09:30', { camel: 7 }],
  ['2026-09-28T12:40:00+09:30', { camel: 2 }],
  ['2026-09-28T13:00:00+09:30', { camel: 3, cattle: 1 }],
  ['2026-09-30T22:00:00+09:30', { camel: 4 }],
  ['2026-10-02T01:00:00+09:30', { cattle: 6 }],
  // Before noon on Monday: still the night of Sunday, in summer time.
  ['2026-10-05T11:30:00+10:30', { camel: 1 }],
  ['2026-10-05T12:10:00+10:30', { camel: 9 }],
]

beforeAll(async () => {
  station = await openSmallStation()
  const { id } = await addPoint(station.ledger, {
    name: 'No "Camera", Bore',
    kind: 'bore',
    lat: -28.2,
    lon: 134.2,
    hasYard: false,
    lowMarkPercent: 40,
    dryMarkPercent: 5,
  })
  unwatchedId = id
  for (const [index, [at, tally]] of PHOTOS.entries()) {
    const still = { name: `photo ${index}`, cameraId: station.cameraIds[1], at: parseInstant(at) }
    await record(station, await receive(station, still), tally)
  }
})
afterAll(() => station.close())

const answer = (name = '2026-W40', everyRow = false) =>
  pressureOf(station.ledger, { week: weekNamed(name)!, now: NOW, everyRow })

describe('the pressure of a week', () => {
  it('has the visits and the animal-visits that begin from noon on Monday to the next', async () => {
    const { rows, species } = await answer()
    expect(rows).toMatchObject([
      { species: 'cattle', visits: 2, animalVisits: 1 + 6, largest: 6, visitsByNight: [1, 0, 0, 1, 0, 0, 0] },
      // 2 and 3 camels twenty minutes apart are one visit with a peak of 3; then 4; then 1.
      {
        species: 'camel',
        visits: 3,
        animalVisits: 3 + 4 + 1,
        largest: 4,
        visitsByNight: [1, 0, 1, 0, 0, 0, 1],
      },
    ])
    expect(species.find((one) => one.species === 'camel')).toMatchObject({ visits: 3, animalVisits: 8 })
    expect(rows[1]).toMatchObject({
      firstAt: '2026-09-28T12:40:00+09:30',
      lastAt: '2026-10-05T11:30:00+10:30',
    })
  })

  it('has a night of 23 hours as a whole night', async () => {
    const { points } = await answer()
    // The camera sends no heartbeats and had its first photo before the week and its last one after it.
    expect(points[0]).toMatchObject({ watchedNights: 7, watchedByNight: [1, 1, 1, 1, 1, 1, 1] })
  })

  it('tells the rate per 100 watched nights with exact limits', async () => {
    const { rows } = await answer()
    const { visitRate } = rows[1]!
    // 3 events: 0.6186721 to 8.767273 (Garwood 1936, Biometrika 28:437-442, table; from memory).
    expect(visitRate!.rate).toBeCloseTo((100 * 3) / 7, 1)
    expect(visitRate!.low).toBeCloseTo(61.86721 / 7, 2)
    expect(visitRate!.high).toBeCloseTo(876.7273 / 7, 0)
  })

  it('says that a point was not watched, and gives it no rate', async () => {
    const { points, rows } = await answer('2026-W40', true)
    expect(points[1]).toMatchObject({
      pointId: unwatchedId,
      watchedNights: 0,
      watchedByNight: [0, 0, 0, 0, 0, 0, 0],
      water: { feral: null, stock: null },
    })
    const there = rows.filter(({ pointId }) => pointId === unwatchedId)
    expect(there).toHaveLength(5)
    for (const row of there)
      expect(row).toMatchObject({ visits: 0, visitRate: null, animalRate: null, load: null })
  })

  it('compares with the week before and the four before, and says when that is too little', async () => {
    const { rows, fourWeeks } = await answer()
    expect(fourWeeks).toEqual({ from: '2026-08-31', to: '2026-09-27' })
    // Its first photo came ten minutes before the week began.
    expect(rows[1]!.lastWeek).toMatchObject({ visits: 1, verdict: 'too few nights to tell' })
    expect(rows[1]!.lastWeek.watchedNights).toBeCloseTo(10 / 60 / 24, 4)
  })

  it('is the sum of its nights as counted from nothing, in this week and those beside it', async () => {
    const counted = await recountFromNothing(station.ledger)
    expect(await keptAggregates(station.ledger)).toEqual(counted)
    for (const name of ['2026-W39', '2026-W40', '2026-W41']) {
      const { rows, points, from, to } = await answer(name, true)
      const inWeek = ({ night }: { night: NightDate }) => night >= from && night <= to
      const nights = (counted.nights as { night: NightDate; species: string; visits: number }[]).filter(
        inWeek,
      )
      for (const row of rows.filter(({ pointId }) => pointId === station.pointId)) {
        const visits = nights.filter(({ species }) => species === row.species).map((one) => one.visits)
        expect(row.visits + row.visitsNotWatched).toBe(visits.reduce((a, b) => a + b, 0))
        expect(row.visitsByNight.reduce((a, b) => a + b, 0)).toBe(row.visits + row.visitsNotWatched)
      }
      const hours = counted.effort.filter(inWeek).map(({ watchedSeconds }) => watchedSeconds / 3600)
      const clockHours = points[0]!.watchedByNight.map((part, i) =>
        part === null ? 0 : part * (name === '2026-W40' && i === 5 ? 23 : 24),
      )
      if (name === '2026-W40')
        expect(clockHours.reduce((a, b) => a + b, 0)).toBe(hours.reduce((a, b) => a + b, 0))
    }
  })

  it('the week that runs is told so far: nights to come are not known', async () => {
    const { over, later, points } = await answer('2026-W41')
    expect([over, later]).toEqual([false, null])
    // Up to the camera's last photo on Monday at 12:10; what came after it, its next contact will tell.
    expect(points[0]!.watchedByNight.slice(1)).toEqual([null, null, null, null, null, null])
  })
})

describe('photos that wait', () => {
  it('are never taken for nights on which nothing came: nothing is compared until they are read', async () => {
    const still = {
      name: 'waits',
      cameraId: station.cameraIds[1],
      at: parseInstant('2026-09-20T21:00:00+09:30'),
    }
    const id = await receive(station, still)
    for (const row of (await answer()).rows) {
      expect(row.lastWeek.verdict).toBe('photos still being read')
      expect(row.fourWeeks.verdict).toBe('photos still being read')
    }
    expect((await answer()).waiting).toBe(0)
    expect((await answer('2026-W38')).waiting).toBe(1)
    await record(station, id, {})
    expect((await answer()).rows[1]!.fourWeeks.verdict).not.toBe('photos still being read')
  })
})

describe('water and feed', () => {
  it('is the animal-visits by the ratings, and follows the owner’s', async () => {
    const camels = async () => (await answer()).rows.find(({ species }) => species === 'camel')!
    const before = await camels()
    // 20 to 40 litres a camel: the middle is 30.
    expect(before.load!.litresADay.rate).toBeCloseTo((8 / 7) * 30, 1)
    const rating = { low: 10, high: 10, source: 'Our own trough meter' }
    await saveRatings(station.ledger, [{ species: 'camel', kind: 'litres', rating }])
    expect((await camels()).load!.litresADay.rate).toBeCloseTo((8 / 7) * 10, 1)
    expect((await answer()).ratings.find((one) => one.species === 'camel' && one.kind === 'litres')).toEqual({
      species: 'camel',
      kind: 'litres',
      ...rating,
      fromMemory: false,
      own: true,
    })
    await saveRatings(station.ledger, [{ species: 'camel', kind: 'litres', rating: null }])
    expect(await camels()).toEqual(before)
  })

  it('sums what the ferals drank at a point beside what the stock did', async () => {
    const { points, rows } = await answer()
    const litres = (species: string) => rows.find((row) => row.species === species)!.load!.litresADay.rate
    expect(points[0]!.water.feral!.rate).toBeCloseTo(litres('camel'), 1)
    expect(points[0]!.water.stock!.rate).toBeCloseTo(litres('cattle'), 1)
  })
})

describe('the CSV', () => {
  it('reads back as the numbers it was made from, a row a point and species (RFC 4180)', async () => {
    const report = await answer('2026-W40', true)
    const csv = reportCsv(report)
    expect(csv.endsWith('\r\n')).toBe(true)
    const rows = parseCsv<Record<string, string>>(csv, { columns: true })
    expect(rows).toHaveLength(2 * 5)
    const camels = rows.find((row) => row.species === 'camel' && row.point === 'First Bore')!
    expect(camels).toMatchObject({
      week: '2026-W40',
      visits: '3',
      watched_nights: '7',
      animal_visits: '8',
      last_week_verdict: 'too few nights to tell',
    })
    const unwatched = rows.find((row) => row.point === 'No "Camera", Bore')!
    expect(unwatched).toMatchObject({ watched_nights: '0', visit_rate: '', litres_a_day: '' })
  })

  it('has a unit for each column in a second file', () => {
    const units = parseCsv<Record<string, string>>(unitsCsv(), { columns: true })
    expect(units.map(({ column }) => column)).toEqual(REPORT_COLUMNS.map(({ name }) => name))
    for (const { unit, says } of units) expect([unit, says]).not.toContain('')
  })
})

describe('when they come', () => {
  it('says nothing of hours under ten visits', async () => {
    const answered = await whenTheyComeAt(station.ledger, {
      pointId: station.pointId,
      species: 'camel',
      other: 'cattle',
      from: undefined,
      to: undefined,
      now: NOW,
    })
    expect(answered.curve).toEqual({ visits: 5, clock: null, sun: null })
    expect(answered.other).toMatchObject({ overlap: null, curve: { visits: 2 } })
    expect(answered.nights).toMatchObject({ asked: 56 })
    // Late in September the sun is up for about half the day.
    expect(answered.sunset! - answered.sunrise!).toBeCloseTo(12, 0)
  })
})
