/** A week's photos as an audit draws from them: all points, by the index that a point's photos are read by. */
import { type Selectable, sql, type Transaction } from 'kysely'
import { lightOf } from '../tally/light.ts'
import { type Lead, type Look, type LookStill, looksOf } from '../tally/looks.ts'
import { nightSpell } from '../tally/nights.ts'
import { gapFor } from '../tally/visits.ts'
import type { WeekOfNights } from '../tally/weeks.ts'
import type { Species, Tally } from '../words.ts'
import { byStill } from './by-still.ts'
import { toDate, toInstant } from './instants.ts'
import type { Settings } from './settings.ts'
import type { DetectionsTable, SightingsTable, StillsTable, Tables } from './tables.ts'

/** Points read at once: a few thousand photos of a busy week. */
const POINTS_AT_ONCE = 20

type StillRow = Pick<
  Selectable<StillsTable>,
  'id' | 'point_id' | 'camera_id' | 'taken_at' | 'flagged' | 'checked' | 'kept' | 'colourfulness' | 'model_id'
>
type BoxRow = Pick<Selectable<DetectionsTable>, 'still_id' | 'species' | 'score'>
type SightingRow = Pick<Selectable<SightingsTable>, 'still_id' | 'species' | 'head'>

export interface WeekLooks {
  readonly looks: readonly Look[]
  /** By photo, the models that looked at it. */
  readonly models: ReadonlyMap<number, number | null>
}

/** Whether photos of these nights still wait to be looked at. */
export async function weekStillWaits(tx: Transaction<Tables>, week: WeekOfNights): Promise<boolean> {
  const { rows } = await sql<{ waits: boolean }>`select exists (
    select from stills where state = 'received' and night between ${week.from} and ${week.to}) as waits`.execute(
    tx,
  )
  return rows[0]!.waits
}

/** The looks of a week at every point: photos that were looked at, with a clock that is trusted. */
export async function readWeekLooks(
  tx: Transaction<Tables>,
  week: WeekOfNights,
  settings: Settings,
): Promise<WeekLooks> {
  const points = await tx
    .selectFrom('points')
    .leftJoin('cameras', 'cameras.point_id', 'points.id')
    .select(['points.id', (e) => e.fn.max('schedule_minutes').as('slowest')])
    .groupBy('points.id')
    .orderBy('points.id')
    .execute()
  const looks: Look[] = []
  const models = new Map<number, number | null>()
  for (let at = 0; at < points.length; at += POINTS_AT_ONCE) {
    const some = points.slice(at, at + POINTS_AT_ONCE)
    const stills = await readStills(tx, { pointIds: some.map(({ id }) => id), week, settings })
    for (const { id, model_id } of stills.rows) models.set(id, model_id)
    for (const { id, slowest } of some) {
      const ofPoint = stills.photos.filter(({ pointId }) => pointId === id)
      looks.push(...looksOf(ofPoint, gapFor(settings.visitGapMinutes, slowest)))
    }
  }
  return { looks, models }
}

async function readStills(
  tx: Transaction<Tables>,
  {
    pointIds,
    week,
    settings,
  }: { readonly pointIds: readonly number[]; readonly week: WeekOfNights; readonly settings: Settings },
): Promise<{ readonly rows: readonly StillRow[]; readonly photos: readonly LookStill[] }> {
  const from = toDate(nightSpell(week.from, settings.zone).from)
  const to = toDate(nightSpell(week.to, settings.zone).to)
  const { rows } = await sql<StillRow>`
    select s.* from unnest(${pointIds}::int[]) as p (id) cross join lateral (
      select id, point_id, camera_id, taken_at, flagged, checked, kept, colourfulness, model_id from stills
      where point_id = p.id and taken_at >= ${from} and taken_at < ${to} and state = 'done'
        and clock_doubt is null) as s`.execute(tx)
  const ids = rows.map(({ id }) => id)
  const boxes = await sql<BoxRow>`select still_id, species, score from detections
    where still_id = any(${ids}::bigint[])`.execute(tx)
  const sightings = await sql<SightingRow>`select still_id, species, head from sightings
    where still_id = any(${ids}::bigint[])`.execute(tx)
  const boxesOf = byStill(boxes.rows)
  const sightingsOf = byStill(sightings.rows)
  return {
    rows,
    photos: rows.map((row) =>
      photoOf(row, boxesOf.get(row.id) ?? [], sightingsOf.get(row.id) ?? [], settings),
    ),
  }
}

function photoOf(
  row: StillRow,
  boxes: readonly BoxRow[],
  sightings: readonly SightingRow[],
  { thresholds, feral }: Settings,
): LookStill {
  const machine: Partial<Record<Species, number>> = {}
  for (const { species, score } of boxes)
    if (score >= thresholds[species].count) machine[species] = (machine[species] ?? 0) + 1
  const leads = boxes
    .filter(({ species, score }) => score >= thresholds[species].flag)
    .map(({ species, score }): Lead => ({ species, score, feral: feral.has(species) }))
    .sort((a, b) => Number(b.feral) - Number(a.feral) || b.score - a.score)
  return {
    stillId: row.id,
    pointId: row.point_id,
    cameraId: row.camera_id,
    at: toInstant(row.taken_at),
    light: lightOf(row.colourfulness),
    score: Math.max(0, ...boxes.map(({ score }) => score)),
    flagged: row.flagged,
    checked: row.checked,
    machine,
    standing: Object.fromEntries(sightings.map(({ species, head }) => [species, head])) as Tally,
    lead: leads[0] ?? null,
    shown: row.kept !== 'none',
  }
}
