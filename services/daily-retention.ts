/** Lets photos go once a day while the service runs, by the station's clock and rule. */

import { type Rounds, type RoundsGiven, startRounds } from './rounds.ts'
import { readKeeping } from './store/keeping.ts'
import { runRetention } from './store/retention.ts'
import type { StillFiles } from './store/still-files.ts'

const DAY_MS = 86_400_000
/** Often enough to begin within the hour, and to finish soon what a kill or a store that was away had left. */
const ROUND_MS = 3_600_000
/** The first minutes of a start belong to the photos that wait. */
const FIRST_MS = 600_000

export function startDailyRetention({
  ledger,
  files,
  now,
  log,
}: RoundsGiven & { readonly files: StillFiles }): Rounds {
  return startRounds(
    async (shouldStop) => {
      const { rule, last } = await readKeeping(ledger)
      if (rule.empties === 'keep' || (last !== null && now() - last.at < DAY_MS)) return
      const { photos, bytes, whyNot } = await runRetention({
        ledger,
        files,
        now: now(),
        shouldStop,
      })
      if (whyNot !== null) log(`keeping photos: nothing goes while ${whyNot}`)
      else if (photos > 0) log(`keeping photos: ${photos} empty photos went, ${bytes} bytes are free again`)
    },
    { about: 'keeping photos', firstMs: FIRST_MS, roundMs: ROUND_MS, log },
  )
}
