/** A clock against the light in the photos: daylight at night, or infra-red at noon. */
import type { Instant } from '../words.ts'

const MINUTE_MS = 60_000
/** Under it the sun gives no light to a photo (nautical twilight ends at -12 degrees). */
const DARK_UNDER_DEGREES = -12
/** Over it no camera takes the day for night, with a cloud or a tree (common practice, no source). */
const BRIGHT_OVER_DEGREES = 12
const OCCASION_MINUTES = 30
const LEAST_OCCASIONS = 3
/** Photos in the dark from before, at least, and in infra-red nearly all, before a colour photo at night proves anything. */
const LEAST_DARK_PAST = 5
const MOST_COLOUR_IN_DARK = 0.1
const JUDGED_PHOTOS = 12
const JUDGED_MS = 24 * 60 * MINUTE_MS

export interface PhotoInLight {
  readonly stillId: number
  readonly at: Instant
  readonly light: 'day' | 'infra-red' | 'not measured'
  /** Of the sun's centre over the horizon at that time, in degrees. */
  readonly elevation: number
}

type Clear = 'agrees' | 'daylight at night' | 'infra-red by day'

/**
 * From which of a camera's photos (in order of time) the light speaks against its clock: the first that does of the latest
 * photos, where half and more of them do, on three occasions. A camera with a lamp of its own takes colour photos at night,
 * so colour in the dark proves something only where the camera took its nights in infra-red before, or where its days are
 * infra-red as well. Null where nothing speaks against it.
 */
export function lightAgainstClock(photos: readonly PhotoInLight[]): PhotoInLight | null {
  const newest = photos.at(-1)
  if (newest === undefined) return null
  const cut = Math.min(newest.at - JUDGED_MS, photos.at(-JUDGED_PHOTOS)?.at ?? newest.at)
  const judged = photos.filter(({ at }) => at >= cut).flatMap((photo) => clear(photo))
  const against = judged.filter(({ says }) => says !== 'agrees')
  const first = against[0]
  if (first === undefined || against.length * 2 < judged.length || occasions(against) < LEAST_OCCASIONS)
    return null
  const both = new Set(against.map(({ says }) => says)).size === 2
  return both || nightsInInfraRed(photos.filter(({ at }) => at < cut)) ? first.photo : null
}

function clear(photo: PhotoInLight): Array<{ readonly photo: PhotoInLight; readonly says: Clear }> {
  const { light, elevation } = photo
  if (light === 'not measured') return []
  if (elevation < DARK_UNDER_DEGREES)
    return [{ photo, says: light === 'day' ? 'daylight at night' : 'agrees' }]
  if (elevation > BRIGHT_OVER_DEGREES)
    return [{ photo, says: light === 'day' ? 'agrees' : 'infra-red by day' }]
  return []
}

function nightsInInfraRed(past: readonly PhotoInLight[]): boolean {
  const dark = past.filter(
    ({ light, elevation }) => light !== 'not measured' && elevation < DARK_UNDER_DEGREES,
  )
  const colour = dark.filter(({ light }) => light === 'day').length
  return dark.length >= LEAST_DARK_PAST && colour <= MOST_COLOUR_IN_DARK * dark.length
}

function occasions(some: ReadonlyArray<{ readonly photo: PhotoInLight }>): number {
  return some.filter(
    ({ photo }, i) => i === 0 || photo.at - some[i - 1]!.photo.at >= OCCASION_MINUTES * MINUTE_MS,
  ).length
}
