/** What the form at the yard needs to open: it may be kept on a phone, so nothing in it tells how water or a trap stands. */
import { toStationTime } from '../station-time.ts'
import { targetListOf } from '../store/kept-lists.ts'
import type { Ledger } from '../store/open.ts'
import { listPoints } from '../store/points.ts'
import { readSettings } from '../store/settings.ts'
import { programsOfLate, typedBefore } from '../store/yard-form.ts'
import { stationDate } from '../tally/station-days.ts'
import type { Instant } from '../words.ts'
import type { YardFormAnswer } from './yard-shapes.ts'

/** What a program took is often entered weeks after it. */
const PROGRAM_DAYS_BACK = 90
const DAY_MS = 86_400_000

export async function yardFormOf(ledger: Ledger, now: Instant): Promise<YardFormAnswer> {
  const { zone } = await readSettings(ledger)
  const since = stationDate((now - PROGRAM_DAYS_BACK * DAY_MS) as Instant, zone)
  const [points, programs, typed] = await Promise.all([
    listPoints(ledger),
    programsOfLate(ledger, since),
    typedBefore(ledger),
  ])
  const lists = await Promise.all(programs.map(({ id }) => targetListOf(ledger, id)))
  return {
    now: toStationTime(now, zone),
    zone,
    points: points.map(({ id, name, has_yard }) => ({ id, name, hasYard: has_yard })),
    programs: programs.map((program, index) => ({
      id: program.id,
      name: program.name,
      species: program.species,
      method: program.method,
      fromNight: program.from_night,
      toNight: program.to_night,
      pointIds: lists[index]!.list.lines.map(({ pointId }) => pointId),
    })),
    typed,
  }
}
