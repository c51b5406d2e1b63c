/** What a made-up night comes to, by the product's own rules: the visits and the night row of each species at each point. */
import { type Sighting, type Visit, visitsOf } from '../../../services/tally/visits.ts'
import type { Species } from '../../../services/words.ts'
import type { MadeStill } from './history.ts'

/** A person's word counts as certain (services/store/sightings.ts). */
const CHECKED_SCORE = 1

export interface CountedNight {
  readonly point: number
  readonly species: Species
  readonly visits: readonly Visit[]
  readonly least: number
  readonly sumOfPeaks: number
  readonly photos: number
}

/** The sighting that stands on a photo, if one does. */
export function sightingOf(still: MadeStill): Sighting | null {
  if (still.species === null || still.clockInDoubt) return null
  const score = still.check === null ? Math.max(...still.boxes.map((box) => box.score)) : CHECKED_SCORE
  return { stillId: still.id, at: still.takenAt, head: still.head, score }
}

/** All that was seen in ONE night; no made-up visit reaches into another, so the nights are counted one by one. */
export function countNight(stills: readonly MadeStill[], gapMinutes: number): CountedNight[] {
  const groups = new Map<string, { point: number; species: Species; sightings: Sighting[] }>()
  for (const still of stills) {
    const sighting = sightingOf(still)
    if (sighting === null || still.species === null) continue
    const key = `${still.point} ${still.species}`
    const group = groups.get(key)
    if (group === undefined) {
      groups.set(key, { point: still.point, species: still.species, sightings: [sighting] })
    } else group.sightings.push(sighting)
  }
  return [...groups.values()].map(({ point, species, sightings }) => {
    const visits = visitsOf(sightings, gapMinutes)
    return {
      point,
      species,
      visits,
      least: sightings.reduce((most, { head }) => Math.max(most, head), 0),
      sumOfPeaks: visits.reduce((sum, { peak }) => sum + peak, 0),
      photos: sightings.length,
    }
  })
}
