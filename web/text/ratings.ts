/** Words of the ratings in Set-up. */
import type { RatingAnswer } from '../../services/http/pressure-shapes.ts'

const NAMES: Readonly<Record<RatingAnswer['kind'], string>> = {
  litres: 'Litres a day',
  sheep: 'Dry sheep equivalents',
  'visits a day': 'Visits to water a day',
}

export const ratingWords = {
  hint: 'What an animal drinks, eats, and how often it comes in: visits become water and feed by these. Give the low and the high end. Empty both to go back to the usual rating.',
  low: 'from',
  high: 'to',
  source: 'Where it was found',
  check: 'from memory, check locally',
  own: 'your own',
  ownSource: 'Set on this station',
  save: 'Save ratings',
  name: (kind: RatingAnswer['kind']) => NAMES[kind],
} as const

/** `Litres a day (from memory, check locally)` */
export function ratingTitle({ kind, fromMemory, own }: RatingAnswer): string {
  if (fromMemory) return `${ratingWords.name(kind)} (${ratingWords.check})`
  return own ? `${ratingWords.name(kind)} (${ratingWords.own})` : ratingWords.name(kind)
}
