/**
 * The demo's blind looks of its past weeks, answered by what is truly in its rendered photos; those of the latest week are
 * left for whoever tries the demo.
 */
import type { House } from '../house.ts'
import { listOpenLooks, type OpenLook, recordLookWords } from '../store/audit-looks.ts'
import { drawWeek } from '../store/audits.ts'
import { nightOf } from '../tally/nights.ts'
import { type WeekOfNights, weekBefore, weekOf } from '../tally/weeks.ts'
import type { Tally } from '../words.ts'
import { demoSpell } from './days.ts'
import { readStillPool, readTrueTallies } from './pool.ts'
import { drawChapter } from './run-past.ts'
import type { SavedPlan } from './saved-plan.ts'
import { demoPoint, demoZone } from './station.ts'

/** As many as the page tells together. */
const WEEKS = 8
/** All that can be open: forty looks a week. */
const MOST_OPEN = 400
const WHO = 'demo'

/** Draws the looks of each whole week of the past that has none yet, and answers them, but those of the latest. */
export async function lookBlindlyInDemo(
  { ledger, now }: House,
  { plan, stopped }: { readonly plan: SavedPlan; readonly stopped: () => boolean },
): Promise<void> {
  const answered: number[] = []
  const weeks = wholeWeeks(plan)
  for (const week of weeks) {
    if (stopped()) return
    const drawn = await drawWeek(ledger, { week, now: now(), seed: `demo ${plan.seed} ${week.from}` })
    if (drawn.kind === 'drawn' && week !== weeks.at(-1)) answered.push(drawn.auditId)
  }
  if (answered.length === 0) return
  const truthOf = await readTruthOfPhotos(plan)
  const { looks } = await listOpenLooks(ledger, MOST_OPEN)
  for (const look of looks.filter(({ audit_id }) => answered.includes(audit_id))) {
    if (stopped()) return
    const words = look.photos.flatMap((photo) => {
      const counts = truthOf(look.camera_name, photo)
      return counts === undefined ? [] : [{ stillId: photo.id, counts }]
    })
    if (words.length < look.photos.length) continue
    await recordLookWords(ledger, { lookId: look.id, words, who: WHO, at: now() })
  }
}

/** Oldest first; those that the past holds from their first noon to their last. */
function wholeWeeks({ chapters }: SavedPlan): WeekOfNights[] {
  const first = nightOf(demoSpell(chapters[0]!).from, demoZone)
  const weeks: WeekOfNights[] = []
  let week = weekBefore(weekOf(nightOf(chapters.at(-1)!.now, demoZone)))
  while (weeks.length < WEEKS && week.from >= first) {
    weeks.unshift(week)
    week = weekBefore(week)
  }
  return weeks
}

/** What is truly in a photo of the past, by its camera and time; undefined for one that the demo did not make. */
async function readTruthOfPhotos({ chapters, seed }: SavedPlan) {
  const [pool, tallies] = await Promise.all([readStillPool(), readTrueTallies()])
  const sources = new Map<string, string>()
  for (const chapter of chapters)
    for (const { pointKey, at, source } of drawChapter(chapter, seed, pool).schedule)
      sources.set(`${demoPoint(pointKey).camera.name} ${at}`, source)
  return (cameraName: string, { taken_at }: OpenLook['photos'][number]): Tally | undefined => {
    const source = sources.get(`${cameraName} ${taken_at.getTime()}`)
    return source === undefined ? undefined : tallies.get(source)
  }
}
