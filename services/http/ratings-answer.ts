/** Ratings as the API answers them: one line each, with where it was found. */
import { type AllRatings, ratingOf } from '../store/ratings.ts'
import { DEFAULT_RATINGS } from '../tally/default-ratings.ts'
import { RATING_KINDS } from '../tally/load.ts'
import { SPECIES } from '../words.ts'
import type { RatingAnswer } from './pressure-shapes.ts'

export function ratingsOf(ratings: AllRatings): RatingAnswer[] {
  return SPECIES.flatMap((species) =>
    RATING_KINDS.map((kind) => {
      const rating = ratingOf(ratings[species], kind)
      const own = rating !== ratingOf(DEFAULT_RATINGS[species], kind)
      return { species, kind, ...rating, own }
    }),
  )
}
