/** Cameras that send for as long as it takes: each photo again and again until it is acknowledged. */
import { createHash } from 'node:crypto'
import { setTimeout as wait } from 'node:timers/promises'
import type { Random } from '../../services/demo/random.ts'

export interface SendingCamera {
  readonly id: number
  readonly key: string
}

export interface Photo {
  readonly camera: SendingCamera
  readonly bytes: Buffer
  readonly takenAt: Date
}

export interface Sent {
  /** `CAMERA-ID SHA-256` of each photo that was answered with 200 or 201. */
  readonly acknowledged: ReadonlySet<string>
  /** Answers that no sender should ever get. */
  readonly wrong: readonly string[]
  /** Photos sent once more after they had been acknowledged. */
  readonly repeats: () => number
  /** Lets this many photos out, in order; the rest wait. */
  release(upTo: number): void
  /** Resolves when so many are acknowledged, or are not after a while: a kill must not wait for ever. */
  acknowledgedAtLeast(count: number): Promise<void>
  /** Resolves when every photo is acknowledged. */
  readonly over: Promise<void>
}

export interface SendingOptions {
  readonly address: string
  readonly random: Random
  readonly lanes: number
}

const PATIENCE_MS = 10_000
/** Told to come back later, or cut off: a camera tries again. */
const TRY_AGAIN = [429, 503, 507]
/** One in this many is sent once more although it was acknowledged: cameras do that after a lost answer. */
const REPEAT_ONE_IN = 12

export const nameOf = (cameraId: number, bytes: Buffer): string =>
  `${cameraId} ${createHash('sha256').update(bytes).digest('hex')}`

export function startSending(photos: readonly Photo[], { address, random, lanes }: SendingOptions): Sent {
  const acknowledged = new Set<string>()
  const wrong: string[] = []
  let released = 0
  let next = 0
  let repeats = 0

  async function send(photo: Photo): Promise<void> {
    for (;;) {
      const status = await post(address, photo)
      if (status === 200 || status === 201) break
      if (status !== null && !TRY_AGAIN.includes(status)) {
        wrong.push(`${status} for a photo of camera ${photo.camera.id}`)
      }
      await wait(random.whole(20, 150))
    }
    acknowledged.add(nameOf(photo.camera.id, photo.bytes))
  }

  async function lane(): Promise<void> {
    while (next < photos.length) {
      if (next >= released) {
        await wait(10)
        continue
      }
      const photo = photos[next]!
      next += 1
      await send(photo)
      if (random.whole(1, REPEAT_ONE_IN) === 1) {
        repeats += 1
        await send(photo)
      }
    }
  }

  return {
    acknowledged,
    wrong,
    repeats: () => repeats,
    release: (upTo) => {
      released = Math.max(released, upTo)
    },
    async acknowledgedAtLeast(count) {
      const until = Date.now() + PATIENCE_MS
      while (acknowledged.size < count && Date.now() < until) await wait(10)
    },
    over: Promise.all(Array.from({ length: lanes }, lane)).then(() => undefined),
  }
}

/** @returns the status, or null where no answer came */
async function post(address: string, { camera, bytes, takenAt }: Photo): Promise<number | null> {
  try {
    const response = await fetch(`${address}/api/stills`, {
      method: 'POST',
      headers: {
        'X-Camera-Key': camera.key,
        'X-Taken-At': takenAt.toISOString(),
        'Content-Type': 'image/jpeg',
      },
      body: new Uint8Array(bytes),
      signal: AbortSignal.timeout(PATIENCE_MS),
    })
    await response.arrayBuffer()
    return response.status
  } catch {
    return null
  }
}
