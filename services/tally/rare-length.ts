/** The length that only so many in a hundred outlast: beyond what was seen often, told by the tail. */
import { type Lasted, survivalOf } from './survival.ts'

/** The longest quarter is the tail. */
const TAIL_PART = 0.25

/**
 * Hours that the next one outlasts with the chance `rarity` (over 0, under 1). Up to where the tail begins, at the longest
 * quarter and not before `tailFromHours`, by the survival curve (survival.ts); beyond, by an exponential tail (Davison &
 * Smith 1990, Journal of the Royal Statistical Society B 52:393-442, doi:10.1111/j.2517-6161.1990.tb01796.x, with shape 0;
 * censored: Epstein & Sobel 1953, doi:10.1080/01621459.1953.10483488), as a prediction limit: a mean from few is itself
 * unsure, and the next excess over it follows F with 2 and 2 r degrees of freedom, r of the tail having ended (Lawless 2003,
 * Statistical Models and Methods for Lifetime Data, section 4.1, from memory). Null where none of the tail ended.
 */
export function rareLength(
  spells: readonly Lasted[],
  rarity: number,
  { tailFromHours = 0 }: { readonly tailFromHours?: number } = {},
): number | null {
  if (!(rarity > 0 && rarity < 1))
    throw new RangeError(`a rarity lies between 0 and 1, and this is ${rarity}`)
  const steps = survivalOf(spells)
  const asRare = steps.find(({ part }) => part <= rarity)
  const tail = steps.find(({ part }) => part <= TAIL_PART)
  if (tail === undefined) return null
  const start = { hours: Math.max(tail.hours, tailFromHours), part: 1 }
  for (const { hours, part } of steps) if (hours <= start.hours) start.part = part
  if (asRare !== undefined && asRare.hours <= start.hours) return asRare.hours
  const over = spells.filter(({ hours }) => hours > start.hours)
  const ended = over.filter((spell) => spell.ended).length
  if (ended === 0) return null
  const excess = over.reduce((sum, { hours }) => sum + hours - start.hours, 0)
  return start.hours + excess * ((start.part / rarity) ** (1 / ended) - 1)
}
