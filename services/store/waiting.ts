/** What the queue asks of the ledger: which stills wait, where their bytes are, and what to write when all tries failed. */
import { sql } from 'kysely'
import type { LookToTake, WaitingStill } from '../queue/queue.ts'
import type { Instant } from '../words.ts'
import { nameAgain } from './name-again.ts'
import type { Ledger } from './open.ts'
import { findAgain, findAgainHash } from './reruns.ts'

/** Taken longer before its arrival, a photo comes from an old card and can wait; the index of 0002 says the same. */
const OLD_HOURS = 36
const OLD = sql<boolean>`(received_at - taken_at > interval '36 hours')`

export function isOld({ takenAt, receivedAt }: { takenAt: Instant; receivedAt: Instant }): boolean {
  return receivedAt - takenAt > OLD_HOURS * 3_600_000
}

/**
 * Stills to be looked at, fresh ones first, then in order of arrival, without those already in hand; where fewer wait than
 * asked for, also what the running re-run has left.
 */
export async function findWaiting(
  ledger: Ledger,
  { limit, except }: { readonly limit: number; readonly except: readonly number[] },
): Promise<WaitingStill[]> {
  const rows = await ledger
    .selectFrom('stills')
    .innerJoin('cameras', 'cameras.id', 'stills.camera_id')
    .select(['stills.id', 'stills.hash', 'cameras.search_tiles', OLD.as('old')])
    .where('state', '=', 'received')
    .$if(except.length > 0, (query) => query.where('stills.id', 'not in', except))
    .orderBy(OLD)
    .orderBy('stills.id')
    .limit(limit)
    .execute()
  const waiting = rows.map(
    ({ id, old, ...row }): WaitingStill => ({
      stillId: id,
      urgency: old ? 'old' : 'today',
      look: lookOf(row),
    }),
  )
  if (waiting.length >= limit) return waiting
  const again = await findAgain(ledger, { limit: limit - waiting.length, except })
  // Without what to look at: the ledger is asked before, as many of these need no eye.
  return [...waiting, ...again.map(({ id }): WaitingStill => ({ stillId: id, urgency: 'again' }))]
}

function lookOf(row: { readonly hash: Buffer; readonly search_tiles: boolean }): LookToTake {
  return { hash: row.hash.toString('hex'), tiles: row.search_tiles }
}

/**
 * What the eye needs of a still that waits to be looked at, or to be looked at again; null when it no longer does, or when
 * all that was to be done anew could be done here, without an eye.
 */
export async function findWaitingLook(ledger: Ledger, stillId: number): Promise<LookToTake | null> {
  const row = await ledger
    .selectFrom('stills')
    .innerJoin('cameras', 'cameras.id', 'stills.camera_id')
    .select(['stills.hash', 'stills.state', 'cameras.search_tiles'])
    .where('stills.id', '=', stillId)
    .executeTakeFirst()
  if (row === undefined) return null
  const look = lookOf(row)
  if (row.state === 'received') return look
  if ((await findAgainHash(ledger, stillId)) === null) return null
  return (await nameAgain(ledger, stillId)) === 'needs a look' ? look : null
}
