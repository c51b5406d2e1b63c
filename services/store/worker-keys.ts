/** Keys of the machines that look at photos. A key is told once; the ledger keeps its hash, and its last signs. */
import { Refusal } from '../refusal.ts'
import type { Instant } from '../words.ts'
import { hashOfKey, newKey } from './camera-keys.ts'
import { toDate, toInstant } from './instants.ts'
import type { Ledger } from './open.ts'

export interface WorkerKey {
  readonly id: number
  readonly name: string
  readonly hint: string
  readonly madeAt: Instant
}

export async function addWorkerKey(
  ledger: Ledger,
  { name, now }: { readonly name: string; readonly now: Instant },
): Promise<{ readonly workerKey: WorkerKey; readonly key: string }> {
  const { key, columns } = newKey()
  const row = await ledger
    .insertInto('worker_keys')
    .values({ name, ...columns, made_at: toDate(now), revoked_at: null })
    .returning('id')
    .executeTakeFirstOrThrow()
  return { workerKey: { id: row.id, name, hint: columns.key_hint, madeAt: now }, key }
}

/** Keys that work, in the order they were made. */
export async function listWorkerKeys(ledger: Ledger): Promise<WorkerKey[]> {
  const rows = await ledger
    .selectFrom('worker_keys')
    .select(['id', 'name', 'key_hint', 'made_at'])
    .where('revoked_at', 'is', null)
    .orderBy('id')
    .execute()
  return rows.map((row) => ({
    id: row.id,
    name: row.name,
    hint: row.key_hint,
    madeAt: toInstant(row.made_at),
  }))
}

/** A key that another process revoked works so much longer here; one revoked in this process ends at once. */
const KNOWN_MS = 5_000

interface KnownKey {
  readonly atMs: number
  readonly id: Promise<number | null>
}

/** Keys that work, by their hash. */
const known = new WeakMap<Ledger, Map<string, KnownKey>>()

/** The id of a key that works, or null. A worker asks many times a second: the ledger is asked every few seconds. */
export async function findWorkerKey(ledger: Ledger, key: string): Promise<number | null> {
  const hash = hashOfKey(key)
  const name = hash.toString('hex')
  const keys = known.get(ledger) ?? new Map<string, KnownKey>()
  known.set(ledger, keys)
  const nowMs = performance.now()
  let here = keys.get(name)
  if (here === undefined || nowMs - here.atMs > KNOWN_MS) {
    here = { atMs: nowMs, id: askForKey(ledger, hash) }
    keys.set(name, here)
  }
  try {
    const id = await here.id
    if (id === null) keys.delete(name)
    return id
  } catch (fault) {
    // Whoever asks next asks the ledger.
    keys.delete(name)
    throw fault
  }
}

async function askForKey(ledger: Ledger, hash: Buffer): Promise<number | null> {
  const row = await ledger
    .selectFrom('worker_keys')
    .select('id')
    .where('key_hash', '=', hash)
    .where('revoked_at', 'is', null)
    .executeTakeFirst()
  return row?.id ?? null
}

/** Ends a key at once. @throws Refusal where no such key works. */
export async function revokeWorkerKey(ledger: Ledger, id: number, now: Instant): Promise<void> {
  const { numUpdatedRows } = await ledger
    .updateTable('worker_keys')
    .set({ revoked_at: toDate(now) })
    .where('id', '=', id)
    .where('revoked_at', 'is', null)
    .executeTakeFirst()
  // What was asked before goes too, also where it is answered only now.
  known.delete(ledger)
  if (numUpdatedRows > 0n) return
  throw new Refusal({
    kind: 'not found',
    detail: `No key of a machine that looks at photos has the number ${id}, or it was revoked before.`,
    field: 'id',
    remedy: 'Look at the list in Set-up.',
  })
}
