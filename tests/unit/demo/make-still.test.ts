import { createHash } from 'node:crypto'
import sharp from 'sharp'
import { describe, expect, test } from 'vitest'
import { createStillMaker } from '../../../services/demo/make-still.ts'
import { type DemoStill, demoSchedule } from '../../../services/demo/schedule.ts'
import { demoPoint, demoZone } from '../../../services/demo/station.ts'
import { captureTime } from '../../../services/intake/capture-time.ts'
import { readCapture } from '../../../services/intake/exif.ts'
import { probe } from '../../../services/intake/probe.ts'
import type { Instant } from '../../../services/words.ts'
import { DAY_MS, NOWS, PERIODS } from './period.ts'

const makeStill = createStillMaker()
const schedule = demoSchedule(PERIODS[0]!)
const now = NOWS[0]!
const readable = (pointKey: string) =>
  schedule.find((still) => still.pointKey === pointKey && still.broken === null)!

/** As the ordinary intake would have it, with or without what the station knows of the camera's clock. */
async function takenAs(still: DemoStill, clockErrorSeconds: number) {
  const { bytes, fileName } = await makeStill(still)
  return captureTime({
    tags: await readCapture(bytes),
    senderAt: null,
    fileName,
    fileTime: null,
    arrivedAt: now,
    zone: demoZone,
    clockErrorSeconds,
  })
}

describe('a still of the demo', () => {
  test('is a smaller photo of its own point, with nothing of who made the camera', async () => {
    const { bytes } = await makeStill(readable('galah-well'))
    expect(await probe(bytes)).toEqual({ kind: 'picture', format: 'jpeg', width: 960, height: 540 })
    expect((await sharp(bytes).metadata()).exif?.toString('latin1')).not.toMatch(/wildfire|make|model/i)
  })
  test('is taken in at the very second of the schedule', async () => {
    const still = readable('galah-well')
    expect(await takenAs(still, 0)).toEqual({ takenAt: still.at, takenFrom: 'exif', ownDoubt: null })
  })
  test('some cameras write their offset too', async () => {
    const still = readable('kite-bore')
    expect(await takenAs(still, 0)).toMatchObject({ takenAt: still.at, takenFrom: 'exif with offset' })
  })
  test('Ironbark Dam’s camera runs a day ahead, and nobody told the station', async () => {
    const still = readable('ironbark-dam')
    const { clockErrorSeconds } = demoPoint('ironbark-dam').camera
    expect((await takenAs(still, 0)).takenAt).toBe(still.at + DAY_MS)
    expect(await takenAs(still, clockErrorSeconds)).toMatchObject({ takenAt: still.at, ownDoubt: null })
  })
  test('every still of the eight weeks comes back at its time, and no two are the same bytes', async () => {
    const hashes = new Set<string>()
    for (const still of schedule) {
      const { bytes } = await makeStill(still)
      hashes.add(createHash('sha256').update(bytes).digest('hex'))
      if (still.broken === 'empty') continue
      const taken = await takenAs(still, demoPoint(still.pointKey).camera.clockErrorSeconds)
      expect(taken).toMatchObject({ takenAt: still.at, ownDoubt: null })
    }
    expect(hashes.size).toBe(schedule.length)
  })
  test('is the same bytes when it is made again', async () => {
    const still = readable('lantern-bore')
    expect((await createStillMaker()(still)).bytes).toEqual((await makeStill(still)).bytes)
  })
})

describe('the unreadable files of the demo', () => {
  const broken = (how: DemoStill['broken']) => schedule.find((still) => still.broken === how)!
  test('a truncated one has its header and its time, and fails when it is decoded', async () => {
    const { bytes } = await makeStill(broken('truncated'))
    expect(await probe(bytes)).toMatchObject({ kind: 'picture' })
    await expect(sharp(bytes, { failOn: 'truncated' }).raw().toBuffer()).rejects.toThrow()
  })
  test.each([
    ['empty', /empty/],
    ['not an image', /not a photo/],
  ] as const)('%s says so in its header', async (how, words) => {
    const seen = await probe((await makeStill(broken(how))).bytes)
    expect(seen.kind === 'unreadable' && seen.reason).toMatch(words)
  })
  test('a file without EXIF has its time in its name', async () => {
    const still = broken('empty')
    expect(await takenAs(still, 0)).toMatchObject({ takenAt: still.at, takenFrom: 'file name' })
  })
  test('its name is by the camera’s clock', async () => {
    const at = Date.parse('2026-11-24T21:30:05+10:30') as Instant
    const still = { ...readable('ironbark-dam'), at }
    expect((await makeStill(still)).fileName).toBe('ID_20261125_213005.jpg')
  })
})
