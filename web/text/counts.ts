/** Head and species in words. */
import type { Tally } from '../../services/words.ts'
import { SPECIES, type Species } from '../../services/words.ts'

const MANY: Readonly<Record<Species, string>> = {
  cattle: 'cattle',
  camel: 'camels',
  horse: 'horses',
  donkey: 'donkeys',
  goat: 'goats',
}

/** `Cattle`, `Camel`: a species as a heading. */
export function speciesName(species: Species): string {
  return species.slice(0, 1).toUpperCase() + species.slice(1)
}

/** `camels`: a species in general. */
export function speciesMany(species: Species): string {
  return MANY[species]
}

/** `1 photo`, `3 photos`. */
export function plural(count: number, one: string, many = `${one}s`): string {
  return `${count.toLocaleString('en-AU')} ${count === 1 ? one : many}`
}

/** `1 camel`, `3 camels`, `12 cattle`. */
export function head(species: Species, count: number): string {
  // "Cattle" has no singular of its own.
  if (species === 'cattle' && count === 1) return '1 head of cattle'
  return plural(count, species, MANY[species])
}

/** `One camel more`, `One head more`: "cattle" has no singular of its own. Nothing where no species is meant. */
export function one(kind: string | null): string {
  return kind === 'cattle' ? 'head' : (kind ?? '')
}

/** `a, b and c` */
export function list(words: readonly string[]): string {
  if (words.length < 2) return words.join('')
  return `${words.slice(0, -1).join(', ')} and ${words[words.length - 1]}`
}

/** `3 camels and 2 cattle`; `nothing counted` for an empty tally. Order is the station's list of species. */
export function tallyWords(tally: Tally): string {
  const words = SPECIES.flatMap((species) => {
    const count = tally[species] ?? 0
    return count > 0 ? [head(species, count)] : []
  })
  return words.length === 0 ? 'nothing counted' : list(words)
}

/** The honesty line that stands under every count on screen. */
export const LEAST_NUMBER =
  'Counts are the least number seen by a machine and a camera, not a census. Plan yards, feed and trucks for more.'
