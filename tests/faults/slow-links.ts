/** Cameras on slow links: each sends its photo in small pieces with pauses, over a connection of its own. */
import { createHash } from 'node:crypto'
import { request } from 'node:http'
import { setTimeout as wait } from 'node:timers/promises'
import type { Random } from '../../services/demo/random.ts'
import type { SendingCamera } from './senders.ts'

/**
 * `whole`: all of it, however often it takes. `twice`: the same over two connections at once. `breaks`: ends in the
 * middle and does not come again. `silent`, `trickles`: never ends, bringing nothing more, or a byte now and then.
 */
export type Habit = 'whole' | 'twice' | 'breaks' | 'silent' | 'trickles'

export interface SlowPhoto {
  readonly camera: SendingCamera
  /** One after the other they are the photo. */
  readonly parts: readonly [own: Buffer, padding: Buffer]
  readonly takenAt: Date
  readonly habit: Habit
}

export interface SlowlySent {
  /** `CAMERA-ID SHA-256` of each photo that was answered with 200 or 201. */
  readonly acknowledged: ReadonlySet<string>
  /** How often each status came; `none` where the connection ended without an answer. */
  readonly answers: Readonly<Record<string, number>>
  /** How many that would never have ended the service told so. */
  readonly cutOff: number
}

const PIECE_BYTES = [8_000, 60_000] as const
const PAUSE_MS = [20, 250] as const
/** Told to come back later (seconds in truth; here too many would only wait). */
const AGAIN_MS = [1_000, 3_000] as const
const TRICKLE_MS = 500

/** All at once. Resolves when every photo is acknowledged, broken off, or cut off by the service. */
export async function sendSlowly(
  photos: readonly SlowPhoto[],
  { address, random }: { readonly address: string; readonly random: Random },
): Promise<SlowlySent> {
  const acknowledged = new Set<string>()
  const answers: Record<string, number> = {}
  let cutOff = 0

  async function once(photo: SlowPhoto): Promise<number | null> {
    const status = await sendOnce(photo, { address, random })
    const key = String(status ?? 'none')
    answers[key] = (answers[key] ?? 0) + 1
    return status
  }

  async function untilTaken(photo: SlowPhoto): Promise<void> {
    for (;;) {
      const status = await once(photo)
      if (status === 200 || status === 201) break
      await wait(random.whole(...AGAIN_MS))
    }
    acknowledged.add(slowNameOf(photo))
  }

  async function untilLetIn(photo: SlowPhoto): Promise<void> {
    for (;;) {
      const status = await once(photo)
      // A write may meet the closed connection before the answer is read; such a sender comes again.
      if (photo.habit === 'breaks' ? status !== 503 : status === 408) return
      await wait(random.whole(...AGAIN_MS))
    }
  }

  await Promise.all(
    photos.map(async (photo) => {
      if (photo.habit === 'whole') return untilTaken(photo)
      if (photo.habit === 'twice') return Promise.all([untilTaken(photo), untilTaken(photo)])
      await untilLetIn(photo)
      if (photo.habit !== 'breaks') cutOff += 1
    }),
  )
  return { acknowledged, answers, cutOff }
}

export function slowNameOf({ camera, parts }: SlowPhoto): string {
  const hash = createHash('sha256')
  for (const part of parts) hash.update(part)
  return `${camera.id} ${hash.digest('hex')}`
}

/** @returns the status, null where no answer came */
async function sendOnce(
  { camera, parts, takenAt, habit }: SlowPhoto,
  { address, random }: { readonly address: string; readonly random: Random },
): Promise<number | null> {
  const length = parts[0].length + parts[1].length
  const sending = request(`${address}/api/stills`, {
    method: 'POST',
    agent: false,
    headers: {
      'X-Camera-Key': camera.key,
      'X-Taken-At': takenAt.toISOString(),
      'Content-Type': 'image/jpeg',
      'Content-Length': length,
    },
  })
  let over = false
  const end = new Promise<number | null>((resolve) => {
    const ends = (status: number | null) => {
      over = true
      resolve(status)
    }
    sending.once('response', (response) => {
      response.resume()
      ends(response.statusCode ?? null)
    })
    sending.on('error', () => ends(null))
    sending.once('close', () => ends(null))
  })
  const write = async (bytes: Buffer) => {
    sending.write(bytes)
    await Promise.race([end, wait(random.whole(...PAUSE_MS))])
  }
  await write(parts[0])
  const padding = parts[1]
  const until = habit === 'whole' || habit === 'twice' ? padding.length : padding.length / 2
  for (let at = 0; at < until && !over; ) {
    const to = Math.min(until, at + random.whole(...PIECE_BYTES))
    await write(padding.subarray(at, to))
    at = to
  }
  if (habit === 'breaks') sending.destroy()
  if (habit === 'whole' || habit === 'twice') sending.end()
  for (let at = until; habit === 'trickles' && !over && at < padding.length; at += 1) {
    sending.write(padding.subarray(at, at + 1))
    await Promise.race([end, wait(TRICKLE_MS)])
  }
  const status = await end
  sending.destroy()
  return status
}
