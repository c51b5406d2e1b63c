/** The station's own namers: each asking with its trial, what it learned from, and which of them is in use. */
import type { Selectable, Transaction } from 'kysely'
import type { Kind } from '../learning/kinds.ts'
import { Refusal } from '../refusal.ts'
import type { ModelIdentity, Species } from '../words.ts'
import { forgetNamerInUse } from './namer-in-use.ts'
import type { Ledger } from './open.ts'
import type { NamersTable } from './own-animal-tables.ts'
import type { LedgerOrTransaction } from './settings.ts'
import type { Tables } from './tables.ts'

/** Lists show the latest. */
const SHOWN_NAMERS = 10

export type NamerView = Omit<Selectable<NamersTable>, 'weights'>

export interface NamerSettings {
  readonly isOn: boolean
  /** A new one that names better is used by itself. */
  readonly takesNew: boolean
  readonly inUse: number | null
  /** Species that never come here. */
  readonly absent: readonly Species[]
}

export async function readNamerSettings(ledger: LedgerOrTransaction): Promise<NamerSettings> {
  const row = await ledger.selectFrom('namer_settings').selectAll().executeTakeFirstOrThrow()
  return { isOn: row.is_on, takesNew: row.takes_new, inUse: row.in_use, absent: row.absent }
}

const VIEWED = [
  'id',
  'detector_sha256',
  'namer_sha256',
  'kinds',
  'learned',
  'ridge',
  'crops',
  'seed',
  'marks',
  'trial',
  'verdict',
  'made_at',
] as const

/** The latest askings, the newest first. */
export async function listNamers(ledger: LedgerOrTransaction): Promise<NamerView[]> {
  return await ledger.selectFrom('namers').select(VIEWED).orderBy('id', 'desc').limit(SHOWN_NAMERS).execute()
}

/** One asking, and each crop it learned from. @throws Refusal when there is none */
export async function findNamer(ledger: Ledger, id: number) {
  const namer = await ledger.selectFrom('namers').select(VIEWED).where('id', '=', id).executeTakeFirst()
  if (namer === undefined) throw noSuchNamer(id)
  const crops = await ledger
    .selectFrom('namer_crops')
    .select(['still_id as stillId', 'check_id as checkId', 'detection_id as detectionId', 'kind'])
    .where('namer_id', '=', id)
    .orderBy('still_id')
    .orderBy('detection_id')
    .execute()
  return { namer, crops }
}

export interface LastAsking {
  readonly version: number
  /** Checked crops there were. */
  readonly crops: number
  /** Names of the kinds it learned. */
  readonly learned: readonly Kind[]
}

/** The last asking with these models; null where there was none. */
export async function lastAsking(
  ledger: LedgerOrTransaction,
  models: ModelIdentity,
): Promise<LastAsking | null> {
  const row = await ledger
    .selectFrom('namers')
    .select(['id', 'crops', 'kinds', 'learned'])
    .where('detector_sha256', '=', models.detectorSha256)
    .where('namer_sha256', '=', models.namerSha256 ?? '')
    .orderBy('id', 'desc')
    .executeTakeFirst()
  if (row === undefined) return null
  const { id: version, crops, kinds, learned } = row
  return { version, crops, learned: learned.map((place) => kinds[place]!) }
}

export interface NamerChange {
  readonly isOn?: boolean | undefined
  readonly takesNew?: boolean | undefined
  /** A version whose trial said that it may be used. */
  readonly use?: number | undefined
  readonly absent?: readonly Species[] | undefined
}

/** What the owner wants, remembered. @throws Refusal for a version that is not there, or whose trial it did not pass */
export async function changeNamerSettings(ledger: Ledger, change: NamerChange): Promise<NamerSettings> {
  const settings = await ledger.transaction().execute(async (tx) => {
    if (change.use !== undefined) await refuseUntaken(tx, change.use)
    const before = await readNamerSettings(tx)
    const after = {
      isOn: change.isOn ?? (change.use === undefined ? before.isOn : true),
      takesNew: change.takesNew ?? before.takesNew,
      // One that learned that a species never comes must not name it away once it does.
      inUse:
        change.use ??
        (before.absent.some((one) => change.absent?.includes(one) === false) ? null : before.inUse),
      absent: change.absent === undefined ? before.absent : [...new Set(change.absent)],
    }
    await tx
      .updateTable('namer_settings')
      .set({
        is_on: after.isOn,
        takes_new: after.takesNew,
        in_use: after.inUse,
        absent: JSON.stringify(after.absent),
      })
      .execute()
    return after
  })
  forgetNamerInUse(ledger)
  return settings
}

async function refuseUntaken(tx: Transaction<Tables>, id: number): Promise<void> {
  const row = await tx.selectFrom('namers').select('verdict').where('id', '=', id).executeTakeFirst()
  if (row === undefined) throw noSuchNamer(id)
  if (row.verdict === 'take') return
  throw new Refusal({
    kind: 'conflict',
    detail: `Version ${id} did not name better on nights it had not seen (${row.verdict}).`,
    field: 'use',
    remedy: 'Go on checking photos: it is tried again when there are twice as many checks.',
  })
}

const noSuchNamer = (id: number) =>
  new Refusal({
    kind: 'not found',
    detail: `Nothing was learned under the number ${id}.`,
    field: 'id',
    remedy: 'GET /api/namers lists what was.',
  })
