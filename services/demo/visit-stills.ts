/** The stills of one visit: fitting ones of that water, by the light of the hour, a few minutes apart. */
import type { Instant } from '../words.ts'
import type { PooledStill } from './pool.ts'
import type { Random } from './random.ts'
import { demoHomestead } from './station.ts'
import { lightAt } from './sun.ts'

/** Between stills of one visit; well under the gap that would make it two. */
const BETWEEN_STILLS_SECONDS = { least: 40, most: 480 } as const

export interface VisitPlan {
  readonly start: Instant
  readonly length: number
  readonly fitting: readonly PooledStill[]
  readonly random: Random
}

/** The stills and their times, oldest first; fewer than asked for where the light runs out. */
export function visitStills({
  start,
  length,
  fitting,
  random,
}: VisitPlan): { at: Instant; source: string }[] {
  const stills: { at: Instant; source: string }[] = []
  let at = start
  for (let i = 0; i < length; i += 1) {
    const light = lightAt(at, demoHomestead)
    const inThisLight = fitting.filter((still) => still.light === light)
    const fresh = inThisLight.filter(({ source }) => source !== stills.at(-1)?.source)
    // A visit that runs into a light for which this water has no stills ends there.
    if (inThisLight.length === 0) break
    stills.push({ at, source: random.pick(fresh.length > 0 ? fresh : inThisLight).source })
    at = (at + random.whole(BETWEEN_STILLS_SECONDS.least, BETWEEN_STILLS_SECONDS.most) * 1000) as Instant
  }
  return stills
}
