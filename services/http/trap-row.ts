/** How traps stand now, as the water run, a point's page and the yard sheet show them. */
import { toStationTime } from '../station-time.ts'
import type { Ledger } from '../store/open.ts'
import { trapsAt } from '../store/trap-entries.ts'
import { readTrapHours, trapHoursAt } from '../store/trap-hours.ts'
import { type TrapStanding, trapStanding } from '../tally/trap-visits.ts'
import type { Instant, Zone } from '../words.ts'
import type { TrapAnswer } from './trap-shapes.ts'

interface Asked {
  readonly now: Instant
  readonly zone: Zone
  /** Of one point alone. */
  readonly pointId?: number | undefined
}

/** By point; one of which nothing was said is not there. */
export async function readTraps(
  ledger: Ledger,
  { now, zone, pointId }: Asked,
): Promise<ReadonlyMap<number, TrapAnswer>> {
  const [hours, words] = await Promise.all([readTrapHours(ledger), trapsAt(ledger, { now, pointId })])
  const traps = new Map<number, TrapAnswer>()
  for (const [id, said] of words) {
    const visitHours = trapHoursAt(hours, id)
    const standing = trapStanding(said, { now, hours: visitHours })
    if (standing !== null) traps.set(id, trapOf(standing, visitHours, zone))
  }
  return traps
}

function trapOf(standing: TrapStanding, visitHours: number, zone: Zone): TrapAnswer {
  const time = (at: Instant | null) => (at === null ? null : toStationTime(at, zone))
  const { state, stateAt, visitedAt, visitedBy, dueBy, overdue, held } = standing
  return {
    state,
    at: time(stateAt),
    visitedAt: toStationTime(visitedAt, zone),
    visitedBy,
    visitHours,
    dueBy: time(dueBy),
    overdue,
    held: held && { ...held, since: time(held.since) },
  }
}
