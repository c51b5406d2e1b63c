/** Reads what a program's before and after are told from, and how much visits vary beside them. */
import { type Nights, type WorkedSpells, yearBefore } from '../planning/worked-spells.ts'
import { type NightsOfSpecies, readPointNights } from '../store/nights-of-points.ts'
import type { Ledger } from '../store/open.ts'
import {
  type UnfinishedPhotos,
  type UnlikeWord,
  unfinishedPhotos,
  unlikeWords,
} from '../store/unlike-spells.ts'
import { DISPERSION_WEEKS, dispersionOf } from '../tally/dispersion.ts'
import { nightSpell, nightsOn } from '../tally/nights.ts'
import type { Species, Zone } from '../words.ts'

export interface WorkedFacts {
  readonly spells: WorkedSpells
  /** The same nights of the year before; null while nothing is after the program. */
  readonly lastYear: { readonly before: Nights; readonly after: Nights } | null
  /** Of both spells, and as far back as the dispersion is told from. */
  readonly nights: NightsOfSpecies
  readonly pastNights: NightsOfSpecies
  readonly states: readonly UnlikeWord[]
  readonly unfinished: readonly UnfinishedPhotos[]
}

const DAYS_A_WEEK = 7

export async function readWorkedFacts(
  ledger: Ledger,
  {
    spells,
    species,
    zone,
  }: { readonly spells: WorkedSpells; readonly species: Species; readonly zone: Zone },
): Promise<WorkedFacts> {
  const { before, after } = spells
  const to = after?.to ?? before.to
  const weeksBack = nightsOn(to, 1 - DISPERSION_WEEKS * DAYS_A_WEEK)
  const [from] = [before.from, weeksBack].sort() as [Nights['from'], Nights['from']]
  const lastYear = after && { before: yearBefore(before), after: yearBefore(after) }
  const [nights, pastNights, states, unfinished] = await Promise.all([
    readPointNights(ledger, { from, to, species: [species], zone }),
    lastYear === null
      ? () => []
      : readPointNights(ledger, {
          from: lastYear.before.from,
          to: lastYear.after.to,
          species: [species],
          zone,
        }),
    unlikeWords(ledger, { from: nightSpell(before.from, zone).from, to: nightSpell(to, zone).to }),
    unfinishedPhotos(ledger, after === null ? [before] : [before, after]),
  ])
  return { spells, lastYear, nights, pastNights, states, unfinished }
}

/** Over all points, without the program's own days: they are no nights like others. Null: too few nights to tell. */
export function dispersionIn(
  { nights, spells }: WorkedFacts,
  { pointIds, species }: { readonly pointIds: readonly number[]; readonly species: Species },
): number | null {
  const { own } = spells
  const visits = pointIds.flatMap((pointId) =>
    nights(species, pointId)
      .filter(({ night }) => night < own.from || night > own.to)
      .map(({ night, watched, peaks }) => ({ pointId, night, watched, visits: peaks.length })),
  )
  return dispersionOf(visits)?.factor ?? null
}
