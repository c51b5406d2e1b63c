/**
 * A station's years as records, drawn by seed: who came to which water, what was found on each photo, when its cameras
 * were down. Pure, and one night at a time, so that ten million photos need no more memory than one night of them.
 */
import { type Random, randomFor } from '../../../services/demo/random.ts'
import { nightSpell } from '../../../services/tally/nights.ts'
import type { Instant, NightDate, Species, Zone } from '../../../services/words.ts'
import { type Schedule, scheduleOf } from './schedule.ts'

const MS_PER_MINUTE = 60_000
const MS_PER_HOUR = 3_600_000
/** Nothing comes in the hour before and after noon, so no visit lies in two nights. */
const QUIET_HOURS = 1
const HOURS_A_GROUP_MAY_START_IN = 20
/** A group comes in, drinks and goes: photos one to four minutes apart, well within the gap. */
const BETWEEN_PHOTOS_MINUTES = { from: 1, to: 4 }

/** Shares of groups, the rest being nothing at all: wind, birds, shadows. */
const CATTLE_SHARE = 0.4
const FERAL_SHARE = 0.12
const CATTLE_GROUP = { from: 2, to: 8 }
const FERAL_GROUP = { from: 1, to: 6 }
const EMPTY_GROUP = { from: 1, to: 5 }
const UNSURE_SHARE = 0.03
const FLOOR_BOX_SHARE = 0.1
const CHECKED_SHARE = 0.25
const CORRECTED_SHARE = 0.2
const UNREADABLE_SHARE = 0.001
const DOUBT_SHARE = 0.002

export interface HistoryPlan {
  readonly seed: number
  readonly stills: number
  readonly points: number
  readonly camerasPerPoint: number
  readonly nights: readonly NightDate[]
  readonly zone: Zone
}

export interface MadeBox {
  readonly species: Species
  /** Four decimals, so that the ledger's four-byte numbers tell the same scores apart. */
  readonly score: number
  /** Place from the left: boxes stand side by side and never overlap. */
  readonly place: number
}

export interface MadeStill {
  /** From 1, in order of time. */
  readonly id: number
  readonly point: number
  /** From 0 over all points: the cameras of a point follow one another. */
  readonly camera: number
  readonly takenAt: Instant
  readonly night: NightDate
  readonly unreadable: boolean
  readonly clockInDoubt: boolean
  readonly boxes: readonly MadeBox[]
  readonly flagged: boolean
  readonly unsure: boolean
  readonly feral: boolean
  readonly check: 'agreed' | 'corrected' | null
  /** What stands: at most one species a photo. */
  readonly species: Species | null
  readonly head: number
}

type Unnumbered = Omit<MadeStill, 'id'>

/** The photos of each night, in order of time; over all nights exactly as many as planned. */
export function* nightsOfHistory(plan: HistoryPlan): Generator<{
  readonly night: NightDate
  readonly stills: readonly MadeStill[]
}> {
  const schedule = scheduleOf(plan)
  const quota = quotaOf(plan, schedule)
  const random = randomFor(plan.seed, 'photos')
  let id = 1
  for (const [index, night] of plan.nights.entries()) {
    const { from } = nightSpell(night, plan.zone)
    const made: Unnumbered[] = []
    for (let point = 0; point < plan.points; point += 1) {
      const cameras = schedule.camerasUp(point, index)
      if (cameras.length > 0) {
        const cattle = schedule.cattleCome(point, index)
        const feral = schedule.feralAt(point)
        addNight(made, { random, point, cameras, night, from, cattle, feral, count: quota() })
      }
    }
    made.sort((a, b) => a.takenAt - b.takenAt || a.camera - b.camera)
    yield { night, stills: made.map((still) => ({ id: id++, ...still })) }
  }
}

/** How many photos the next watched night of a point has: busy points more, and all together as many as planned. */
function quotaOf(plan: HistoryPlan, schedule: Schedule): () => number {
  const weights: number[] = []
  for (let index = 0; index < plan.nights.length; index += 1) {
    for (let point = 0; point < plan.points; point += 1) {
      if (schedule.camerasUp(point, index).length > 0) weights.push(schedule.busyness(point))
    }
  }
  const perWeight = plan.stills / weights.reduce((sum, weight) => sum + weight, 0)
  let given = 0
  let due = 0
  let next = 0
  return () => {
    due += (weights[next] ?? 0) * perWeight
    next += 1
    const count = (next === weights.length ? plan.stills : Math.floor(due)) - given
    given += count
    return count
  }
}

interface NightOfPoint {
  readonly random: Random
  readonly point: number
  readonly cameras: readonly number[]
  readonly night: NightDate
  /** Noon. */
  readonly from: Instant
  readonly cattle: boolean
  readonly feral: readonly Species[]
  readonly count: number
}

function addNight(made: Unnumbered[], given: NightOfPoint): void {
  const { random } = given
  for (let left = given.count; left > 0; ) {
    const kind = random.next()
    const species =
      kind < CATTLE_SHARE
        ? given.cattle
          ? 'cattle'
          : null
        : kind < CATTLE_SHARE + FERAL_SHARE
          ? random.pick(given.feral)
          : null
    const size = species === null ? EMPTY_GROUP : species === 'cattle' ? CATTLE_GROUP : FERAL_GROUP
    const length = Math.min(left, random.whole(size.from, size.to))
    let at = given.from + (QUIET_HOURS + random.next() * HOURS_A_GROUP_MAY_START_IN) * MS_PER_HOUR
    for (let index = 0; index < length; index += 1) {
      made.push(stillAt(Math.floor(at / 1000) * 1000, species, given))
      at += random.whole(BETWEEN_PHOTOS_MINUTES.from, BETWEEN_PHOTOS_MINUTES.to) * MS_PER_MINUTE
    }
    left -= length
  }
}

function stillAt(at: number, species: Species | null, given: NightOfPoint): Unnumbered {
  const { random, point, night } = given
  const unreadable = random.next() < UNREADABLE_SHARE
  const clockInDoubt = random.next() < DOUBT_SHARE
  const heads = species === null || unreadable ? 0 : headsOf(random)
  const boxes: MadeBox[] = []
  for (let place = 0; place < heads; place += 1) {
    boxes.push({ species: species as Species, score: score(random, 0.55, 0.98), place })
  }
  const unsure = !unreadable && random.next() < UNSURE_SHARE
  const other = species ?? 'cattle'
  if (unsure) boxes.push({ species: other, score: score(random, 0.36, 0.49), place: heads })
  else if (!unreadable && random.next() < FLOOR_BOX_SHARE) {
    boxes.push({ species: other, score: score(random, 0.1, 0.3), place: heads })
  }
  const feral = heads > 0 && species !== 'cattle'
  const flagged = unsure || feral
  const check =
    flagged && random.next() < CHECKED_SHARE
      ? random.next() < CORRECTED_SHARE
        ? 'corrected'
        : 'agreed'
      : null
  return {
    point,
    camera: given.cameras.length === 1 ? (given.cameras[0] as number) : random.pick(given.cameras),
    takenAt: at as Instant,
    night,
    unreadable,
    clockInDoubt,
    boxes,
    flagged,
    unsure,
    feral,
    check,
    species: heads > 0 ? species : null,
    // Whoever corrects has seen one more behind the others.
    head: heads > 0 && check === 'corrected' ? heads + 1 : heads,
  }
}

function headsOf(random: Random): number {
  const draw = random.next()
  return draw < 0.6 ? 1 : draw < 0.85 ? 2 : 3
}

function score(random: Random, from: number, to: number): number {
  return Math.round((from + random.next() * (to - from)) * 10_000) / 10_000
}
