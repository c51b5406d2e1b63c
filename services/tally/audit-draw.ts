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

export interface DrawnBurst {
  readonly burst: Burst
  readonly stratum: string
  /** The chance it had of being drawn, over 0 to 1. */
  readonly chance: number
}

export interface AuditDraw {
  readonly seed: string
  readonly strata: readonly Stratum[]
  readonly drawn: readonly DrawnBurst[]
}

/** What can be drawn: what the machine did not flag and no person has chosen to look at. */
export const neverLookedAt = (bursts: readonly Burst[]): Burst[] =>
  bursts.filter(({ flagged, checked }) => !flagged && !checked)

/**
 * Draws `size` bursts (all, where there are fewer) from `bursts` by stratified simple random sampling without replacement
 * (Cochran 1977, Sampling Techniques, 3rd edition, chapter 5). Strata are camera, light and score band; where the draw is
 * too small for two of each, cameras are taken together, then light, then scores. Each stratum gives in proportion to its
 * bursts, and two at least. A draw too small for two of the last remaining stratum still takes two. The same bursts and
 * seed give the same draw.
 */
export function drawAudit(
  bursts: readonly Burst[],
  given: { readonly seed: string; readonly size?: number; readonly bandsFrom?: readonly number[] },
): AuditDraw {
  const { seed, size = USUAL_DRAW, bandsFrom = SCORE_BANDS_FROM } = given
  const strata = strataOf(bursts, { size, bandsFrom })
  const numbers = shareOut(
    strata.map(([, members]) => members.length),
    size,
  )
  const nameOf = ({ firstStillId }: Burst) => String(firstStillId)
  return {
    seed,
    strata: strata.map(([name, members]) => ({ name, bursts: members.length })),
    drawn: strata.flatMap(([stratum, members], i) =>
      inOrderOfLot(members, { seed, nameOf })
        .slice(0, numbers[i]!)
        .map((burst) => ({ burst, stratum, chance: numbers[i]! / members.length })),
    ),
  }
}

function strataOf(
  bursts: readonly Burst[],
  { size, bandsFrom }: { readonly size: number; readonly bandsFrom: readonly number[] },
): [string, Burst[]][] {
  const band = ({ score }: Burst) => `band ${bandsFrom.filter((from) => score >= from).length}`
  const finestFirst: readonly ((burst: Burst) => string)[] = [
    (burst) => `camera ${burst.cameraId}, ${burst.light}, ${band(burst)}`,
    (burst) => `${burst.light}, ${band(burst)}`,
    band,
    () => 'all',
  ]
  let strata: [string, Burst[]][] = []
  for (const nameOf of finestFirst) {
    const named = new Map<string, Burst[]>()
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
