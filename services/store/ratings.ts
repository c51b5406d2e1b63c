/** What an animal drinks and eats: the owner's word where there is one, else the usual. */
import { DEFAULT_RATINGS } from '../tally/default-ratings.ts'
import type { Rating, RatingKind, Ratings } from '../tally/load.ts'
import { SPECIES, type Species } from '../words.ts'
import type { Ledger } from './open.ts'
import type { LedgerOrTransaction } from './settings.ts'

export type AllRatings = Readonly<Record<Species, Ratings>>

/** Null takes the owner's word back: the usual rating holds again. */
export interface RatingChange {
  readonly species: Species
  readonly kind: RatingKind
  readonly rating: { readonly low: number; readonly high: number; readonly source: string } | null
}

const FIELDS = { litres: 'litres', sheep: 'sheep', 'visits a day': 'visitsADay' } as const

export function ratingOf(ratings: Ratings, kind: RatingKind): Rating {
  return ratings[FIELDS[kind]]
}

export async function readRatings(ledger: LedgerOrTransaction): Promise<AllRatings> {
  const rows = await ledger.selectFrom('ratings').selectAll().execute()
  return Object.fromEntries(
    SPECIES.map((species) => {
      const own = rows
        .filter((row) => row.species === species)
        .map(({ kind, low, high, source }) => [FIELDS[kind], { low, high, source, fromMemory: false }])
      return [species, { ...DEFAULT_RATINGS[species], ...Object.fromEntries(own) }]
    }),
  ) as AllRatings
}

export async function saveRatings(ledger: Ledger, changes: readonly RatingChange[]): Promise<AllRatings> {
  return await ledger.transaction().execute(async (tx) => {
    for (const { species, kind, rating } of changes) {
      await tx.deleteFrom('ratings').where('species', '=', species).where('kind', '=', kind).execute()
      if (rating !== null)
        await tx
          .insertInto('ratings')
          .values({ species, kind, ...rating })
          .execute()
    }
    return await readRatings(tx)
  })
}
