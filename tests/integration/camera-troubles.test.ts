/** A camera that speaks and can't see is not watching; a person's word gives the watched time back; all equals a recount. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { lookAfterCamera } from '../../services/look-after-cameras.ts'
import { parseInstant } from '../../services/station-time.ts'
import { camerasOfRises } from '../../services/store/camera-figures.ts'
import { findCamera } from '../../services/store/cameras.ts'
import { recordHeartbeat } from '../../services/store/heartbeats.ts'
import { recountStation } from '../../services/store/recount.ts'
import { recordResult } from '../../services/store/results.ts'
import { listEffortWords, sayEffort } from '../../services/store/say-effort.ts'
import { listTroubles, listTroubleWords, sayTrouble } from '../../services/store/troubles.ts'
import { watchedWithin } from '../../services/store/watched.ts'
import { secondsWithin } from '../../services/tally/effort.ts'
import { nightSpell } from '../../services/tally/nights.ts'
import type { Instant, NightDate, WholePicture } from '../../services/words.ts'
import { keptAggregates, recountFromNothing } from './recount.ts'
import { openSmallStation, receive, type SmallStation, seen, zone } from './small-station.ts'

const START = parseInstant('2026-10-10T12:00:00+10:30')
const HOUR_MS = 3_600_000
const at = (hours: number) => (START + hours * HOUR_MS) as Instant
/** A photo each two hours for so many hours. */
const EVERY_HOURS = 2

let station: SmallStation
let cameraId: number
beforeEach(async () => {
  station = await openSmallStation()
  cameraId = station.cameraIds[0]
})
afterEach(() => station.close())

const view = (...from: number[]) => Uint8Array.from({ length: 32 }, (_, i) => from[i % from.length]!)
const healthy: WholePicture = { contrast: 0.2, detail: 500, view: view(0b1010_1010, 0b1100_1100) }
const dusty: WholePicture = { ...healthy, contrast: 0.15, detail: 5 }
const turned: WholePicture = { ...healthy, view: view(0b0110_0110, 0b1010_0101) }

async function photo(hours: number, whole: WholePicture | 'unreadable'): Promise<void> {
  const id = await receive(station, { name: `${hours}`, cameraId, at: at(hours) })
  const result =
    whole === 'unreadable'
      ? { kind: 'unreadable' as const, reason: 'cut short' }
      : { ...seen({ cattle: 1 }), colourfulness: 60, whole }
  await recordResult(station.ledger, id, result)
}

async function photos(from: number, to: number, whole: WholePicture | 'unreadable'): Promise<void> {
  for (let hours = from; hours < to; hours += EVERY_HOURS) await photo(hours, whole)
}

async function beat(hours: number, freeBytes: number | null = null): Promise<void> {
  await recordHeartbeat(station.ledger, {
    cameraId,
    pointId: station.pointId,
    at: at(hours),
    receivedAt: at(hours),
    batteryPercent: null,
    temperatureC: null,
    signalPercent: null,
    freeBytes,
  })
}

const look = async (hours: number) =>
  lookAfterCamera(station.ledger, await findCamera(station.ledger, cameraId), at(hours))
const troubles = () => listTroubles(station.ledger, cameraId)
const watchedHours = async (from: number, to: number) => {
  const spell = { from: at(from), to: at(to) }
  return secondsWithin(await watchedWithin(station.ledger, station.pointId, spell), spell) / 3600
}
async function expectCountsStand(): Promise<void> {
  const kept = await keptAggregates(station.ledger)
  expect(kept).toEqual(await recountFromNothing(station.ledger))
  // And again after all was counted anew in the background.
  await recountStation(station.ledger)
  expect(await keptAggregates(station.ledger)).toEqual(kept)
}

describe.each([
  ['blind', dusty],
  ['knocked', turned],
  ['unreadable', 'unreadable'],
] as const)('a camera that is %s', (kind, bad) => {
  it('does not watch from the first photo that shows it, until photos are good again', async () => {
    await photos(0, 72, healthy)
    await photos(72, 80, bad)
    await look(80)
    expect(await troubles()).toMatchObject([{ kind, to_at: null }])
    expect((await troubles())[0]!.from_at.getTime()).toBe(at(72))
    await photos(80, 84, bad)
    expect(await watchedHours(0, 72)).toBe(72)
    expect(await watchedHours(72, 84)).toBe(0)
    await expectCountsStand()
    await photos(84, 90, healthy)
    await look(90)
    expect((await troubles())[0]!.to_at?.getTime()).toBe(at(84))
    expect(await watchedHours(84, 88)).toBe(4)
    await expectCountsStand()
    // A second look finds nothing new.
    await look(90)
    expect(await troubles()).toHaveLength(1)
  })

  it('for one burst only is not called so: a cow may stand at the lens', async () => {
    await photos(0, 72, healthy)
    for (const hours of [72, 72.05, 72.1, 72.15, 72.2]) await photo(hours, bad)
    await look(73)
    expect(await troubles()).toEqual([])
  })

  it('and is fine by a person’s word has watched all the time, and is not called so again', async () => {
    await photos(0, 72, healthy)
    await photos(72, 84, bad)
    await look(84)
    const [trouble] = await troubles()
    const word = { troubleId: trouble!.id, setRightAt: null, who: 'owner', note: null, now: at(84) }
    await sayTrouble(station.ledger, { ...word, word: 'fine' })
    expect(await watchedHours(0, 82)).toBe(82)
    await expectCountsStand()
    await look(84)
    expect((await troubles()).filter(({ is_fine }) => !is_fine)).toEqual([])
    await sayTrouble(station.ledger, { ...word, word: 'taken back' })
    expect(await watchedHours(72, 82)).toBe(0)
    await expectCountsStand()
    expect((await listTroubleWords(station.ledger, cameraId)).map((row) => row.word)).toEqual([
      'taken back',
      'fine',
    ])
  })

  it('and was set right watches again from then on', async () => {
    await photos(0, 72, healthy)
    await photos(72, 84, bad)
    await look(84)
    const [trouble] = await troubles()
    await sayTrouble(station.ledger, {
      troubleId: trouble!.id,
      word: 'set right',
      setRightAt: at(80),
      who: 'owner',
      note: 'wiped the lens',
      now: at(84),
    })
    expect(await watchedHours(72, 80)).toBe(0)
    expect(await watchedHours(80, 82)).toBe(2)
    await expectCountsStand()
  })
})

it('a camera that was set right and is blind again is found again', async () => {
  await photos(0, 72, healthy)
  await photos(72, 84, dusty)
  await look(84)
  const [trouble] = await troubles()
  const word = { troubleId: trouble!.id, word: 'set right' as const, who: 'owner', note: null }
  await sayTrouble(station.ledger, { ...word, setRightAt: at(83), now: at(84) })
  await photos(84, 92, dusty)
  await look(92)
  expect((await troubles()).map(({ from_at }) => from_at.getTime())).toEqual([at(84), at(72)])
  await expectCountsStand()
})

it('a young camera is called nothing: it has no past to be held against', async () => {
  await photos(0, 10, healthy)
  await photos(10, 30, dusty)
  await look(30)
  expect(await troubles()).toEqual([])
})

it('photos of an older worker, which measured nothing, say nothing', async () => {
  await photos(0, 72, healthy)
  for (let hours = 72; hours < 90; hours += EVERY_HOURS) {
    const id = await receive(station, { name: `${hours}`, cameraId, at: at(hours) })
    await recordResult(station.ledger, id, seen({ cattle: 1 }))
  }
  await look(90)
  expect(await troubles()).toEqual([])
})

it('a camera whose card is full has not watched since it said so, until a photo comes or there is room', async () => {
  await photos(0, 24, healthy)
  await beat(24, 5e6)
  await beat(40, 5e6)
  await look(41)
  expect(await troubles()).toMatchObject([{ kind: 'card full', to_at: null }])
  expect(await watchedHours(24, 40)).toBe(0)
  await expectCountsStand()
  await beat(60, 8e9)
  await look(61)
  expect((await troubles())[0]!.to_at?.getTime()).toBe(at(60))
  await photo(62, healthy)
  expect(await watchedHours(60, 62)).toBe(2)
  await expectCountsStand()
})

it('a camera that writes over its oldest photos is not called full: photos go on coming', async () => {
  await photos(0, 24, healthy)
  await beat(24, 5e6)
  await photo(25, healthy)
  await look(26)
  expect(await troubles()).toEqual([])
})

describe('a person’s word on how much of a night was watched', () => {
  const night = '2026-10-11' as NightDate
  const said = { pointId: 0, night, who: 'owner', note: 'I was there', at: at(100) }
  const keptOf = async () =>
    (await keptAggregates(station.ledger)).effort.find((row) => row.night === night)?.watchedSeconds ?? 0
  const nightSeconds = () => (nightSpell(night, zone).to - nightSpell(night, zone).from) / 1000

  it.each([1, 0.4, 0])('stands, %d of it, whatever comes in later, until it is taken back', async (share) => {
    await photos(0, 30, healthy)
    const before = await keptOf()
    await sayEffort(station.ledger, { ...said, pointId: station.pointId, share })
    expect(await keptOf()).toBe(share * nightSeconds())
    await expectCountsStand()
    await photos(30, 72, healthy)
    expect(await keptOf()).toBe(share * nightSeconds())
    await expectCountsStand()
    await sayEffort(station.ledger, { ...said, pointId: station.pointId, share: null })
    expect(await keptOf()).toBeGreaterThan(before)
    await expectCountsStand()
    const words = await listEffortWords(station.ledger, station.pointId, { from: night, to: night })
    expect(words.map((row) => row.share)).toEqual([null, share])
  })

  it('of all or nothing holds for its hours too', async () => {
    await photos(0, 72, healthy)
    await sayEffort(station.ledger, { ...said, pointId: station.pointId, share: 0 })
    expect(await watchedHours(24, 48)).toBe(0)
    await sayEffort(station.ledger, { ...said, pointId: station.pointId, share: 1 })
    expect(await watchedHours(24, 48)).toBe(24)
  })

  it('of a night that no camera knows of stands as well', async () => {
    await sayEffort(station.ledger, { ...said, pointId: station.pointId, share: 1 })
    expect(await keptOf()).toBe(nightSeconds())
    await expectCountsStand()
  })
})

it('unreadable files rise at the camera that has more of them than its past explains, and at no other', async () => {
  const rises = async () => await camerasOfRises(station.ledger, [station.pointId], at(480))
  await photos(0, 120, healthy)
  await photo(470, 'unreadable')
  await photo(472, 'unreadable')
  // Under three of them nothing is said.
  expect(await rises()).toEqual(new Map())
  await photos(474, 480, 'unreadable')
  expect(await rises()).toEqual(new Map([[cameraId, station.pointId]]))
  // A camera that always sent as many has not risen.
  cameraId = station.cameraIds[1]
  await photos(0, 40, 'unreadable')
  await photos(470, 480, 'unreadable')
  expect([...(await rises()).keys()]).toEqual([station.cameraIds[0]])
})
