/** How many photos a camera may send in a minute and in a day: one that runs wild must not fill the disk. */
import { Refusal } from '../refusal.ts'
import type { CameraRow } from '../store/cameras.ts'
import type { IntakeLimits } from '../store/intake-limits.ts'
import type { Instant } from '../words.ts'

const MINUTE_MS = 60_000
const DAY_MS = 86_400_000

export type CameraLimits = Pick<IntakeLimits, 'stillsAMinute' | 'stillsADay'>
export type CameraSpent = Pick<CameraRow, 'id' | 'name' | 'day_began_at' | 'day_stills'>

interface Asked {
  readonly limits: CameraLimits
  readonly now: Instant
}

export interface Allowance {
  /** @throws Refusal (`too many`), with the seconds after which it may be tried again */
  refuseIfSpent(camera: CameraSpent, asked: Asked): void
  /** A photo that was new has been taken. */
  spend(cameraId: number, asked: Asked): void
}

/**
 * A minute's worth is kept in memory as a bucket that fills again with time: a form of many photos may empty it below
 * nothing, and then it takes so much longer. A day's worth is counted in the ledger, with the photos themselves.
 */
export function openAllowance(): Allowance {
  const buckets = new Map<number, { readonly photos: number; readonly at: Instant }>()

  function photosLeft(cameraId: number, aMinute: number, now: Instant): number {
    const before = buckets.get(cameraId)
    // A clock that was set back must not hold a camera up until it is where it was.
    if (before === undefined || now < before.at) return aMinute
    return Math.min(aMinute, before.photos + ((now - before.at) / MINUTE_MS) * aMinute)
  }

  return {
    refuseIfSpent(camera, { limits: { stillsAMinute, stillsADay }, now }) {
      const left = stillsADay === null ? null : dayLeftMs(camera, now)
      if (stillsADay !== null && left !== null && camera.day_stills >= stillsADay)
        throw tooMany(camera.name, { limit: stillsADay, span: 'day', seconds: left / 1000 })
      if (stillsAMinute === null) return
      const photos = photosLeft(camera.id, stillsAMinute, now)
      if (photos >= 1) return
      throw tooMany(camera.name, {
        limit: stillsAMinute,
        span: 'minute',
        seconds: ((1 - photos) / stillsAMinute) * 60,
      })
    },
    spend(cameraId, { limits: { stillsAMinute }, now }) {
      if (stillsAMinute === null) return
      buckets.set(cameraId, { photos: photosLeft(cameraId, stillsAMinute, now) - 1, at: now })
    },
  }
}

/** What is left of the camera's day; null where it is over, or began ahead of now by a clock that ran ahead. */
function dayLeftMs({ day_began_at }: CameraSpent, now: Instant): number | null {
  if (day_began_at === null) return null
  const age = now - day_began_at.getTime()
  return age >= 0 && age < DAY_MS ? DAY_MS - age : null
}

function tooMany(
  camera: string,
  { limit, span, seconds }: { readonly limit: number; readonly span: string; readonly seconds: number },
): Refusal {
  return new Refusal({
    kind: 'too many',
    detail: `${camera} has sent as many photos as it may in a ${span} (${limit}).`,
    remedy: `Keep the photo and send it again after the seconds in Retry-After. How many a camera may send is set in Set-up.`,
    retryAfterSeconds: Math.max(1, Math.ceil(seconds)),
  })
}
