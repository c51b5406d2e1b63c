/** A week's pressure as kept, held against a count from the photos themselves. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { parseInstant } from '../../services/station-time.ts'
import { addPoint } from '../../services/store/points.ts'
import { type PointPressure, readPressure } from '../../services/store/pressure.ts'
import { weekOf } from '../../services/tally/weeks.ts'
import type { NightDate, Tally } from '../../services/words.ts'
import { keptAggregates, recountFromNothing } from './recount.ts'
import { openSmallStation, receive, record, type SmallStation } from './small-station.ts'

let station: SmallStation
let unwatchedId: number

/** Clocks go forward on Sunday 2026-10-04 in Adelaide: the week of Monday 2026-09-28 has 167 hours. */
const WEEK = weekOf('2026-10-01' as NightDate)
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
    name: 'No Camera Bore',
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

describe('the pressure of a week', () => {
  it('has the visits and the animal-visits that begin from noon on Monday to the next', async () => {
    const [watched] = await readPressure(station.ledger, WEEK)
    expect(watched?.species).toEqual([
      // 2 and 3 camels twenty minutes apart are one visit with a peak of 3; then 4; then 1.
      { species: 'camel', visits: 3, sumOfPeaks: 3 + 4 + 1 },
      { species: 'cattle', visits: 2, sumOfPeaks: 1 + 6 },
    ])
  })

  it('has every watched second of a week with a change of clocks once', async () => {
    const [watched] = await readPressure(station.ledger, WEEK)
    // The camera sends no heartbeats and had its first photo before the week and its last one after it.
    expect(watched?.watchedSeconds).toBe((7 * 24 - 1) * 3600)
  })

  it('has points in run order, one that is not watched with no seconds and no species', async () => {
    expect(await readPressure(station.ledger, WEEK)).toMatchObject([
      { pointId: station.pointId },
      { pointId: unwatchedId, watchedSeconds: 0, species: [] },
    ])
  })

  it('is the sum of its nights as counted from nothing, in this week and those beside it', async () => {
    const counted = await recountFromNothing(station.ledger)
    expect(await keptAggregates(station.ledger)).toEqual(counted)
    for (const night of ['2026-09-27', '2026-10-01', '2026-10-05'] as NightDate[]) {
      const week = weekOf(night)
      expect(await readPressure(station.ledger, week)).toEqual([
        pressureIn(counted, week),
        { pointId: unwatchedId, watchedSeconds: 0, species: [] },
      ])
    }
  })
})

function pressureIn(
  counted: Awaited<ReturnType<typeof recountFromNothing>>,
  { from, to }: { from: NightDate; to: NightDate },
): PointPressure {
  const within = ({ night }: { night: NightDate }) => night >= from && night <= to
  const nights = (counted.nights as NightCounted[]).filter(within)
  const sum = (numbers: readonly number[]) => numbers.reduce((a, b) => a + b, 0)
  return {
    pointId: station.pointId,
    watchedSeconds: sum(counted.effort.filter(within).map((row) => row.watchedSeconds)),
    species: [...new Set(nights.map(({ species }) => species))].sort().map((species) => {
      const ofSpecies = nights.filter((row) => row.species === species)
      return {
        species,
        visits: sum(ofSpecies.map(({ visits }) => visits)),
        sumOfPeaks: sum(ofSpecies.map(({ sum_of_peaks }) => sum_of_peaks)),
      }
    }),
  }
}

interface NightCounted {
  readonly night: NightDate
  readonly species: PointPressure['species'][number]['species']
  readonly visits: number
  readonly sum_of_peaks: number
}
