/**
 * Which stills a re-run has left: a question to the ledger, asked anew each time, so that there is no list to lose.
 * Each model that looked at some, and the unreadable ones, are a part of their own, because each has an index.
 */
import { type SelectQueryBuilder, sql } from 'kysely'
import type { NightDate } from '../words.ts'
import type { LedgerOrTransaction } from './settings.ts'
import type { Tables } from './tables.ts'

export interface RerunRange {
  /** Both nights are in. */
  readonly fromNight: NightDate
  readonly toNight: NightDate
  /** Null: all. */
  readonly pointIds: readonly number[] | null
  readonly cameraIds: readonly number[] | null
  /** Also what could not be read when it came. */
  readonly unreadableToo: boolean
  /** Only what can be named anew from what is kept, without a look at the photo. */
  readonly namesOnly?: boolean | undefined
}

/** What is looked for: the stills of a range that models other than these looked at. */
export interface Wanted extends RerunRange {
  /** Null: those models have no row yet, so every still was looked at by others. */
  readonly modelId: number | null
  /** What failed in it is not tried again. Null while it has not begun. */
  readonly rerunId: number | null
}

/** `embedded`: only stills of which embeddings are kept. */
type Part = { readonly modelId: number; readonly embedded?: boolean } | 'unreadable'

/** The parts in which there may be stills left. */
async function partsOf(ledger: LedgerOrTransaction, wanted: Wanted): Promise<Part[]> {
  const { modelId, unreadableToo } = wanted
  if (wanted.namesOnly === true) return await partsToName(ledger, modelId)
  const others = await ledger
    .selectFrom('models')
    .select('id')
    .$if(modelId !== null, (query) => query.where('id', '!=', modelId))
    .execute()
  return [...others.map(({ id }) => ({ modelId: id })), ...(unreadableToo ? (['unreadable'] as const) : [])]
}

/** What the same models looked at, and another namer of the station's own, or none, named. */
async function partsToName(ledger: LedgerOrTransaction, modelId: number | null): Promise<Part[]> {
  const others = await ledger
    .selectFrom('models')
    .innerJoin('models as present', (join) =>
      join
        .onRef('present.detector_sha256', '=', 'models.detector_sha256')
        .onRef('present.namer_sha256', '=', 'models.namer_sha256'),
    )
    .where('present.id', '=', modelId)
    .whereRef('models.id', '!=', 'present.id')
    .select(['models.id', 'models.station_namer', 'present.station_namer as present_namer'])
    .execute()
  return (
    others
      .filter((other) => other.station_namer !== other.present_namer)
      // The models' own names are kept with every box that a namer has named.
      .map(({ id, present_namer }) => ({ modelId: id, embedded: present_namer !== null }))
  )
}

function leftIn(ledger: LedgerOrTransaction, wanted: Wanted, part: Part) {
  const stills = ledger.selectFrom('stills')
  if (part === 'unreadable') return within(stills.where('state', '=', 'unreadable'), wanted)
  const left = within(stills.where('state', '=', 'done').where('model_id', '=', part.modelId), wanted)
  return part.embedded === true ? left.where(hasEmbeddings) : left
}

/** All boxes of a still have theirs kept, or none. */
const hasEmbeddings = sql<boolean>`exists (select from detections d join embeddings e on e.detection_id = d.id
  where d.still_id = stills.id)`

function within<Output>(query: SelectQueryBuilder<Tables, 'stills', Output>, wanted: Wanted) {
  const { pointIds, cameraIds, rerunId } = wanted
  let narrowed = query.where('night', '>=', wanted.fromNight).where('night', '<=', wanted.toNight)
  // Of the others there is nothing left to look at.
  if (wanted.namesOnly !== true) narrowed = narrowed.where('kept', '=', 'whole')
  if (pointIds !== null) narrowed = narrowed.where('point_id', 'in', pointIds)
  if (cameraIds !== null) narrowed = narrowed.where('camera_id', 'in', cameraIds)
  if (rerunId === null) return narrowed
  return narrowed.where((e) =>
    e.not(
      e.exists(
        e
          .selectFrom('rerun_failures')
          .select('rerun_failures.still_id')
          .where('rerun_failures.rerun_id', '=', rerunId)
          .whereRef('rerun_failures.still_id', '=', 'stills.id'),
      ),
    ),
  )
}

export interface LeftCount {
  readonly stills: number
  /** Of the oldest and the newest; null where there are none. */
  readonly fromNight: NightDate | null
  readonly toNight: NightDate | null
}

/** How many stills are left, and of which nights. */
export async function countLeft(ledger: LedgerOrTransaction, wanted: Wanted): Promise<LeftCount> {
  let stills = 0
  const nights: NightDate[] = []
  for (const part of await partsOf(ledger, wanted)) {
    const row = await leftIn(ledger, wanted, part)
      .select((e) => [e.fn.countAll<number>().as('stills'), e.fn.min('night').as('first')])
      .select((e) => e.fn.max('night').as('last'))
      .executeTakeFirstOrThrow()
    stills += row.stills
    for (const night of [row.first, row.last]) if (night !== null) nights.push(night)
  }
  nights.sort()
  return { stills, fromNight: nights[0] ?? null, toNight: nights.at(-1) ?? null }
}

/** The newest night with a still left, or null. */
export async function newestNightLeft(
  ledger: LedgerOrTransaction,
  wanted: Wanted,
): Promise<NightDate | null> {
  const nights: NightDate[] = []
  for (const part of await partsOf(ledger, wanted)) {
    const row = await leftIn(ledger, wanted, part)
      .select('night')
      .orderBy('night', 'desc')
      .limit(1)
      .executeTakeFirst()
    if (row !== undefined) nights.push(row.night)
  }
  return nights.sort().at(-1) ?? null
}

/** Stills left, the newest nights first, without the ids given. */
export async function listLeft(
  ledger: LedgerOrTransaction,
  wanted: Wanted,
  { limit, except }: { readonly limit: number; readonly except: readonly number[] },
): Promise<Array<{ readonly id: number; readonly hash: Buffer }>> {
  const rows = []
  for (const part of await partsOf(ledger, wanted)) {
    rows.push(
      ...(await leftIn(ledger, wanted, part)
        .select(['id', 'night', 'hash'])
        .$if(except.length > 0, (query) => query.where('id', 'not in', except))
        .orderBy('night', 'desc')
        .orderBy('id', 'desc')
        .limit(limit)
        .execute()),
    )
  }
  return rows.sort((a, b) => (a.night === b.night ? b.id - a.id : a.night < b.night ? 1 : -1)).slice(0, limit)
}

/** The still, if it is one of those left; else null. */
export async function findLeft(
  ledger: LedgerOrTransaction,
  wanted: Wanted,
  stillId: number,
): Promise<{ readonly hash: Buffer } | null> {
  const { modelId, unreadableToo } = wanted
  const row = await within(
    ledger
      .selectFrom('stills')
      .where('stills.id', '=', stillId)
      .where((e) =>
        e.or([
          e.and([e('state', '=', 'done'), e('model_id', 'is distinct from', modelId)]),
          ...(unreadableToo ? [e('state', '=', 'unreadable')] : []),
        ]),
      ),
    wanted,
  )
    .select('hash')
    .executeTakeFirst()
  return row ?? null
}
