/** What each mark of a species would catch, miss, and have made of last week. */
import type { AuditWeekRead } from '../store/audit-evidence.ts'
import { readWeekBoxes } from '../store/evidence-week.ts'
import type { Ledger } from '../store/open.ts'
import type { Settings } from '../store/settings.ts'
import { readWeighedPhotos } from '../store/weighed-photos.ts'
import { markCurve, markEffects, marksToTry } from '../tally/mark-evidence.ts'
import { nightOf } from '../tally/nights.ts'
import { atThreshold } from '../tally/threshold-curve.ts'
import { weekBefore, weekOf } from '../tally/weeks.ts'
import type { Instant, Species } from '../words.ts'
import type { MarksAnswer } from './evidence-shapes.ts'

export async function marksAnswerOf(
  ledger: Ledger,
  asked: {
    readonly species: Species
    readonly weeks: readonly AuditWeekRead[]
    readonly settings: Settings
    readonly now: Instant
  },
): Promise<MarksAnswer> {
  const { species, settings } = asked
  const { thresholds, feral, zone } = settings
  const week = weekBefore(weekOf(nightOf(asked.now, zone)))
  const [weighed, boxes] = await Promise.all([
    readWeighedPhotos(ledger, asked.weeks),
    readWeekBoxes(ledger, { week, zone, species }),
  ])
  const curve = markCurve(weighed.photos, species)
  const marks = marksToTry(thresholds, species)
  const effects = markEffects(boxes.photos, { species, thresholds, feral, others: boxes.others, marks })
  return {
    species,
    role: settings.roles[species],
    flagThreshold: thresholds[species].flag,
    countThreshold: thresholds[species].count,
    from: weighed.from,
    photos: weighed.photos.length,
    there: weighed.photos.filter(({ counts }) => (counts[species] ?? 0) > 0).length,
    week,
    steps: effects.map(({ mark, toLookAt, counted }) => {
      const { flagged, falseFlags, missed, precision, recall } = atThreshold(curve, mark)
      return { mark, flagged, falseFlags, missed, precision, recall, toLookAt, counted }
    }),
  }
}
