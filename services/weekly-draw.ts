/** Draws the blind looks of the week before, once its photos are in, while the service runs. */

import { randomUUID } from 'node:crypto'
import { type Rounds, type RoundsGiven, startRounds } from './rounds.ts'
import { drawWeek } from './store/audits.ts'
import { findSettings } from './store/settings.ts'
import { nightOf, nightSpell } from './tally/nights.ts'
import { weekBefore, weekOf } from './tally/weeks.ts'

const DAY_MS = 86_400_000
const ROUND_MS = 3_600_000
/** The first minutes of a start belong to the photos that wait. */
const FIRST_MS = 600_000
/** Photos that are not read by then are left out, or a station that is always behind would never draw. */
const PATIENCE_DAYS = 3

export function startWeeklyDraw({ ledger, now, log }: RoundsGiven): Rounds {
  return startRounds(
    async () => {
      const settings = await findSettings(ledger)
      if (settings === null) return
      const at = now()
      const week = weekBefore(weekOf(nightOf(at, settings.zone)))
      const late = at - nightSpell(week.to, settings.zone).to > PATIENCE_DAYS * DAY_MS
      const drawn = await drawWeek(ledger, { week, now: at, seed: randomUUID(), late })
      if (drawn.kind === 'drawn') log(`blind looks: ${drawn.looks} drawn for the week of ${week.from}`)
    },
    { about: 'blind looks', firstMs: FIRST_MS, roundMs: ROUND_MS, log },
  )
}
