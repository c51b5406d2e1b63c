/** What keeps a camera from seeing though it speaks, told from its photos and signs of life. */
import type { Instant } from '../words.ts'
import { type LensPast, lensPast, lensWord, type MeasuredView } from './lens.ts'

const MINUTE_MS = 60_000
const HOUR_MS = 3_600_000
/** A cow at the lens makes a burst of bad photos; three bursts, each so long after the other, are no cow (common practice, no source). */
const OCCASION_MINUTES = 30
const BAD_OCCASIONS = 3
const GOOD_OCCASIONS = 2
/** Photos of a light that a camera's past is told from, at least. */
export const LEAST_PAST = 8
/** What is judged is not its own past: the last day, and at least so many photos. */
const JUDGED_HOURS = 24
const JUDGED_PHOTOS = 12

export interface CameraPhoto {
  readonly stillId: number
  readonly at: Instant
  /** `unreadable`: what came was no photo. */
  readonly state: 'done' | 'unreadable'
  readonly light: 'day' | 'infra-red' | 'not measured'
  readonly whole: MeasuredView | null
}

export type PhotoWord = 'sees' | 'blind' | 'knocked' | 'unreadable' | 'unknown'

export interface JudgedPhoto {
  readonly stillId: number
  readonly at: Instant
  readonly word: PhotoWord
}

/** Photos of `from` on, and while something was wrong, are not what the camera is held against. */
export interface PastBounds {
  /** The camera was set anew, or its view was said to be right, then: what was before is another view. */
  readonly since: Instant | null
  readonly bad: ReadonlyArray<{ readonly from: Instant; readonly to: Instant | null }>
}

/** Judges the latest photos of a camera (in order of time) against those before them; unknown where these are too few. */
export function judgePhotos(photos: readonly CameraPhoto[], bounds: PastBounds): JudgedPhoto[] {
  const newest = photos.at(-1)
  if (newest === undefined) return []
  const cut = Math.min(newest.at - JUDGED_HOURS * HOUR_MS, photos.at(-JUDGED_PHOTOS)?.at ?? newest.at)
  const isPast = ({ at, whole }: CameraPhoto) =>
    whole !== null &&
    at < cut &&
    (bounds.since === null || at >= bounds.since) &&
    !bounds.bad.some(({ from, to }) => at >= from && (to === null || at < to))
  const pastOf = (light: CameraPhoto['light']): LensPast | null => {
    const some = photos.filter((photo) => photo.light === light && isPast(photo))
    return some.length < LEAST_PAST ? null : lensPast(some.flatMap(({ whole }) => whole ?? []))
  }
  const pasts = { day: pastOf('day'), 'infra-red': pastOf('infra-red'), 'not measured': null }
  return photos
    .filter(({ at }) => at >= cut)
    .map((photo) => ({ stillId: photo.stillId, at: photo.at, word: wordOf(photo, pasts[photo.light]) }))
}

function wordOf({ state, whole }: CameraPhoto, past: LensPast | null): PhotoWord {
  if (state === 'unreadable') return 'unreadable'
  return whole === null || past === null ? 'unknown' : lensWord(whole, past)
}

export type PhotoTrouble = 'blind' | 'knocked' | 'unreadable'

export interface FoundTrouble {
  readonly kind: PhotoTrouble
  /** Of the first photo that shows it. */
  readonly from: Instant
  readonly stillId: number
}

/** What is wrong with the latest photos: bad without a good one between, on three occasions; null where nothing is. */
export function troubleNow(judged: readonly JudgedPhoto[]): FoundTrouble | null {
  const known = judged.filter(({ word }) => word !== 'unknown')
  const isLens = ({ word }: JudgedPhoto) => word === 'blind' || word === 'knocked'
  const lens = tail(known, isLens)
  const [bad, kind] =
    lens.length > 0
      ? [lens, commoner(lens)]
      : [tail(known, ({ word }) => word === 'unreadable'), 'unreadable' as const]
  const [first] = bad
  return first === undefined || occasions(bad) < BAD_OCCASIONS
    ? null
    : { kind, from: first.at, stillId: first.stillId }
}

/** Since when the latest photos show that a trouble is over; null where they don't. */
export function overSince(judged: readonly JudgedPhoto[], kind: PhotoTrouble): Instant | null {
  const known = judged.filter(({ word }) => word !== 'unknown')
  // Whatever can be read is no longer unreadable; a view is right again only where it is seen to be.
  const good =
    kind === 'unreadable'
      ? tail(judged, ({ word }) => word !== 'unreadable')
      : tail(known, ({ word }) => word === 'sees')
  const [first] = good
  return first === undefined || occasions(good) < GOOD_OCCASIONS ? null : first.at
}

function tail(judged: readonly JudgedPhoto[], fits: (photo: JudgedPhoto) => boolean): readonly JudgedPhoto[] {
  const last = judged.findLastIndex((photo) => !fits(photo))
  return judged.slice(last + 1)
}

function commoner(lens: readonly JudgedPhoto[]): 'blind' | 'knocked' {
  return lens.filter(({ word }) => word === 'blind').length * 2 >= lens.length ? 'blind' : 'knocked'
}

/** How many times, well apart. */
function occasions(photos: readonly JudgedPhoto[]): number {
  return photos.filter(({ at }, i) => i === 0 || at - photos[i - 1]!.at >= OCCASION_MINUTES * MINUTE_MS)
    .length
}

export interface CardRoom {
  readonly at: Instant
  readonly freeBytes: number
}

/** Under it a card is full: less than three photos, and never more than what a large photo or two take (common practice, no source). */
const FULL_PHOTOS = 3
const FULL_BYTES = 20e6

/**
 * Since when a camera's card is full: its latest signs of life (in order) say that hardly a photo fits, and no photo came
 * since. A camera that writes over its oldest photos goes on sending, so it is not meant.
 */
export function cardFullSince(
  beats: readonly CardRoom[],
  { photoBytes, lastPhotoAt }: { readonly photoBytes: number; readonly lastPhotoAt: Instant | null },
): Instant | null {
  const least = Math.max(FULL_BYTES, FULL_PHOTOS * photoBytes)
  const since = beats[beats.findLastIndex(({ freeBytes }) => freeBytes >= least) + 1]
  if (since === undefined || (lastPhotoAt !== null && lastPhotoAt > since.at)) return null
  return since.at
}
