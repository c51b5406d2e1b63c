/** The kinds a station's own namer tells apart, and what the namer in use says of them before anything is learned. */
import { type Name, SPECIES } from '../words.ts'

/** The six names of the models, in the order in which their scores are kept. */
export const BASE_NAMES: readonly Name[] = [...SPECIES, 'other']

/** One of the models' six names, or a kind of the owner's own: "other, named" (a sheep, a dog). */
export type Kind = string

/** The six names, then the owner's own kinds. @throws RangeError when an own kind has one of the six names or stands twice */
export function kindsWith(ownKinds: readonly string[]): Kind[] {
  const kinds = [...BASE_NAMES, ...ownKinds]
  if (new Set(kinds).size < kinds.length)
    throw new RangeError(`a kind of the owner's own has a name that is taken: ${ownKinds.join(', ')}`)
  return kinds
}

/** A namer may say 0; its logarithm would be beyond learning. A millionth is less than any check could refute. */
const LEAST_SCORE = 1e-6

/**
 * The log-probability of each kind as the base namer sees it: its six scores (in the order of `BASE_NAMES`, summing to
 * 1), "other" shared out evenly over the owner's own kinds and what is left of "other". The base knows nothing that tells
 * those apart, so even shares claim the least (Laplace's principle); and their sum stays the base's own "other", so a
 * kind that is added and not yet taught changes no animal's name.
 * @throws RangeError when there are not six scores
 */
export function baseLogProbabilities(scores: readonly number[], ownKinds: number): Float64Array {
  if (scores.length !== BASE_NAMES.length)
    throw new RangeError(`the base namer gives ${BASE_NAMES.length} scores, and these are ${scores.length}`)
  const logs = new Float64Array(BASE_NAMES.length + ownKinds)
  for (let kind = 0; kind < SPECIES.length; kind++)
    logs[kind] = Math.log(Math.max(scores[kind]!, LEAST_SCORE))
  logs.fill(Math.log(Math.max(scores[SPECIES.length]!, LEAST_SCORE) / (1 + ownKinds)), SPECIES.length)
  return logs
}

/** The six scores in which an own kind counts as "other", as it does to every tally; they sum to what `kinds` sum to. */
export function sixNames(kinds: ArrayLike<number>): number[] {
  const six = BASE_NAMES.map((_, name) => kinds[name]!)
  for (let own = BASE_NAMES.length; own < kinds.length; own++) six[SPECIES.length]! += kinds[own]!
  return six
}

/** The name with the highest of six scores; of equals the first. */
export const bestName = (scores: readonly number[]): Name => BASE_NAMES[scores.indexOf(Math.max(...scores))]!

/** The kind among the six names: an own kind is "other". */
export const sixNameOf = (kind: Kind): Name => BASE_NAMES.find((name) => name === kind) ?? 'other'
