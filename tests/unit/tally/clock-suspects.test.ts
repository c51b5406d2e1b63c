/** Clocks told wrong by the light in the photos, held against the demo's two months at ten cameras; and by a card's order. */
import { beforeAll, describe, expect, it } from 'vitest'
import { readStillPool } from '../../../services/demo/pool.ts'
import { demoSchedule } from '../../../services/demo/schedule.ts'
import { demoPoint } from '../../../services/demo/station.ts'
import { fileNameTime } from '../../../services/intake/file-name-time.ts'
import { parseInstant } from '../../../services/station-time.ts'
import { afterJumpBack } from '../../../services/tally/clock-jumps.ts'
import { lightAgainstClock, type PhotoInLight } from '../../../services/tally/clock-light.ts'
import { sunElevation } from '../../../services/tally/sun.ts'
import type { Instant } from '../../../services/words.ts'

const NOW = parseInstant('2026-11-25T06:10:00+10:30')
const HOUR_MS = 3_600_000
const LATEST = 200

/** Of each camera of the demo, in order of time; in the light of the still that was drawn. */
let cameras: Array<{ readonly place: { lat: number; lon: number }; readonly photos: PhotoInLight[] }>

beforeAll(async () => {
  const pool = await readStillPool()
  const lightOf = new Map(pool.map(({ source, light }) => [source, light]))
  const byPoint = new Map<string, PhotoInLight[]>()
  const schedule = demoSchedule({ now: NOW, nights: 56, seed: 1, pool })
  for (const [stillId, still] of schedule.toReversed().entries()) {
    if (still.broken !== null) continue
    const elevation = sunElevation(still.at, demoPoint(still.pointKey))
    const light = lightOf.get(still.source) === 'day' ? 'day' : 'infra-red'
    const own = byPoint.get(still.pointKey) ?? []
    own.push({ stillId, at: still.at, light, elevation })
    byPoint.set(still.pointKey, own)
  }
  cameras = [...byPoint].map(([key, photos]) => ({ place: demoPoint(key), photos }))
})

const askedAfterEach = (photos: readonly PhotoInLight[]) =>
  photos.map((_, i) => lightAgainstClock(photos.slice(Math.max(0, i + 1 - LATEST), i + 1)))
const withClock = ({ place, photos }: (typeof cameras)[number], hours: number, from: number) =>
  photos.map((photo, i) => {
    if (i < from) return photo
    const at = (photo.at + hours * HOUR_MS) as Instant
    return { ...photo, at, elevation: sunElevation(at, place) }
  })

describe('the light in the photos against the clock', () => {
  it('is never called wrong of a clock that is right, whatever came in the night', () => {
    expect(cameras).toHaveLength(10)
    expect(cameras.flatMap(({ photos }) => askedAfterEach(photos)).filter((one) => one !== null)).toEqual([])
  })

  it('finds a clock that is half a day out, and no photo of before it went wrong', () => {
    const found = cameras.map((camera) => {
      const from = camera.photos.length - 40
      return askedAfterEach(withClock(camera, 12, from)).filter((one) => one !== null)
    })
    // At a camera that sees hardly anything after dark nothing speaks against the clock.
    expect(found.filter((some) => some.length > 0).length).toBeGreaterThanOrEqual(7)
    for (const [i, some] of found.entries()) {
      const { photos } = cameras[i]!
      const before = new Set(photos.slice(0, photos.length - 40).map(({ stillId }) => stillId))
      expect(some.filter(({ stillId }) => before.has(stillId))).toEqual([])
    }
  })

  it('says nothing of a camera with a lamp of its own, whose nights were always in colour', () => {
    for (const { photos } of cameras) {
      const lamp = photos.map((photo): PhotoInLight => ({ ...photo, light: 'day' }))
      expect(askedAfterEach(lamp).filter((one) => one !== null)).toEqual([])
    }
  })

  it('says nothing of photos whose light nobody measured, nor of none', () => {
    const { photos } = cameras[0]!
    expect(lightAgainstClock(photos.map((photo) => ({ ...photo, light: 'not measured' })))).toBeNull()
    expect(lightAgainstClock([])).toBeNull()
  })
})

describe('a jump back in the middle of a card', () => {
  const START = parseInstant('2026-11-20T06:00:00+10:30')
  const card = (...hours: readonly number[]) =>
    hours.map((hour, i) => ({
      stillId: i,
      name: `100MEDIA/IMG_${String(i + 1).padStart(4, '0')}.JPG`,
      at: (START + hour * HOUR_MS) as Instant,
    }))
  const doubted = (files: Parameters<typeof afterJumpBack>[0]) =>
    afterJumpBack(files, (name) => fileNameTime(name) !== null)

  it('is none where times go on, in whatever order the files come', () => {
    expect(doubted(card(0, 1, 5, 5, 30))).toEqual([])
    expect(doubted(card(0, 1, 5, 5, 30).toReversed())).toEqual([])
  })

  it('puts what follows in doubt, until the time of before is passed again', () => {
    expect(doubted(card(0, 10, 20, -5000, -4990, 21, 30))).toEqual([3, 4])
  })

  it('is none where clocks were put back an hour, or photos of one burst are a little out of order', () => {
    expect(doubted(card(0, 10, 9.1, 11, 10.99))).toEqual([])
  })

  it('is none where a counter began anew: 9999 and then 0001', () => {
    const old = card(0, 1, 2).map((file, i) => ({ ...file, name: `100MEDIA/IMG_${9997 + i}.JPG` }))
    const anew = card(3, 4).map((file) => ({ ...file, stillId: file.stillId + 10 }))
    expect(doubted([...old, ...anew])).toEqual([])
  })

  it('is asked of each folder and each kind of name by itself, and of no name that is a date', () => {
    const other = card(-100, -99).map((file) => ({ ...file, name: file.name.replace('100', '101') }))
    expect(doubted([...card(0, 1), ...other])).toEqual([])
    const dated = card(0, -50).map((file, i) => ({ ...file, name: `IMG_20261124_21300${i}.jpg` }))
    expect(doubted(dated)).toEqual([])
  })
})
