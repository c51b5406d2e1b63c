/** What is settled for a whole made-up history before its photos are drawn: busy points, feral herds, cameras down. */
import { randomFor } from '../../../services/demo/random.ts'
import { unionOf } from '../../../services/tally/effort.ts'
import { nightSpell } from '../../../services/tally/nights.ts'
import type { Instant, Species, Spell } from '../../../services/words.ts'
import type { HistoryPlan } from './history.ts'

const FERAL_SPECIES = ['camel', 'horse', 'donkey', 'goat'] as const
const FERAL_HERDS_A_POINT = 2
const BUSYNESS = { from: 0.4, to: 1.6 }
/** Of nights a year, how often a camera goes down, and for how long. Under two nights nobody could tell (26 hours). */
const DOWN_SPELLS_A_YEAR = 2
const DOWN_NIGHTS = { from: 2, to: 9 }
const NIGHTS_A_YEAR = 365
/** Cattle have left every so-manieth point for its last nights. */
const GONE_AT_EVERY = 20
const GONE_NIGHTS = 6
/** At every so-manieth point the last camera sends no heartbeats. */
const QUIET_AT_EVERY = 4

export interface Schedule {
  /** The cameras of a point that work in a night, by their place among all cameras. */
  camerasUp(point: number, night: number): readonly number[]
  readonly sendsHeartbeats: (camera: number) => boolean
  readonly cattleCome: (point: number, night: number) => boolean
  readonly feralAt: (point: number) => readonly Species[]
  /** Photos a night against those of a usual point. */
  readonly busyness: (point: number) => number
}

export function scheduleOf(plan: Omit<HistoryPlan, 'stills'>): Schedule {
  const { seed, points, camerasPerPoint, nights } = plan
  const random = randomFor(seed, 'schedule')
  const feral = Array.from({ length: points }, () => random.sample(FERAL_SPECIES, FERAL_HERDS_A_POINT))
  const busyness = Array.from(
    { length: points },
    () => BUSYNESS.from + random.next() * (BUSYNESS.to - BUSYNESS.from),
  )
  const up = Array.from({ length: points * camerasPerPoint }, () => new Uint8Array(nights.length).fill(1))
  const goDown = (cameras: readonly Uint8Array[]) => {
    const first = random.whole(0, nights.length - 1)
    const length = random.whole(DOWN_NIGHTS.from, DOWN_NIGHTS.to)
    for (const camera of cameras) camera.fill(0, first, Math.min(nights.length, first + length))
  }
  const spells = Math.round((DOWN_SPELLS_A_YEAR * nights.length) / NIGHTS_A_YEAR)
  for (const camera of up) for (let spell = 0; spell < spells; spell += 1) goDown([camera])
  const ofPoint = (point: number) => up.slice(point * camerasPerPoint, (point + 1) * camerasPerPoint)
  // Once in its history a whole point went down: lightning, a fire, a bull at the post.
  for (let point = 0; point < points; point += 1) goDown(ofPoint(point))
  return {
    camerasUp: (point, night) =>
      Array.from({ length: camerasPerPoint }, (_, index) => point * camerasPerPoint + index).filter(
        (camera) => up[camera]?.[night] === 1,
      ),
    sendsHeartbeats: (camera) => {
      const isLast = camera % camerasPerPoint === camerasPerPoint - 1
      return !(isLast && Math.floor(camera / camerasPerPoint) % QUIET_AT_EVERY === 0)
    },
    cattleCome: (point, night) => point % GONE_AT_EVERY !== 0 || night < nights.length - GONE_NIGHTS,
    feralAt: (point) => feral[point] ?? FERAL_SPECIES,
    busyness: (point) => busyness[point] ?? 1,
  }
}

/** Noon of every night in which the camera spoke: the end of a night that it watched, or the start of one. */
export function heartbeatsOf(
  plan: Omit<HistoryPlan, 'stills'>,
  schedule: Schedule,
  camera: number,
): Instant[] {
  if (!schedule.sendsHeartbeats(camera)) return []
  const point = Math.floor(camera / plan.camerasPerPoint)
  const isUp = (night: number) =>
    night >= 0 && night < plan.nights.length && schedule.camerasUp(point, night).includes(camera)
  const noons = plan.nights.map((night) => nightSpell(night, plan.zone).from)
  const last = plan.nights.at(-1)
  if (last !== undefined) noons.push(nightSpell(last, plan.zone).to)
  return noons.filter((_, index) => isUp(index - 1) || isUp(index))
}

/**
 * When a point was watched. A camera with heartbeats: in the nights it was up. One without: from where it was put up,
 * at the first noon, to its last photo.
 */
export function watchedAt(
  plan: Omit<HistoryPlan, 'stills'>,
  schedule: Schedule,
  {
    point,
    lastPhotoAt,
  }: { readonly point: number; readonly lastPhotoAt: (camera: number) => Instant | null },
): Spell[] {
  const first = plan.nights[0]
  const spells = Array.from({ length: plan.camerasPerPoint }, (_, index) => {
    const camera = point * plan.camerasPerPoint + index
    if (schedule.sendsHeartbeats(camera)) {
      return plan.nights
        .filter((_, night) => schedule.camerasUp(point, night).includes(camera))
        .map((night) => nightSpell(night, plan.zone))
    }
    const to = lastPhotoAt(camera)
    return to === null || first === undefined ? [] : [{ from: nightSpell(first, plan.zone).from, to }]
  })
  return unionOf(spells.flat())
}
