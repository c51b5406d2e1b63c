/** The day's sheet for the yards: traps that ask for a visit, what is due first, then the others in use. */
import { kilometresBetween } from '../planning/distance.ts'
import { toStationTime } from '../station-time.ts'
import type { Ledger } from '../store/open.ts'
import { listPoints } from '../store/points.ts'
import { readSettings } from '../store/settings.ts'
import type { Instant } from '../words.ts'
import { rounded } from './rounded.ts'
import { readTraps } from './trap-row.ts'
import type { YardSheetAnswer } from './yard-shapes.ts'

export async function yardSheetOf(ledger: Ledger, now: Instant): Promise<YardSheetAnswer> {
  const { name, zone, homestead } = await readSettings(ledger)
  const [points, traps] = await Promise.all([listPoints(ledger), readTraps(ledger, { now, zone })])
  const rows = points.flatMap((point) => {
    const trap = traps.get(point.id)
    if (trap === undefined || (trap.state !== 'open' && trap.dueBy === null)) return []
    const km = rounded(kilometresBetween(homestead, point))
    return [{ pointId: point.id, pointName: point.name, kind: point.kind, km, trap }]
  })
  const due = ({ trap }: (typeof rows)[number]) =>
    trap.dueBy === null ? Number.POSITIVE_INFINITY : Date.parse(trap.dueBy)
  return {
    now: toStationTime(now, zone),
    station: name,
    // Points come in run order, which holds among those that are due at once.
    traps: rows.toSorted((a, b) => (due(a) === due(b) ? 0 : due(a) - due(b))),
  }
}
