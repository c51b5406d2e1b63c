/** What the blind looks and the marks ask of a ledger: a whole week of photos at once, of all points. */
import { randomFor } from '../../../services/demo/random.ts'
import { readWeekLooks } from '../../../services/store/audit-week.ts'
import { readWeekBoxes } from '../../../services/store/evidence-week.ts'
import { readSettings } from '../../../services/store/settings.ts'
import { weekOf } from '../../../services/tally/weeks.ts'
import type { HistoryPlan } from './history.ts'
import type { Question } from './questions.ts'

/** A week is a few thousand times what another question reads. */
const DRAWS = 12

export function lookQuestions(plan: HistoryPlan, drawSeed: number): readonly Question[] {
  const weeks = new Map(plan.nights.map((night) => [weekOf(night).from, weekOf(night)]))
  const drawn = randomFor(drawSeed, 'weeks of looks').sample([...weeks.values()], DRAWS)
  return [
    {
      // As the weekly draw does (services/store/audits.ts), but for writing it down.
      name: 'blind looks of a week',
      changes: false,
      prepare: async () =>
        drawn.map(
          (week) => async (ledger) =>
            await ledger
              .transaction()
              .execute(async (tx) => await readWeekLooks(tx, week, await readSettings(tx))),
        ),
    },
    {
      // As GET /api/evidence/marks.
      name: 'what other marks would do',
      changes: false,
      prepare: async () =>
        drawn.map(
          (week) => async (ledger) =>
            await readWeekBoxes(ledger, { week, zone: plan.zone, species: 'camel' }),
        ),
    },
  ]
}
