/** Keeps visits and nights: a new or changed still works out again only the visits and the nights that it touches. */
import { type RawBuilder, sql, type Transaction } from 'kysely'
import { nightOf } from '../tally/nights.ts'
import { gapFor, touchedSpells, visitsOf } from '../tally/visits.ts'
import type { Instant, Zone } from '../words.ts'
import type { Tables } from './tables.ts'
import { type PointSpecies, sightingsWithin, type Touched, visitsNear } from './visits-near.ts'
import { type NightOfSpecies, type Replaced, recountNights, replaceVisits } from './visits-replaced.ts'

/** The gap that holds at a point: the station's, or one and a half intervals of its slowest camera on a schedule. */
export async function gapAtPoint(
  tx: Transaction<Tables>,
  pointId: number,
  stationGapMinutes: number,
): Promise<number> {
  const row = await tx
    .selectNoFrom(slowestScheduleAt(sql`${pointId}`).as('slowest'))
    .executeTakeFirstOrThrow()
  return gapFor(stationGapMinutes, row.slowest)
}

/** Minutes between photos of the slowest camera on a schedule at a point, for a question of its own or within one. */
export function slowestScheduleAt(point: RawBuilder<unknown>): RawBuilder<number | null> {
  return sql`(select max(schedule_minutes) from cameras where point_id = ${point})`
}

/**
 * After standing tallies changed: replaces the visits that are touched and the night rows behind them. The points are
 * locked by the caller. Six statements at most, however much is touched.
 */
export async function retouchVisits(
  tx: Transaction<Tables>,
  touched: readonly Touched[],
  zone: Zone,
): Promise<void> {
  if (touched.length === 0) return
  const near = await visitsNear(tx, touched)
  const spells = groupsOf(touched).flatMap(({ moments, ...of }) => {
    const visits = near.filter((visit) => isOf(visit, of))
    return touchedSpells(visits, moments, of.gapMinutes).map((spell) => ({ ...of, ...spell }))
  })
  const sightings = await sightingsWithin(tx, spells)
  const replaced = spells.map((spell, i) => ({
    ...spell,
    before: near.filter(
      (visit) => isOf(visit, spell) && visit.startedAt >= spell.from && visit.endedAt <= spell.to,
    ),
    after: visitsOf(sightings[i]!, spell.gapMinutes),
  }))
  await replaceVisits(tx, replaced, zone)
  await recountNights(tx, nightsTouched({ touched, replaced, zone }), zone)
}

interface TouchedGroup extends PointSpecies {
  readonly gapMinutes: number
  readonly moments: readonly Instant[]
}

const isOf = (one: PointSpecies, other: PointSpecies) =>
  one.pointId === other.pointId && one.species === other.species

function groupsOf(touched: readonly Touched[]): TouchedGroup[] {
  const groups: Array<TouchedGroup & { moments: Instant[] }> = []
  for (const { at, ...of } of touched) {
    const group = groups.find((one) => isOf(one, of))
    if (group === undefined) groups.push({ ...of, moments: [at] })
    else group.moments.push(at)
  }
  return groups
}

function nightsTouched({
  touched,
  replaced,
  zone,
}: {
  readonly touched: readonly Touched[]
  readonly replaced: readonly Replaced[]
  readonly zone: Zone
}): NightOfSpecies[] {
  const nights = [
    ...touched.map(({ pointId, species, at }) => ({ pointId, species, night: nightOf(at, zone) })),
    ...replaced.flatMap(({ pointId, species, before, after }) => [
      ...before.map(({ night }) => ({ pointId, species, night })),
      ...after.map(({ startedAt }) => ({ pointId, species, night: nightOf(startedAt, zone) })),
    ]),
  ]
  return [...new Map(nights.map((one) => [`${one.pointId} ${one.species} ${one.night}`, one])).values()]
}
