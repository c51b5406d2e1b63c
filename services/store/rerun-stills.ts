/**
 * Which stills a re-run has left: a question to the ledger, asked anew each time, so that there is no list to lose.
 * Each model that looked at some, and the unreadable ones, are a part of their own, because each has an index.
 */
import type { SelectQueryBuilder } from 'kysely'
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
}

/** What is looked for: the stills of a range that models other than these looked at. */
export interface Wanted extends RerunRange {
  /** Null: those models have no row yet, so every still was looked at by others. */
  readonly modelId: number | null
  /** What failed in it is not tried again. Null while it has not begun. */
  readonly rerunId: number | null
}

type Part = { readonly modelId: number } | 'unreadable'

/** The parts in which there may be stills left. */
async function partsOf(ledger: LedgerOrTransaction, { modelId, unreadableToo }: Wanted): Promise<Part[]> {
  const others = await ledger
    .selectFrom('models')
    .select('id')
    .$if(modelId !== null, (query) => query.where('id', '!=', modelId))
    .execute()
  return [...others.map(({ id }) => ({ modelId: id })), ...(unreadableToo ? (['unreadable'] as const) : [])]
}

function leftIn(ledger: LedgerOrTransaction, wanted: Wanted, part: Part) {
  const stills = ledger.selectFrom('stills')
  return within(
    part === 'unreadable'
      ? stills.where('state', '=', 'unreadable')
      : stills.where('state', '=', 'done').where('model_id', '=', part.modelId),
    wanted,
  )
}

function within<Output>(query: SelectQueryBuilder<Tables, 'stills', Output>, wanted: Wanted) {
  const { pointIds, cameraIds, rerunId } = wanted
  let narrowed = query
    .where('night', '>=', wanted.fromNight)
    .where('night', '<=', wanted.toNight)
    // Of the others there is nothing left to look at.
    .where('kept', '=', 'whole')
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
