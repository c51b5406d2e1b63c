/** What the queue asks of the ledger: which stills wait, where their bytes are, and what to write when all tries failed. */
import { sql } from 'kysely'
import type { WaitingStill } from '../queue/queue.ts'
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
    .select(['id', OLD.as('old')])
    .where('state', '=', 'received')
    .$if(except.length > 0, (query) => query.where('id', 'not in', except))
    .orderBy(OLD)
    .orderBy('id')
    .limit(limit)
    .execute()
  const waiting = rows.map(({ id, old }): WaitingStill => ({ stillId: id, urgency: old ? 'old' : 'today' }))
  if (waiting.length >= limit) return waiting
  const again = await findAgain(ledger, { limit: limit - waiting.length, except })
  return [...waiting, ...again.map(({ id }): WaitingStill => ({ stillId: id, urgency: 'again' }))]
}

/** A still that waits: which bytes, and how its camera's photos are looked at. */
export interface WaitingLook {
  readonly hash: Buffer
  /** True for a camera whose large photos are searched in tiles as well. */
  readonly tiles: boolean
}

/**
 * What the eye needs of a still that waits to be looked at, or to be looked at again; null when it no longer does, or when
 * all that was to be done anew could be done here, without an eye.
 */
export async function findWaitingLook(ledger: Ledger, stillId: number): Promise<WaitingLook | null> {
  const row = await ledger
    .selectFrom('stills')
    .innerJoin('cameras', 'cameras.id', 'stills.camera_id')
    .select(['stills.hash', 'stills.state', 'cameras.search_tiles'])
    .where('stills.id', '=', stillId)
    .executeTakeFirst()
  if (row === undefined) return null
  const look = { hash: row.hash, tiles: row.search_tiles }
  if (row.state === 'received') return look
  if ((await findAgainHash(ledger, stillId)) === null) return null
  return (await nameAgain(ledger, stillId)) === 'needs a look' ? look : null
}
