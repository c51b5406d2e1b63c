/**
 * Looks: the bursts of a week as an audit draws them, with what the machine counted in each and what people had said of it
 * before. All counts are added up over looks, so that those drawn can stand for the rest.
 */
import { type Instant, SPECIES, type Species, type Tally } from '../words.ts'
import { type AuditStill, type Burst, burstsOf } from './bursts.ts'
import { visitsOf } from './visits.ts'

/**
 * A burst of more photos is looked at in pieces: a camera on a timer makes one that never ends. A visit over several
 * pieces then counts in each. Common practice, no source: a person looks through a dozen photos in a minute.
 */
export const MOST_PHOTOS_A_LOOK = 12

export type LookSide = 'flagged' | 'not flagged'

/** Visits of a species in a look, and the sum of their peaks. */
export interface VisitsAndHead {
  readonly visits: number
  readonly head: number
}
/** A species that is not there is absent. */
export type LookCounts = Partial<Readonly<Record<Species, VisitsAndHead>>>

export interface LookStill extends AuditStill {
  /** What the boxes come to. */
  readonly machine: Tally
  /** What stands: a person's word, else the machine's. */
  readonly standing: Tally
  /** Why it was flagged: its best feral box at or over that species' mark, or its best box of any; null unflagged. */
  readonly lead: Lead | null
  /** Its picture can be shown. */
  readonly shown: boolean
}

export interface Lead {
  readonly species: Species
  readonly feral: boolean
  /** 0 to 1 */
  readonly score: number
}

export interface Look extends Burst {
  readonly side: LookSide
  /** On the flagged side what the machine took it for. */
  readonly species: Species | null
  readonly machine: LookCounts
  readonly standing: LookCounts
  /** People had looked at it of their own accord: at all that was flagged, or at any photo where nothing was. */
  readonly lookedAt: boolean
  readonly shown: boolean
  readonly gapMinutes: number
}

/** Visits and head of each species in the photos of one look. */
export function countsOf(
  photos: ReadonlyArray<{ readonly at: Instant; readonly tally: Tally }>,
  gapMinutes: number,
): LookCounts {
  const counts: Partial<Record<Species, VisitsAndHead>> = {}
  for (const species of SPECIES) {
    const sightings = photos.map(({ at, tally }, stillId) => ({
      stillId,
      at,
      head: tally[species] ?? 0,
      score: 0,
    }))
    const visits = visitsOf(sightings, gapMinutes)
    if (visits.length === 0) continue
    counts[species] = { visits: visits.length, head: visits.reduce((sum, { peak }) => sum + peak, 0) }
  }
  return counts
}

/** The looks in one point's photos. */
export function looksOf(stills: readonly LookStill[], gapMinutes: number): Look[] {
  const byId = new Map(stills.map((still) => [still.stillId, still]))
  return burstsOf(stills, gapMinutes, MOST_PHOTOS_A_LOOK).map((burst) => {
    const photos = burst.stillIds.map((id) => byId.get(id)!)
    const worthALook = photos.filter(({ flagged }) => flagged)
    const lead = worthALook.flatMap((photo) => photo.lead ?? []).sort(firstLead)[0] ?? null
    return {
      ...burst,
      side: burst.flagged ? 'flagged' : 'not flagged',
      species: lead?.species ?? null,
      machine: countsOf(
        photos.map(({ at, machine }) => ({ at, tally: machine })),
        gapMinutes,
      ),
      standing: countsOf(
        photos.map(({ at, standing }) => ({ at, tally: standing })),
        gapMinutes,
      ),
      lookedAt: burst.flagged ? worthALook.every(({ checked }) => checked) : burst.checked,
      shown: photos.every(({ shown }) => shown),
      gapMinutes,
    }
  })
}

const firstLead = (a: Lead, b: Lead) => Number(b.feral) - Number(a.feral) || b.score - a.score

/** The species there, and not counted by the machine. */
export const isMissed = (species: Species, truth: LookCounts, machine: LookCounts): boolean =>
  truth[species] !== undefined && machine[species] === undefined
