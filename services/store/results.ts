/** Writes down what the eye saw: one transaction for the results that come at once, and doing it twice leaves one result. */
import { type Selectable, sql, type Transaction } from 'kysely'
import { gapFor } from '../tally/visits.ts'
import type { Looked, WholePicture } from '../words.ts'
import { type FoundWithRunnerUp, insertDetections, keepEmbeddings } from './found-boxes.ts'
import { toInstant } from './instants.ts'
import { modelIdOf } from './models.ts'
import type { Ledger } from './open.ts'
import { lockForResults, lockMoved } from './point-lock.ts'
import { readSettings } from './settings.ts'
import { lastWordOn, standingOf, standingWord, toJudgedBox } from './sightings.ts'
import type { SightingsTable, StillsTable, Tables } from './tables.ts'
import { retouchVisits, slowestScheduleAt } from './visits.ts'

type Seen = Omit<Extract<Looked, { kind: 'seen' }>, 'found'> & {
  readonly found: readonly FoundWithRunnerUp[]
}
type Unreadable = Extract<Looked, { kind: 'unreadable' }>
export type Result = Seen | Unreadable

/** `recorded`: now written. `already`: some worker had written it. `gone`: a person removed the still meanwhile. */
export type Recorded = 'recorded' | 'already' | 'gone'

export interface StillResult<R extends Result = Result> {
  readonly stillId: number
  readonly result: R
}

/** Writes results of any stills, all or none. Many at once cost little more than one. @returns what became of each, in their order */
export async function recordResults(ledger: Ledger, results: readonly StillResult[]): Promise<Recorded[]> {
  return await ledger.transaction().execute(async (tx) => {
    const ids = results.map(({ stillId }) => stillId)
    const locked = await lockForResults(tx, ids)
    const stills = new Map((await takeStills(tx, ids)).map((still) => [still.id, still]))
    await lockMoved(tx, locked, [...stills.values()])
    const recorded: Recorded[] = []
    const seen: Array<Waiting<Seen>> = []
    const unreadable: Array<Waiting<Unreadable>> = []
    for (const { stillId, result } of results) {
      const still = stills.get(stillId)
      if (still?.state !== 'received') {
        recorded.push(still === undefined ? 'gone' : 'already')
        continue
      }
      recorded.push('recorded')
      // The same still twice in one go: the second finds it written.
      stills.set(stillId, { ...still, state: 'done' })
      if (result.kind === 'seen') seen.push({ still, result })
      else unreadable.push({ still, result })
    }
    if (unreadable.length > 0) await writeUnreadable(tx, unreadable)
    if (seen.length > 0) await writeSeen(tx, seen)
    return recorded
  })
}

/** One result alone. */
export async function recordResult(ledger: Ledger, stillId: number, result: Result): Promise<Recorded> {
  const [recorded] = await recordResults(ledger, [{ stillId, result }])
  return recorded!
}

type TakenStill = Awaited<ReturnType<typeof takeStills>>[number]

interface Waiting<R extends Result> {
  readonly still: TakenStill
  readonly result: R
}

function takeStills(tx: Transaction<Tables>, ids: readonly number[]) {
  return (
    tx
      .selectFrom('stills')
      .select(['id', 'state', 'camera_id', 'point_id', 'taken_at', 'clock_doubt'])
      // Asked along with it: each question of its own costs as much as this one.
      .select([
        lastWordOn(sql.ref('stills.id')).as('word'),
        slowestScheduleAt(sql.ref('stills.point_id')).as('slowest'),
      ])
      .where((e) => e('id', '=', e.fn.any(e.val([...ids]))))
      .orderBy('id')
      .forUpdate()
      .execute()
  )
}

async function writeUnreadable(
  tx: Transaction<Tables>,
  unreadable: ReadonlyArray<Waiting<Unreadable>>,
): Promise<void> {
  await sql`update stills set state = 'unreadable', reason = r.reason
    from unnest(${unreadable.map(({ still }) => still.id)}::bigint[],
      ${unreadable.map(({ result }) => result.reason)}::text[]) as r (id, reason)
    where stills.id = r.id`.execute(tx)
  // In the order of their ids, so that two transactions can't wait for each other.
  for (const cameraId of unreadable.map(({ still }) => still.camera_id).sort((a, b) => a - b)) {
    await tx
      .updateTable('cameras')
      .set((e) => ({ unreadable: e('unreadable', '+', 1) }))
      .where('id', '=', cameraId)
      .execute()
  }
}

async function writeSeen(tx: Transaction<Tables>, seen: ReadonlyArray<Waiting<Seen>>): Promise<void> {
  const settings = await readSettings(tx)
  const boxes = await insertDetections(
    tx,
    seen.map(({ still, result }) => ({ stillId: still.id, found: result.found })),
  )
  const standing = seen.map(({ still, result }, i) => ({
    still,
    result,
    boxes: boxes[i]!,
    ...standingOf(still, { boxes: boxes[i]!.map(toJudgedBox), check: standingWord(still.word) }, settings),
  }))
  await keepEmbeddings(
    tx,
    standing.flatMap(({ flagged, boxes: rows, result }) => (flagged ? [{ rows, found: result.found }] : [])),
  )
  await markDone(tx, standing)
  const sightings = standing.flatMap((one) => one.sightings)
  await insertSightings(tx, sightings)
  const slowest = new Map(seen.map(({ still }) => [still.point_id, still.slowest]))
  await retouchVisits(
    tx,
    sightings.map(({ point_id: pointId, species, taken_at }) => ({
      pointId,
      species,
      at: toInstant(taken_at),
      gapMinutes: gapFor(settings.visitGapMinutes, slowest.get(pointId) ?? null),
    })),
    settings.zone,
  )
}

async function markDone(
  tx: Transaction<Tables>,
  stills: ReadonlyArray<
    Waiting<Seen> & Pick<Selectable<StillsTable>, 'flagged' | 'unsure' | 'feral' | 'checked' | 'person'>
  >,
): Promise<void> {
  const models = new Map<string, number>()
  for (const { result } of stills) {
    const key = JSON.stringify(result.models)
    if (!models.has(key)) models.set(key, await modelIdOf(tx, result.models))
  }
  const rows = stills.map(({ still, result, flagged, unsure, feral, checked, person }) => ({
    id: still.id,
    flagged,
    unsure,
    feral,
    checked,
    person,
    width: result.width,
    height: result.height,
    colourfulness: result.colourfulness ?? null,
    sharpness: result.sharpness ?? null,
    ...wholeColumns(result.whole, (view) => `\\x${Buffer.from(view).toString('hex')}`),
    model_id: models.get(JSON.stringify(result.models)),
  }))
  await sql`update stills set state = 'done', flagged = r.flagged, unsure = r.unsure, feral = r.feral,
      checked = r.checked, person = r.person, width = r.width, height = r.height, colourfulness = r.colourfulness,
      sharpness = r.sharpness, contrast = r.contrast, detail = r.detail, view = r.view::bytea, model_id = r.model_id
    from jsonb_to_recordset(${JSON.stringify(rows)}::jsonb) as r(id bigint, flagged boolean, unsure boolean,
      feral boolean, checked boolean, person boolean, width int, height int, colourfulness real, sharpness real,
      contrast real, detail real, view text, model_id int)
    where stills.id = r.id`.execute(tx)
}

async function insertSightings(tx: Transaction<Tables>, sightings: readonly SightingsTable[]): Promise<void> {
  if (sightings.length === 0) return
  await sql`insert into sightings (still_id, species, point_id, taken_at, head, score)
    select * from jsonb_to_recordset(${JSON.stringify(sightings)}::jsonb) as r(still_id bigint, species text,
      point_id int, taken_at timestamptz, head int, score real)`.execute(tx)
}

/** The columns of what a whole picture says of its camera, null where nobody measured it. */
export function wholeColumns<View>(
  whole: WholePicture | undefined,
  viewOf: (view: Uint8Array) => View,
): { readonly contrast: number | null; readonly detail: number | null; readonly view: View | null } {
  return {
    contrast: whole?.contrast ?? null,
    detail: whole?.detail ?? null,
    view: whole === undefined ? null : viewOf(whole.view),
  }
}
