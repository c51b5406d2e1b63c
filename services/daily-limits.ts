/** Learns how long cattle usually stay away once a day while the service runs: the Water run only reads it. */
import { type Rounds, type RoundsGiven, startRounds } from './rounds.ts'
import { learnCattleLimits, limitsLearnedAt } from './store/learn-cattle-limits.ts'
import { readProgress } from './store/progress.ts'
import { findSettings } from './store/settings.ts'

const DAY_MS = 86_400_000
const ROUND_MS = 600_000
/** The first minutes of a start belong to the photos that wait. */
const FIRST_MS = 300_000
/** With more of them waiting, hours in which cattle came would be taken for absences. */
const FEW_WAITING = 50
/** A station that is always behind learns all the same, from what is read. */
const PATIENCE_DAYS = 3

export function startDailyLimits({ ledger, now, log }: RoundsGiven): Rounds {
  return startRounds(
    async (shouldStop) => {
      const settings = await findSettings(ledger)
      if (settings === null) return
      const last = await limitsLearnedAt(ledger)
      // A time ahead of now was written by a clock that ran ahead.
      if (last !== null && last <= now() && now() - last < DAY_MS) return
      const isPatient = last === null || now() - last < PATIENCE_DAYS * DAY_MS
      if (isPatient && (await readProgress(ledger)).waiting > FEW_WAITING) return
      const points = await learnCattleLimits(ledger, {
        zone: settings.zone,
        now: now(),
        shouldStop,
      })
      if (points !== null) log(`cattle: how long they stay away is learned for ${points} points`)
    },
    { about: 'cattle', firstMs: FIRST_MS, roundMs: ROUND_MS, log },
  )
}
