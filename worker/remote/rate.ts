const OVER_MS = 5 * 60_000
const MS_AN_HOUR = 3_600_000

/** Photos an hour over the last five minutes, or since the start where that is less; from a count that only grows. */
export function photosAnHour() {
  const counts: Array<{ readonly atMs: number; readonly done: number }> = []
  return {
    /** Takes the count down, and tells the rate; 0 at first. `atMs` comes from a clock that never steps back. */
    at(atMs: number, done: number): number {
      counts.push({ atMs, done })
      while (counts.length > 2 && atMs - counts[1]!.atMs >= OVER_MS) counts.shift()
      const first = counts[0]!
      return atMs === first.atMs ? 0 : ((done - first.done) * MS_AN_HOUR) / (atMs - first.atMs)
    },
  }
}
