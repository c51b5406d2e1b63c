/** How the owner drives: the speed, the time at a point, and the kilometres between places where the owner knows them. */

import type { Driving } from '../planning/tour.ts'
import { HOME, type PlaceId, type TableRow } from '../planning/track-distances.ts'
import { Refusal } from '../refusal.ts'
import { toDate } from './instants.ts'
import type { Said } from './kept-lists.ts'
import type { Ledger } from './open.ts'
import { listPoints } from './points.ts'

/** On station tracks (common practice, no source); the owner's own numbers go before it. */
export const USUAL_DRIVING: Driving = { kmAnHour: 40, minutesAtPoint: 30 }

export async function readDriving(ledger: Ledger): Promise<Driving & { readonly own: boolean }> {
  const row = await ledger.selectFrom('driving').selectAll().executeTakeFirst()
  if (row === undefined) return { ...USUAL_DRIVING, own: false }
  return { kmAnHour: row.km_an_hour, minutesAtPoint: row.minutes_at_point, own: true }
}

export async function saveDriving(ledger: Ledger, driving: Driving): Promise<void> {
  const row = { id: 1, km_an_hour: driving.kmAnHour, minutes_at_point: driving.minutesAtPoint }
  await ledger
    .insertInto('driving')
    .values(row)
    .onConflict((conflict) => conflict.column('id').doUpdateSet(row))
    .execute()
}

/** The owner's word on each pair of places that has one. */
export async function readTrackDistances(ledger: Ledger): Promise<TableRow[]> {
  const rows = await ledger
    .selectFrom('track_distances')
    .select(['one_point', 'other_point', 'km'])
    .distinctOn(['one_point', 'other_point'])
    .orderBy('one_point')
    .orderBy('other_point')
    .orderBy('id', 'desc')
    .execute()
  return rows.flatMap(({ one_point, other_point, km }) =>
    km === null ? [] : [{ between: [one_point ?? HOME, other_point] as const, km }],
  )
}

/** Null kilometres take the owner's word back. */
export interface SaidDistance {
  readonly between: readonly [PlaceId, PlaceId]
  readonly km: number | null
}

/** All or none. @throws Refusal for a point that is not there, or a way from a place to itself */
export async function sayTrackDistances(
  ledger: Ledger,
  distances: readonly SaidDistance[],
  said: Said,
): Promise<void> {
  const known = new Set((await listPoints(ledger)).map(({ id }) => id))
  const rows = distances.map(({ between: [a, b], km }, i) => {
    const unknown = [a, b].find((place) => place !== HOME && !known.has(place))
    if (unknown !== undefined) throw refused(`There is no point ${unknown}.`, i)
    if (a === b) throw refused('A way leads from one place to another.', i)
    const [one, other] = inOrder(a, b)
    return { one_point: one, other_point: other, km, at: toDate(said.at), who: said.who }
  })
  if (rows.length > 0) await ledger.insertInto('track_distances').values(rows).execute()
}

/** The homestead first, then the lower number: a pair is one row however it is said. */
function inOrder(a: PlaceId, b: PlaceId): [one: number | null, other: number] {
  if (a === HOME) return [null, b as number]
  if (b === HOME) return [null, a]
  return a < b ? [a, b] : [b, a]
}

const refused = (detail: string, i: number) =>
  new Refusal({
    kind: 'bad input',
    detail,
    field: `distances.${i}`,
    remedy: 'Name two different places of the station: points by their number, or "home".',
  })
