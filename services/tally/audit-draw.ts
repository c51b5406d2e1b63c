/** The audit's draw: which bursts nobody would have looked at are looked at, by lot, so that what is missed can be told. */
import type { Burst } from './bursts.ts'
import { inOrderOfLot } from './lot.ts'

/** Bursts drawn a week, unless the owner says otherwise (common practice, no source). */
export const USUAL_DRAW = 20
/** Two of a stratum at least: from one, nothing can be said of how much a stratum varies. */
const LEAST_A_STRATUM = 2
/** Where score bands begin: nothing found, hardly anything, nearly flagged. The first is the models' own floor. */
export const SCORE_BANDS_FROM: readonly number[] = [0.12, 0.25]

export interface Stratum {
  readonly name: string
  /** Bursts it held at the draw. */
  readonly bursts: number
}

export interface DrawnBurst<B extends Burst = Burst> {
  readonly burst: B
  readonly stratum: string
  /** The chance it had of being drawn, over 0 to 1. */
  readonly chance: number
}

export interface AuditDraw<B extends Burst = Burst> {
  readonly seed: string
  readonly strata: ReadonlyArray<Stratum & { readonly members: readonly B[] }>
  readonly drawn: readonly DrawnBurst<B>[]
}

/** The stratum of a burst, from the finest division to the coarsest. */
export type Divisions<B extends Burst> = readonly ((burst: B) => string)[]

/** What can be drawn: what the machine did not flag and no person has chosen to look at. */
export const neverLookedAt = <B extends Burst>(bursts: readonly B[]): B[] =>
  bursts.filter(({ flagged, checked }) => !flagged && !checked)

/** Which band of scores a burst lies in, from 0. */
export const bandOf = ({ score }: Pick<Burst, 'score'>, bandsFrom: readonly number[]): string =>
  `band ${bandsFrom.filter((from) => score >= from).length}`

/** By camera, light and score band; then cameras taken together, then light, then scores. */
export const byCameraLightAndScore = (bandsFrom = SCORE_BANDS_FROM): Divisions<Burst> => [
  (burst) => `camera ${burst.cameraId}, ${burst.light}, ${bandOf(burst, bandsFrom)}`,
  (burst) => `${burst.light}, ${bandOf(burst, bandsFrom)}`,
  (burst) => bandOf(burst, bandsFrom),
  () => 'all',
]

/**
 * Draws `size` bursts (all, where there are fewer) from `bursts` by stratified simple random sampling without replacement
 * (Cochran 1977, Sampling Techniques, 3rd edition, chapter 5). Strata are those of the finest division of which the draw is
 * large enough to take two each. Each stratum gives in proportion to its bursts, and two at least. A draw too small for two
 * of each stratum of the coarsest division still takes two. The same bursts and seed give the same draw.
 */
export function drawAudit<B extends Burst>(
  bursts: readonly B[],
  given: { readonly seed: string; readonly size?: number; readonly divisions?: Divisions<B> },
): AuditDraw<B> {
  const { seed, size = USUAL_DRAW, divisions = byCameraLightAndScore() } = given
  const strata = strataOf(bursts, { size, divisions })
  const numbers = shareOut(
    strata.map(([, members]) => members.length),
    size,
  )
  const nameOf = ({ firstStillId }: Burst) => String(firstStillId)
  return {
    seed,
    strata: strata.map(([name, members]) => ({ name, bursts: members.length, members })),
    drawn: strata.flatMap(([stratum, members], i) =>
      inOrderOfLot(members, { seed, nameOf })
        .slice(0, numbers[i]!)
        .map((burst) => ({ burst, stratum, chance: numbers[i]! / members.length })),
    ),
  }
}

function strataOf<B extends Burst>(
  bursts: readonly B[],
  { size, divisions }: { readonly size: number; readonly divisions: Divisions<B> },
): [string, B[]][] {
  let strata: [string, B[]][] = []
  for (const nameOf of divisions) {
    const named = new Map<string, B[]>()
    for (const burst of bursts) {
      const name = nameOf(burst)
      const members = named.get(name)
      if (members === undefined) named.set(name, [burst])
      else members.push(burst)
    }
    strata = [...named].sort(([a], [b]) => (a < b ? -1 : 1))
    if (strata.reduce((sum, [, { length }]) => sum + Math.min(LEAST_A_STRATUM, length), 0) <= size) break
  }
  return strata
}

/** How many each stratum gives: two, then one at a time to the one that lacks most of its proportion. */
function shareOut(bursts: readonly number[], size: number): number[] {
  const all = bursts.reduce((a, b) => a + b, 0)
  const numbers = bursts.map((count) => Math.min(LEAST_A_STRATUM, count))
  for (let given = numbers.reduce((a, b) => a + b, 0); given < Math.min(size, all); given++) {
    let neediest = -1
    let most = Number.NEGATIVE_INFINITY
    for (const [i, count] of bursts.entries()) {
      const lacks = (count * size) / all - numbers[i]!
      if (numbers[i]! < count && lacks > most) {
        neediest = i
        most = lacks
      }
    }
    numbers[neediest]!++
  }
  return numbers
}
