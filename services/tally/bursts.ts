/** Bursts: what the audit draws. Photos minutes apart show the same animals, so one photo is no witness of its own. */
import type { Instant } from '../words.ts'
import type { Light } from './light.ts'

const MINUTE_MS = 60_000

/** One photo as the machine sees it. */
export interface AuditStill {
  readonly stillId: number
  readonly pointId: number
  readonly cameraId: number
  readonly at: Instant
  readonly light: Light
  /** The best score of any box, 0 to 1; 0 where nothing was found. */
  readonly score: number
  readonly flagged: boolean
  readonly checked: boolean
}

/** A point's photos with no gap over the visit gap, whatever is on them. */
export interface Burst {
  /** The id of its first photo. */
  readonly firstStillId: number
  readonly pointId: number
  /** Camera and light of the photo with the best score; of equals the first. */
  readonly cameraId: number
  readonly light: Light
  readonly score: number
  readonly stillIds: readonly number[]
  /** Whether any of its photos is flagged; is checked. */
  readonly flagged: boolean
  readonly checked: boolean
}

/**
 * The bursts in photos of any points, by point and then time. A gap of exactly `gapMinutes` is still one burst; one of more
 * than `mostPhotos` is cut into pieces.
 */
export function burstsOf(
  stills: readonly AuditStill[],
  gapMinutes: number,
  mostPhotos = Number.POSITIVE_INFINITY,
): Burst[] {
  const inTurn = [...stills].sort((a, b) => a.pointId - b.pointId || a.at - b.at || a.stillId - b.stillId)
  const groups: AuditStill[][] = []
  for (const still of inTurn) {
    const group = groups.at(-1)
    const last = group?.at(-1)
    const goesOn =
      last?.pointId === still.pointId &&
      still.at - last.at <= gapMinutes * MINUTE_MS &&
      group!.length < mostPhotos
    if (goesOn) group!.push(still)
    else groups.push([still])
  }
  return groups.map((group) => {
    const best = group.reduce((a, b) => (b.score > a.score ? b : a))
    return {
      firstStillId: group[0]!.stillId,
      pointId: best.pointId,
      cameraId: best.cameraId,
      light: best.light,
      score: best.score,
      stillIds: group.map(({ stillId }) => stillId),
      flagged: group.some(({ flagged }) => flagged),
      checked: group.some(({ checked }) => checked),
    }
  })
}
