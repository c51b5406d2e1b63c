/** Some points' change as one, where each was watched as it was: nights watched more after than before are no rise. */
import type { SpellCount } from '../tally/change.ts'

export interface BeforeAfter {
  readonly before: SpellCount
  readonly after: SpellCount
}

/**
 * Both spells of all points that were watched in both, as two counts for tally/change.ts. The nights are shared out so that
 * the part that falls after is what the visits would be if nothing had changed at any point: the mean over visits of each
 * point's own part. Given each point's visits their number after is then a sum of unlike chances, whose tails beyond the mean
 * are no heavier than those of a binomial with the mean chance (Hoeffding 1956, Annals of Mathematical Statistics 27:713-721,
 * doi:10.1214/aoms/1177728178): p is right or errs on the side of no change, and a
 * ratio lies a little nearer to 1 than the points' own where they were watched unlike. Null where no point was watched in both.
 */
export function pointsTogether(points: readonly BeforeAfter[]): BeforeAfter | null {
  const watched = points.filter(({ before, after }) => before.watchedNights > 0 && after.watchedNights > 0)
  if (watched.length === 0) return null
  const sum = (of: (point: BeforeAfter) => number) => watched.reduce((total, point) => total + of(point), 0)
  const nights = ({ before, after }: BeforeAfter) => before.watchedNights + after.watchedNights
  const visits = ({ before, after }: BeforeAfter) => before.visits + after.visits
  const part = (point: BeforeAfter) => point.after.watchedNights / nights(point)
  const all = sum(visits)
  const afterPart =
    all === 0
      ? sum(({ after }) => after.watchedNights) / sum(nights)
      : sum((point) => visits(point) * part(point)) / all
  return {
    before: { visits: sum(({ before }) => before.visits), watchedNights: sum(nights) * (1 - afterPart) },
    after: { visits: sum(({ after }) => after.visits), watchedNights: sum(nights) * afterPart },
  }
}
