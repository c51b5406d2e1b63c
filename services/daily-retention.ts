/** Lets photos go once a day while the service runs, by the station's clock and rule. */

import { readKeeping } from './store/keeping.ts'
import type { Ledger } from './store/open.ts'
import { runRetention } from './store/retention.ts'
import type { StillFiles } from './store/still-files.ts'
import type { Instant } from './words.ts'

export interface DailyRetention {
  /** Sees now whether a run is due. */
  wake(): Promise<void>
  /** Finishes the batch in hand. */
  stop(): Promise<void>
}

const DAY_MS = 86_400_000
/** Often enough to begin within the hour, and to finish soon what a kill or a store that was away had left. */
const ROUND_MS = 3_600_000
/** The first minutes of a start belong to the photos that wait. */
const FIRST_MS = 600_000

interface Surroundings {
  readonly ledger: Ledger
  readonly files: StillFiles
  readonly now: () => Instant
  readonly log: (line: string) => void
}

export function startDailyRetention({ ledger, files, now, log }: Surroundings): DailyRetention {
  let stopping = false
  let running: Promise<void> | null = null

  async function run(): Promise<void> {
    try {
      const { rule, last } = await readKeeping(ledger)
      if (rule.empties === 'keep' || (last !== null && now() - last.at < DAY_MS)) return
      const { photos, bytes, whyNot } = await runRetention({
        ledger,
        files,
        now: now(),
        shouldStop: () => stopping,
      })
      if (whyNot !== null) log(`keeping photos: nothing goes while ${whyNot}`)
      else if (photos > 0) log(`keeping photos: ${photos} empty photos went, ${bytes} bytes are free again`)
    } catch (fault) {
      log(`keeping photos: ${fault instanceof Error ? fault.message : String(fault)}; tried again in an hour`)
    }
  }

  function wake(): Promise<void> {
    if (stopping) return Promise.resolve()
    running ??= run().finally(() => {
      running = null
    })
    return running
  }

  const first = setTimeout(() => void wake(), FIRST_MS)
  const round = setInterval(() => void wake(), ROUND_MS)
  return {
    wake,
    async stop() {
      stopping = true
      clearTimeout(first)
      clearInterval(round)
      await running
    },
  }
}
