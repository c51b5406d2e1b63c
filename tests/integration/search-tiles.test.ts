/** A camera whose large photos are looked at closer: the owner's word, from the ledger to whoever looks. */
import { createHash } from 'node:crypto'
import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { stationHere } from '../../services/queue/process-still.ts'
import type { WaitingStill } from '../../services/queue/queue.ts'
import { parseInstant } from '../../services/station-time.ts'
import { changeCamera } from '../../services/store/camera-setup.ts'
import type { StillFiles } from '../../services/store/still-files.ts'
import { openStillFolder } from '../../services/store/still-folder.ts'
import { openSmallStation, receive, record, type SmallStation } from './small-station.ts'

const now = parseInstant('2026-10-02T18:00:00+09:30')

let station: SmallStation
let folder: string
let files: StillFiles
beforeEach(async () => {
  station = await openSmallStation()
  folder = await mkdtemp(join(tmpdir(), 'tiles-'))
  files = await openStillFolder(folder)
})
afterEach(async () => {
  await station.close()
  await rm(folder, { recursive: true })
})

const change = (cameraId: number, fields: { searchTiles?: boolean; name?: string }) =>
  changeCamera(station.ledger, cameraId, { change: fields, now })

async function received(cameraId: number): Promise<WaitingStill> {
  const name = `photo of ${cameraId}`
  const bytes = Buffer.from(name)
  await files.keep(createHash('sha256').update(bytes).digest(), bytes)
  return { stillId: await receive(station, { name, cameraId, at: now }), urgency: 'today' }
}

const taken = (still: WaitingStill) => stationHere({ ledger: station.ledger, files }).take(still)

test('unless its owner says so, a camera’s photos are looked at whole', async () => {
  expect(await taken(await received(station.cameraIds[0]))).toMatchObject({ tiles: false })
})

test('said of one camera, it goes with each of its photos, and with no other’s', async () => {
  const [far, near] = station.cameraIds
  await change(far, { searchTiles: true })
  expect(await taken(await received(far))).toMatchObject({ tiles: true })
  expect(await taken(await received(near))).toMatchObject({ tiles: false })
})

test('said while photos wait, it holds for them too', async () => {
  const [cameraId] = station.cameraIds
  const still = await received(cameraId)
  await change(cameraId, { searchTiles: true })
  expect(await taken(still)).toMatchObject({ tiles: true })
})

test('another change of the camera leaves it as it is', async () => {
  const [cameraId] = station.cameraIds
  await change(cameraId, { searchTiles: true })
  expect(await change(cameraId, { name: 'Far camera' })).toMatchObject({ search_tiles: true })
})

test('a photo that was looked at is not taken again', async () => {
  const still = await received(station.cameraIds[0])
  await record(station, still.stillId, {})
  expect(await taken(still)).toBe(null)
})
