/** Machines that look at photos, as they spoke of themselves, and the queue they share. */
import type { Instant } from '../words.ts'
import { toDate, toInstant } from './instants.ts'
import type { Ledger } from './open.ts'

export interface WorkerView {
  readonly id: number
  readonly name: string
  readonly version: string
  readonly keyName: string
  readonly keyHint: string
  readonly keyRevoked: boolean
  readonly lastWordAt: Instant
  readonly photosDone: number
  readonly photosFailed: number
  readonly photosAnHour: number
}

/** The name of this station's queue in Redis. */
export async function findQueueName(ledger: Ledger): Promise<string> {
  const row = await ledger.selectFrom('worker_queue').select('name').executeTakeFirstOrThrow()
  return row.name
}

/** A worker joins, or comes back under the name it had. */
export async function joinWorker(
  ledger: Ledger,
  {
    keyId,
    name,
    version,
    now,
  }: { readonly keyId: number; readonly name: string; readonly version: string; readonly now: Instant },
): Promise<void> {
  const at = toDate(now)
  await ledger
    .insertInto('workers')
    .values({ key_id: keyId, name, version, joined_at: at, last_word_at: at })
    .onConflict((conflict) =>
      conflict.columns(['key_id', 'name']).doUpdateSet({ version, joined_at: at, last_word_at: at }),
    )
    .execute()
}

export interface WorkerWord {
  readonly keyId: number
  readonly name: string
  readonly version: string
  /** Since its last word. */
  readonly done: number
  readonly failed: number
  readonly photosAnHour: number
  readonly at: Instant
}

/** A worker says that it lives, and what it has done since it last did. */
export async function recordWorkerWord(ledger: Ledger, word: WorkerWord): Promise<void> {
  const at = toDate(word.at)
  await ledger
    .insertInto('workers')
    .values({
      key_id: word.keyId,
      name: word.name,
      version: word.version,
      joined_at: at,
      last_word_at: at,
      done: word.done,
      failed: word.failed,
      photos_an_hour: word.photosAnHour,
    })
    .onConflict((conflict) =>
      conflict.columns(['key_id', 'name']).doUpdateSet((e) => ({
        version: word.version,
        last_word_at: at,
        done: e('workers.done', '+', word.done),
        failed: e('workers.failed', '+', word.failed),
        photos_an_hour: word.photosAnHour,
      })),
    )
    .execute()
}

/** Those that spoke since, the latest word first. */
export async function listWorkers(ledger: Ledger, since: Instant): Promise<WorkerView[]> {
  const rows = await ledger
    .selectFrom('workers')
    .innerJoin('worker_keys', 'worker_keys.id', 'workers.key_id')
    .select([
      'workers.id',
      'workers.name',
      'workers.version',
      'workers.last_word_at',
      'workers.done',
      'workers.failed',
      'workers.photos_an_hour',
      'worker_keys.name as key_name',
      'worker_keys.key_hint',
      'worker_keys.revoked_at',
    ])
    .where('workers.last_word_at', '>=', toDate(since))
    .orderBy('workers.last_word_at', 'desc')
    .orderBy('workers.id')
    .execute()
  return rows.map((row) => ({
    id: row.id,
    name: row.name,
    version: row.version,
    keyName: row.key_name,
    keyHint: row.key_hint,
    keyRevoked: row.revoked_at !== null,
    lastWordAt: toInstant(row.last_word_at),
    photosDone: row.done,
    photosFailed: row.failed,
    photosAnHour: row.photos_an_hour,
  }))
}

/** How many spoke since, and when one last did; null where none ever did. */
export async function workersAtWork(
  ledger: Ledger,
  since: Instant,
): Promise<{ readonly atWork: number; readonly lastWordAt: Instant | null }> {
  const row = await ledger
    .selectFrom('workers')
    .select((e) => [
      e.fn.max('last_word_at').as('at'),
      e.fn.countAll<number>().filterWhere('last_word_at', '>=', toDate(since)).as('atWork'),
    ])
    .executeTakeFirst()
  return { atWork: row?.atWork ?? 0, lastWordAt: row?.at ? toInstant(row.at) : null }
}
