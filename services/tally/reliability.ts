/** Are scores to be taken at their word? Of animals scored about 0.7, are seven in ten truly so? */
import { binomialInterval, type ShareInterval } from './binomial-interval.ts'

export interface Scored {
  /** 0 to 1. */
  readonly score: number
  readonly isSo: boolean
}

/** Scores from `from` up to `to` (included in the last alone). */
export interface ReliabilityBin {
  readonly from: number
  readonly to: number
  readonly count: number
  readonly meanScore: number
  /** Share that was truly so, with its exact interval; well calibrated where it holds the mean score. */
  readonly observed: ShareInterval
}

/**
 * The reliability curve: scores in `bins` bins of one width, those without scores left out (Murphy & Winkler 1977, Applied
 * Statistics 26:41-47, doi:10.2307/2346866).
 * @throws RangeError for a score outside 0 to 1
 */
export function reliabilityCurve(scored: readonly Scored[], bins = 10): ReliabilityBin[] {
  const inBin: Scored[][] = Array.from({ length: bins }, () => [])
  for (const one of scored) {
    if (!(one.score >= 0 && one.score <= 1))
      throw new RangeError(`a score is 0 to 1, and this is ${one.score}`)
    inBin[Math.min(bins - 1, Math.floor(one.score * bins))]!.push(one)
  }
  return inBin.flatMap((members, bin) => {
    const count = members.length
    if (count === 0) return []
    return {
      from: bin / bins,
      to: (bin + 1) / bins,
      count,
      meanScore: members.reduce((sum, { score }) => sum + score, 0) / count,
      observed: binomialInterval(members.filter(({ isSo }) => isSo).length, count),
    }
  })
}
