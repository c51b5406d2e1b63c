/** Counts of weeks, as seen and corrected by their blind looks. */
import type { Species } from '../words.ts'
import type { AuditWeek } from './audit-evidence.ts'
import { type AuditedBurst, type CorrectedTotal, correctedTotal } from './audit-total.ts'
import { wordsLacking } from './audit-words.ts'
import type { LookSide } from './looks.ts'

export interface SeenAndCorrected {
  /** What stood at the draw: the machine's count, and words before it. */
  readonly seen: number
  readonly corrected: CorrectedTotal
}

/**
 * Visits or head of a species over weeks, as seen and corrected by their looks, at one point or all. Several weeks together
 * say more than each by itself: what is off in one is made up for in another.
 */
export function correctedCount(
  weeks: readonly AuditWeek[],
  asked: { readonly species: Species; readonly what: 'visits' | 'head'; readonly pointId?: number },
): SeenAndCorrected {
  const { species, what, pointId } = asked
  const isIn = (one: { readonly pointId: number }) => pointId === undefined || one.pointId === pointId
  const rows = weeks.flatMap(({ counts }) => counts.filter((row) => row.species === species && isIn(row)))
  const machine = rows.reduce((sum, row) => sum + row[what], 0)
  const known = rows.reduce((sum, row) => sum + (what === 'visits' ? row.knownVisits : row.knownHead), 0)
  const sizes = new Map<string, number>()
  const audited: AuditedBurst[] = []
  for (const { id, there, looks } of weeks) {
    const nameOf = (one: InStratum) => `${id}, ${stratumOf(one)}`
    for (const one of there.filter(isIn)) sizes.set(nameOf(one), (sizes.get(nameOf(one)) ?? 0) + one.looks)
    for (const look of looks.filter(isIn)) {
      if (look.truth === null) continue
      const [counted, truly] = [look.machine, look.truth].map((counts) => counts[species]?.[what] ?? 0)
      audited.push({ stratum: nameOf(look), machine: counted!, truth: truly! })
    }
  }
  const strata = [...sizes].map(([name, bursts]) => ({ name, bursts }))
  return { seen: machine + known, corrected: correctedTotal({ strata, audited }, { machine, known }) }
}

type InStratum = { readonly side: LookSide; readonly stratum: string }

export const stratumOf = ({ side, stratum }: InStratum) => `${side}, ${stratum}`

/** The strata of both sides of a week, and those of the looks that have a word. */
export function wordsOfWeek({ there, looks }: Pick<AuditWeek, 'there' | 'looks'>) {
  const sizes = new Map<string, number>()
  for (const one of there) sizes.set(stratumOf(one), (sizes.get(stratumOf(one)) ?? 0) + one.looks)
  return {
    strata: [...sizes].map(([name, bursts]) => ({ name, bursts })),
    audited: looks.filter(({ truth }) => truth !== null).map((look) => ({ stratum: stratumOf(look) })),
  }
}

/** Whether each stratum of a week, on both sides, has its words. */
export const isWhole = (week: Pick<AuditWeek, 'there' | 'looks'>): boolean =>
  week.looks.length > 0 && wordsLacking(wordsOfWeek(week)) === 0
