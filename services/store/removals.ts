/**
 * Removes bytes that the ledger has let go. The ledger speaks first: a kill in between leaves bytes that nobody asks for
 * and that the next run removes; the other way round it would promise photos that are not there.
 */
import { sql, type Transaction } from 'kysely'
import { KEPT, type Kept } from '../tally/keeping.ts'
import type { Ledger } from './open.ts'
import type { LedgerOrTransaction } from './settings.ts'
import type { StillFiles } from './still-files.ts'
import type { Tables } from './tables.ts'

/** Any fixed number: tells this lock from other advisory locks of the same database. */
const HASH_LOCK_SPACE = 4712
const AT_ONCE = 50

/** One at a time says whether bytes are needed. Released when the transaction ends. */
export async function lockHashes(tx: Transaction<Tables>, hashes: readonly Buffer[]): Promise<void> {
  // Four bytes of a hash will do; two with the same only wait for each other. In order, so that nobody waits in a ring.
  const keys = [...new Set(hashes.map((hash) => hash.readInt32BE(0)))].sort((a, b) => a - b)
  await sql`select pg_advisory_xact_lock(${HASH_LOCK_SPACE}, key) from unnest(${keys}::int[]) as key`.execute(
    tx,
  )
}

/** The most that any photo with these bytes needs of them, for each that still has a photo, by hexadecimal hash. */
export async function neededOf(
  ledger: LedgerOrTransaction,
  hashes: readonly Buffer[],
): Promise<Map<string, Kept>> {
  const rows = await ledger
    .selectFrom('stills')
    .select(['hash', 'kept'])
    // Goes by the index of the camera and the hash: an index of the hash alone would slow every photo that comes in.
    .where('camera_id', 'in', (query) => query.selectFrom('cameras').select('id'))
    .where('hash', 'in', hashes)
    .execute()
  const needed = new Map<string, Kept>()
  for (const { hash, kept } of rows) {
    const name = hash.toString('hex')
    const other = needed.get(name) ?? 'none'
    needed.set(name, KEPT.indexOf(kept) < KEPT.indexOf(other) ? kept : other)
  }
  return needed
}

/** Removes everything that was let go and that no photo needs; @returns how many were gone over. */
export async function finishRemovals(
  ledger: Ledger,
  files: StillFiles,
  shouldStop: () => boolean = () => false,
): Promise<number> {
  let finished = 0
  while (!shouldStop()) {
    const rows = await ledger.selectFrom('removals').select('hash').orderBy('hash').limit(AT_ONCE).execute()
    if (rows.length === 0) break
    const hashes = rows.map(({ hash }) => hash)
    await ledger.transaction().execute(async (tx) => {
      await lockHashes(tx, hashes)
      const needed = await neededOf(tx, hashes)
      for (const hash of hashes) {
        const need = needed.get(hash.toString('hex')) ?? 'none'
        if (need === 'none') await files.drop(hash)
        if (need === 'small') await files.dropWhole(hash)
      }
      await tx.deleteFrom('removals').where('hash', 'in', hashes).execute()
    })
    finished += rows.length
  }
  return finished
}

/** Those of the hashes whose bytes were let go once, by hexadecimal hash: they may not be there any more. */
export async function findLetGo(
  ledger: LedgerOrTransaction,
  hashes: readonly Buffer[],
): Promise<Set<string>> {
  const rows = await ledger
    .selectFrom('stills')
    .select('hash')
    .where('kept', '<>', 'whole')
    .where('hash', 'in', hashes)
    .execute()
  return new Set(rows.map(({ hash }) => hash.toString('hex')))
}

/**
 * Keeps bytes that were let go once and that a new photo brings again. A removal that is under way may have taken them
 * after they were kept the first time; once the photo is in the ledger, and under the lock, none can.
 */
export async function keepAgain(
  ledger: Ledger,
  files: StillFiles,
  { hash, bytes }: { readonly hash: Buffer; readonly bytes: Buffer },
): Promise<void> {
  await ledger.transaction().execute(async (tx) => {
    await lockHashes(tx, [hash])
    await files.keep(hash, bytes)
  })
}
