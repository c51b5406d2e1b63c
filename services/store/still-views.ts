/** Reads stills the way a person looks at them: with boxes, flags, the standing count and the check behind it. */
import type { ExpressionBuilder, Selectable } from 'kysely'
import { Refusal } from '../refusal.ts'
import type { NightDate, Species } from '../words.ts'
import { type CheckRow, checkRowOf, lastChecksOn } from './check-rows.ts'
import type { Ledger } from './open.ts'
import type { DetectionsTable, StillState, StillsTable, Tables } from './tables.ts'

const MS_PER_DAY = 86_400_000

export interface StillView {
  readonly still: Selectable<StillsTable> & { readonly point_name: string; readonly camera_name: string }
  readonly detections: ReadonlyArray<Selectable<DetectionsTable>>
  /** The latest word, a withdrawal included; null where nobody spoke. */
  readonly lastCheck: CheckRow | null
}

export interface StillFilter {
  readonly pointId?: number | undefined
  readonly cameraId?: number | undefined
  readonly night?: NightDate | undefined
  /** Nights, both included. */
  readonly from?: NightDate | undefined
  readonly to?: NightDate | undefined
  readonly visitId?: number | undefined
  readonly species?: Species | undefined
  readonly state?: StillState | undefined
  readonly doubtfulOnly?: boolean
  readonly flaggedOnly?: boolean
  readonly takenFrom?: Date | undefined
  readonly takenTo?: Date | undefined
}

/** A place in a list that runs from the newest to the oldest. */
export interface PagePlace {
  readonly at: Date
  readonly id: number
}

function stillsWithNames(ledger: Ledger) {
  return ledger
    .selectFrom('stills')
    .innerJoin('points', 'points.id', 'stills.point_id')
    .innerJoin('cameras', 'cameras.id', 'stills.camera_id')
    .selectAll('stills')
    .select(['points.name as point_name', 'cameras.name as camera_name'])
}

/** Stills that fit, newest first, from after `place`. */
export async function listStills(
  ledger: Ledger,
  filter: StillFilter,
  { place, limit }: { readonly place: PagePlace | null; readonly limit: number },
): Promise<StillView[]> {
  let query = stillsWithNames(ledger)
  const visit = filter.visitId === undefined ? null : await findVisitSpan(ledger, filter.visitId)
  const pointId = visit?.point_id ?? filter.pointId
  if (pointId !== undefined) query = query.where('stills.point_id', '=', pointId)
  if (visit !== null) {
    query = query.where('taken_at', '>=', visit.started_at).where('taken_at', '<=', visit.ended_at)
  }
  const species = visit?.species ?? filter.species
  if (species !== undefined) query = query.where((e) => e.exists(sightingOf(e, species)))
  if (filter.cameraId !== undefined) query = query.where('stills.camera_id', '=', filter.cameraId)
  const [from, to] = [filter.night ?? filter.from, filter.night ?? filter.to]
  // Lists run by time, so nights are found by time, else every later photo would be looked at on the way to them. Wide
  // enough for the noons of any zone.
  if (from !== undefined)
    query = query.where('night', '>=', from).where('taken_at', '>=', new Date(Date.parse(from) - MS_PER_DAY))
  if (to !== undefined)
    query = query.where('night', '<=', to).where('taken_at', '<', new Date(Date.parse(to) + 3 * MS_PER_DAY))
  if (filter.state !== undefined) query = query.where('state', '=', filter.state)
  if (filter.doubtfulOnly) query = query.where('clock_doubt', 'is not', null)
  if (filter.flaggedOnly) query = query.where('flagged', '=', true)
  if (filter.takenFrom !== undefined) query = query.where('taken_at', '>=', filter.takenFrom)
  if (filter.takenTo !== undefined) query = query.where('taken_at', '<=', filter.takenTo)
  if (place !== null) {
    query = query.where((e) => e(e.refTuple('taken_at', 'stills.id'), '<', e.tuple(place.at, place.id)))
  }
  const stills = await query.orderBy('taken_at', 'desc').orderBy('stills.id', 'desc').limit(limit).execute()
  return await withFindings(ledger, stills)
}

function sightingOf(e: ExpressionBuilder<Tables, 'stills'>, species: Species) {
  return e
    .selectFrom('sightings')
    .select('sightings.still_id')
    .whereRef('sightings.still_id', '=', 'stills.id')
    .where('sightings.species', '=', species)
}

async function findVisitSpan(ledger: Ledger, visitId: number) {
  const visit = await ledger.selectFrom('visits').selectAll().where('id', '=', visitId).executeTakeFirst()
  if (visit !== undefined) return visit
  throw new Refusal({
    kind: 'not found',
    detail: `There is no visit ${visitId}: a later photo or a check may have joined it to another.`,
    field: 'visit',
    remedy: "Open the point's page and choose the visit again.",
  })
}

export async function findStill(ledger: Ledger, id: number): Promise<StillView> {
  const still = await stillsWithNames(ledger).where('stills.id', '=', id).executeTakeFirst()
  if (still === undefined) {
    throw new Refusal({
      kind: 'not found',
      detail: `There is no photo ${id}.`,
      field: 'id',
      remedy: 'It may have been removed. Go back to the list and choose another.',
    })
  }
  const [view] = await withFindings(ledger, [still])
  return view!
}

export async function findStills(ledger: Ledger, ids: readonly number[]): Promise<StillView[]> {
  if (ids.length === 0) return []
  return await withFindings(ledger, await stillsWithNames(ledger).where('stills.id', 'in', ids).execute())
}

/** Every word said of a still, latest first. */
export async function listChecks(ledger: Ledger, stillId: number): Promise<CheckRow[]> {
  const rows = await ledger
    .selectFrom('checks')
    .selectAll()
    .where('still_id', '=', stillId)
    .orderBy('id', 'desc')
    .execute()
  return rows.map(checkRowOf)
}

async function withFindings(ledger: Ledger, stills: ReadonlyArray<StillView['still']>): Promise<StillView[]> {
  if (stills.length === 0) return []
  const ids = stills.map((still) => still.id)
  const [detections, checks] = await Promise.all([
    ledger
      .selectFrom('detections')
      .selectAll()
      .where('still_id', 'in', ids)
      .orderBy('score', 'desc')
      .orderBy('id')
      .execute(),
    lastChecksOn(ledger, ids),
  ])
  const boxes = new Map<number, Array<Selectable<DetectionsTable>>>(ids.map((id) => [id, []]))
  for (const row of detections) boxes.get(row.still_id)?.push(row)
  const words = new Map(checks.map((row) => [row.stillId, row]))
  return stills.map((still) => ({
    still,
    detections: boxes.get(still.id) ?? [],
    lastCheck: words.get(still.id) ?? null,
  }))
}
