/** Whether a fetched photo is kept: always, or only where it shows something new. */
import { createHash } from 'node:crypto'
import { z } from 'zod'
import type { CameraRow } from '../store/cameras.ts'
import { recordHeartbeat } from '../store/heartbeats.ts'
import type { ReceivedStill } from '../store/receive.ts'
import type { Instant } from '../words.ts'
import { changedPercent, GREY_CELLS, greyOf } from './picture-change.ts'
import { type SourcePlace, takeFetched } from './place.ts'
import type { SnapshotSettings } from './snapshot-settings.ts'
import type { LookOrder } from './source.ts'

/** What is known between two looks. */
export const snapshotState = z.object({
  /** When a photo was kept last, and what it looked like in grey, in base64. */
  keptAt: z.number().nullable(),
  kept: z.base64().nullable(),
  /** How many since then were not kept, because they showed nothing new. */
  notKept: z.int().nonnegative(),
  /** SHA-256 of the last photo's bytes, and how often it came again since. */
  last: z.string().nullable(),
  again: z.int().nonnegative(),
  /** When a photo that was not kept last stood for a sign of life. */
  aliveAt: z.number().nullable(),
})
export type SnapshotState = z.output<typeof snapshotState>

export const NOTHING_KEPT: SnapshotState = {
  keptAt: null,
  kept: null,
  notKept: 0,
  last: null,
  again: 0,
  aliveAt: null,
}
type Order = LookOrder<SnapshotSettings, SnapshotState>

const ALIVE_EVERY_MS = 30 * 60_000
const MINUTE_MS = 60_000

/** Takes the photo, unless only changes are wanted and there is none: then it is a sign of life and counted. */
export async function keepIfNew(
  place: SourcePlace,
  { camera, settings, state, asked }: Order,
  bytes: Buffer,
): Promise<{ readonly came: readonly ReceivedStill[]; readonly state: SnapshotState }> {
  const now = place.now()
  const last = createHash('sha256').update(bytes).digest('hex')
  const again = last === state.last ? state.again + 1 : 0
  const grey = settings.onlyChanged ? await greyOf(bytes) : null
  if (grey !== null && !asked && isNothingNew(grey, { settings, state, now })) {
    const alive = again === 0 && (state.aliveAt === null || Math.abs(now - state.aliveAt) >= ALIVE_EVERY_MS)
    if (alive) await recordHeartbeat(place.ledger, signOfLife(camera, now))
    const aliveAt = alive ? now : state.aliveAt
    return { came: [], state: { ...state, last, again, aliveAt, notKept: state.notKept + 1 } }
  }
  const still = await takeFetched(place, {
    camera,
    bytes,
    fileName: null,
    fileTime: null,
    senderAt: null,
  })
  const kept = grey === null ? null : grey.toString('base64')
  return { came: [still], state: { ...state, last, again, keptAt: now, kept, notKept: 0 } }
}

function isNothingNew(
  grey: Buffer,
  {
    settings,
    state: { kept, keptAt },
    now,
  }: { readonly settings: SnapshotSettings; readonly state: SnapshotState; readonly now: Instant },
): boolean {
  if (kept === null || keptAt === null) return false
  const before = Buffer.from(kept, 'base64')
  if (before.length !== GREY_CELLS) return false
  // A clock that was set back must not keep photos out until it is where it was.
  const isDue = now < keptAt || now - keptAt >= settings.keepEveryMinutes * MINUTE_MS
  return !isDue && changedPercent(before, grey) < settings.leastChangePercent
}

function signOfLife(camera: CameraRow, now: Instant) {
  return {
    cameraId: camera.id,
    pointId: camera.point_id,
    at: now,
    receivedAt: now,
    batteryPercent: null,
    temperatureC: null,
    signalPercent: null,
    freeBytes: null,
  }
}
