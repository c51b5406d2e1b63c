/** Re-runs: old stills looked at again by the station's present models, in the background. One at a time. */
import { type Selectable, sql } from 'kysely'
import { Refusal } from '../refusal.ts'
import type { Instant, ModelIdentity, NightDate } from '../words.ts'
import { toDate } from './instants.ts'
import { findModelId, modelIdOf } from './models.ts'
import type { Ledger } from './open.ts'
import {
  countLeft,
  findLeft,
  type LeftCount,
  listLeft,
  newestNightLeft,
  type RerunRange,
} from './rerun-stills.ts'
import type { LedgerOrTransaction } from './settings.ts'
import type { RerunState, RerunsTable } from './tables.ts'

/** Lists show the latest. */
const SHOWN_RERUNS = 5
const SHOWN_FAILURES = 20

export const MODELS_CHANGED =
  'The models of the station changed while this went on. What was replaced stands; start it again for the rest.'

export type RerunRow = Selectable<RerunsTable>

export interface RerunView extends RerunRow {
  readonly model_name: string
  readonly station_namer: number | null
  readonly model_version: string
  /** What failed last, at most 20. */
  readonly failures: ReadonlyArray<{ readonly stillId: number; readonly reason: string }>
}

export function wantedOf(row: RerunRow) {
  return {
    rerunId: row.id,
    modelId: row.model_id,
    fromNight: row.from_night,
    toNight: row.to_night,
    pointIds: row.point_ids,
    cameraIds: row.camera_ids,
    unreadableToo: row.unreadable_too,
    namesOnly: row.names_only,
  }
}

/** The one that is running or paused, or null. */
export async function findOpenRerun(ledger: LedgerOrTransaction): Promise<RerunRow | null> {
  const row = await ledger
    .selectFrom('reruns')
    .selectAll()
    .where('state', 'in', ['running', 'paused'])
    .executeTakeFirst()
  return row ?? null
}

/** How many stills a re-run over this range would look at; changes nothing. */
export async function countForRerun(
  ledger: Ledger,
  range: RerunRange,
  models: ModelIdentity,
): Promise<LeftCount> {
  // Which models are the same but for their namer is asked by their row.
  const modelId = range.namesOnly ? await modelIdOf(ledger, models) : await findModelId(ledger, models)
  return await countLeft(ledger, { ...range, modelId, rerunId: null })
}

/**
 * Begins a re-run towards the station's present models.
 * @throws Refusal when one is under way, or when there is nothing to look at.
 */
export async function startRerun(
  ledger: Ledger,
  range: RerunRange,
  { models, now }: { readonly models: ModelIdentity; readonly now: Instant },
): Promise<RerunView> {
  const id = await ledger.transaction().execute(async (tx) => {
    // Two who start at once take turns; the second finds the first one's.
    await sql`lock table reruns in share row exclusive mode`.execute(tx)
    if ((await findOpenRerun(tx)) !== null) throw underWay()
    const modelId = await modelIdOf(tx, models)
    const left = await countLeft(tx, { ...range, modelId, rerunId: null })
    if (left.fromNight === null || left.toNight === null) throw nothingLeft()
    const row = await tx
      .insertInto('reruns')
      .values({
        // As wide as what there is: nights said without an end would be no dates to show.
        from_night: left.fromNight,
        to_night: left.toNight,
        point_ids: range.pointIds && JSON.stringify(range.pointIds),
        camera_ids: range.cameraIds && JSON.stringify(range.cameraIds),
        unreadable_too: range.unreadableToo,
        names_only: range.namesOnly ?? false,
        model_id: modelId,
        state: 'running',
        made_at: toDate(now),
        total: left.stills,
        last_error: null,
        at_night: left.toNight,
      })
      .returning('id')
      .executeTakeFirstOrThrow()
    return row.id
  })
  return await findRerun(ledger, id)
}

/** The latest re-runs, the newest first. */
export async function listReruns(ledger: Ledger): Promise<RerunView[]> {
  const rows = await rerunsWithModel(ledger).orderBy('reruns.id', 'desc').limit(SHOWN_RERUNS).execute()
  return await Promise.all(rows.map((row) => withFailures(ledger, row)))
}

/** @throws Refusal when there is none. */
export async function findRerun(ledger: Ledger, id: number): Promise<RerunView> {
  const row = await rerunsWithModel(ledger).where('reruns.id', '=', id).executeTakeFirst()
  if (row !== undefined) return await withFailures(ledger, row)
  throw new Refusal({
    kind: 'not found',
    detail: `Old photos were never looked at again under the number ${id}.`,
    field: 'id',
    remedy: 'GET /api/reruns lists them.',
  })
}

const rerunsWithModel = (ledger: Ledger) =>
  ledger
    .selectFrom('reruns')
    .innerJoin('models', 'models.id', 'reruns.model_id')
    .selectAll('reruns')
    .select(['models.name as model_name', 'models.version as model_version', 'models.station_namer'])

async function withFailures(ledger: Ledger, row: Omit<RerunView, 'failures'>): Promise<RerunView> {
  if (row.failed === 0) return { ...row, failures: [] }
  const failures = await ledger
    .selectFrom('rerun_failures')
    .select(['still_id as stillId', 'reason'])
    .where('rerun_id', '=', row.id)
    .orderBy('still_id', 'desc')
    .limit(SHOWN_FAILURES)
    .execute()
  return { ...row, failures }
}

const STEPS = {
  pause: { from: ['running', 'paused'], to: 'paused' },
  resume: { from: ['running', 'paused'], to: 'running' },
  stop: { from: ['running', 'paused', 'stopped'], to: 'stopped' },
} as const satisfies Record<string, { from: readonly RerunState[]; to: RerunState }>

export type RerunStep = keyof typeof STEPS

/** Pauses a re-run, goes on with it, or ends it: what was replaced stays, what was not stands as it was. Twice is once. */
export async function stepRerun(ledger: Ledger, id: number, step: RerunStep): Promise<RerunView> {
  const { from, to } = STEPS[step]
  const changed = await ledger
    .updateTable('reruns')
    .set({ state: to })
    .where('id', '=', id)
    .where('state', 'in', from)
    .executeTakeFirst()
  const rerun = await findRerun(ledger, id)
  if (changed.numUpdatedRows > 0n) return rerun
  throw new Refusal({
    kind: 'conflict',
    detail: `Looking at these photos again is ${rerun.state === 'done' ? 'done' : 'stopped'} already.`,
    field: 'id',
    remedy: 'Start it anew; only what is left will be looked at.',
  })
}

/** Stills of the running re-run to be looked at next. Finds out when it is done. */
export async function findAgain(
  ledger: Ledger,
  ask: { readonly limit: number; readonly except: readonly number[] },
): Promise<Array<{ readonly id: number; readonly hash: Buffer }>> {
  const rerun = await findOpenRerun(ledger)
  if (rerun?.state !== 'running') return []
  const night = await nextNight(ledger, rerun)
  if (night === null) {
    await endRerun(ledger, rerun.id)
    return []
  }
  if (night !== rerun.at_night) {
    await ledger.updateTable('reruns').set({ at_night: night }).where('id', '=', rerun.id).execute()
  }
  return await listLeft(ledger, { ...wantedOf(rerun), toNight: night }, ask)
}

/** Looked for from where it was last, so that the nights behind are not walked through each time. */
async function nextNight(ledger: Ledger, rerun: RerunRow): Promise<NightDate | null> {
  const wanted = wantedOf(rerun)
  const below = await newestNightLeft(ledger, { ...wanted, toNight: rerun.at_night })
  // Before it is called done, a look at all of it: meanwhile a still may have come in behind.
  return below ?? (await newestNightLeft(ledger, wanted))
}

async function endRerun(ledger: Ledger, id: number): Promise<void> {
  await ledger
    .updateTable('reruns')
    .set({ state: 'done' })
    .where('id', '=', id)
    .where('state', '=', 'running')
    .execute()
}

/** After the last result: says that it is done without waiting for the next question. */
export async function endRerunIfDone(ledger: Ledger): Promise<void> {
  const rerun = await findOpenRerun(ledger)
  if (rerun?.state !== 'running' || rerun.done + rerun.failed < rerun.total) return
  if ((await newestNightLeft(ledger, wantedOf(rerun))) === null) await endRerun(ledger, rerun.id)
}

/** The content hash of a still that the running re-run has left, or null. */
export async function findAgainHash(ledger: Ledger, stillId: number): Promise<Buffer | null> {
  const rerun = await findOpenRerun(ledger)
  if (rerun?.state !== 'running') return null
  return (await findLeft(ledger, wantedOf(rerun), stillId))?.hash ?? null
}

/** Ends an open re-run towards other models than the station's: it would pull photos back to those. */
export async function stopRerunOfOtherModels(ledger: Ledger, models: ModelIdentity): Promise<void> {
  const present = await findModelId(ledger, models)
  await ledger
    .updateTable('reruns')
    .set({ state: 'stopped', last_error: MODELS_CHANGED })
    .where('state', 'in', ['running', 'paused'])
    .$if(present !== null, (query) => query.where('model_id', '!=', present))
    .execute()
}

const underWay = () =>
  new Refusal({
    kind: 'conflict',
    detail: 'Old photos are being looked at again already.',
    field: 'from',
    remedy: 'Let it finish, or stop it, and then start this one.',
  })

const nothingLeft = () =>
  new Refusal({
    kind: 'conflict',
    detail: 'There is nothing to look at again: the present models have seen every photo of these nights.',
    field: 'from',
    remedy: 'Choose other nights, points or cameras.',
  })
