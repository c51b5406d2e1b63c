/** A seeded station whose waters stand on a grid, watched whole for eight weeks, with a photo for each visit. */
import { addCamera } from '../../services/store/camera-setup.ts'
import { addPoint, changePoint } from '../../services/store/points.ts'
import { nightSpell, nightsOn } from '../../services/tally/nights.ts'
import { drawsFrom } from '../../services/tally/seeded-draws.ts'
import type { Instant, NightDate } from '../../services/words.ts'
import { openSmallStation, receiveAll, record, type SmallStation, zone } from './small-station.ts'

export const NIGHTS = 56
export const FIRST_NIGHT = '2026-09-30' as NightDate
const GRID_KM = 3
/** At 28 degrees south (WGS 84; from memory): over 20 km a flat sheet is then good to a thousandth. */
const KM_A_DEGREE = { lat: 110.82, lon: 98.36 }
const HOUR_MS = 3_600_000

export interface SeededWater {
  readonly pointId: number
  readonly name: string
  /** Kilometres. */
  readonly east: number
  readonly north: number
  readonly hasYard: boolean
  /** Camels in each visit. */
  readonly camels: readonly number[]
}

export interface SeededStation {
  readonly station: SmallStation
  readonly waters: readonly SeededWater[]
}

export async function openSeededStation(seed: number): Promise<SeededStation> {
  const station = await openSmallStation()
  // Nobody watches its first point: it stands far from all others.
  await changePoint(station.ledger, station.pointId, { lat: -30 })
  return { station, waters: await seedWaters(station, { seed, firstNight: FIRST_NIGHT }) }
}

interface Seed {
  readonly seed: number
  readonly firstNight: NightDate
}

/** Six waters, each with a camera. */
export async function seedWaters(
  station: Pick<SmallStation, 'ledger'>,
  { seed, firstNight }: Seed,
): Promise<SeededWater[]> {
  const draw = drawsFrom(seed)
  const waters: SeededWater[] = []
  for (let i = 0; i < 6; i++) {
    const [east, north, hasYard] = [GRID_KM * (draw(8) - 4), GRID_KM * (draw(8) - 4), draw(2) === 0]
    const water = { name: `Water ${i + 1}`, east, north, hasYard }
    const pointId = await addWater(station, water)
    // One water in three no camel comes to; a night has one visit at the most.
    const often = draw(3) === 0 ? 0 : 1 + draw(4)
    const visits = Array.from({ length: NIGHTS }, (_, night) => night)
      .filter(() => draw(10) < often)
      .map((night) => ({ night, head: 1 + draw(5) }))
    await watch(station, { pointId, name: water.name, visits, firstNight })
    waters.push({ ...water, pointId, camels: visits.map(({ head }) => head) })
  }
  return waters
}

type Sketch = Omit<SeededWater, 'pointId' | 'camels'>

async function addWater(
  { ledger }: Pick<SmallStation, 'ledger'>,
  { name, east, north, hasYard }: Sketch,
): Promise<number> {
  const { id } = await addPoint(ledger, {
    name,
    kind: 'bore',
    lat: -28 + north / KM_A_DEGREE.lat,
    lon: 134 + east / KM_A_DEGREE.lon,
    hasYard,
    lowMarkPercent: 40,
    dryMarkPercent: 5,
  })
  return id
}

interface Watched extends Pick<Seed, 'firstNight'> {
  readonly pointId: number
  readonly name: string
  readonly visits: ReadonlyArray<{ readonly night: number; readonly head: number }>
}

/** From the noon of the first night to that after the last: a camera without a sign of life watches between its photos. */
async function watch(
  station: Pick<SmallStation, 'ledger'>,
  { pointId, name, visits, firstNight }: Watched,
): Promise<void> {
  const { camera } = await addCamera(
    station.ledger,
    {
      name: `${name} camera`,
      pointId,
      zone: null,
      clockErrorSeconds: 0,
      expectedSilenceHours: 26,
      sendsHeartbeats: false,
      scheduleMinutes: null,
    },
    null,
  )
  const noon = (night: number) => nightSpell(nightsOn(firstNight, night), zone).from
  const photos = [
    { at: noon(0), head: 0 },
    ...visits.map(({ night, head }) => ({ at: (noon(night) + 10 * HOUR_MS) as Instant, head })),
    { at: noon(NIGHTS), head: 0 },
  ]
  const received = await receiveAll(
    { ...station, pointId },
    photos.map(({ at }) => ({ name: `${name} ${at}`, cameraId: camera.id, at })),
  )
  for (const [i, { id }] of received.entries())
    await record(station, id, photos[i]!.head === 0 ? {} : { camel: photos[i]!.head })
}
