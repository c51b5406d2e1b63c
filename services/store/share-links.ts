/** Links to a target list that need no account. The ledger holds a hash of each token, never the token. */
import { createHash, randomBytes } from 'node:crypto'
import type { Selectable } from 'kysely'
import { Refusal } from '../refusal.ts'
import type { Instant } from '../words.ts'
import { toDate, toInstant } from './instants.ts'
import type { Said } from './kept-lists.ts'
import type { Ledger } from './open.ts'
import type { ShareLinksTable } from './program-tables.ts'
import { findProgram } from './programs.ts'

export type ShareLinkRow = Selectable<ShareLinksTable>

/** 128 bits: nobody finds one by trying. */
const TOKEN_BYTES = 16

const hashOf = (token: string) => createHash('sha256').update(token).digest()

/** Makes a link; its token is told this once. */
export async function makeShareLink(
  ledger: Ledger,
  given: {
    readonly programId: number
    readonly said: Said
    readonly endsAt: Instant
    readonly forWhom: string | null
  },
): Promise<{ readonly link: ShareLinkRow; readonly token: string }> {
  await findProgram(ledger, given.programId)
  const token = randomBytes(TOKEN_BYTES).toString('base64url')
  const link = await ledger
    .insertInto('share_links')
    .values({
      program_id: given.programId,
      token_hash: hashOf(token),
      for_whom: given.forWhom,
      made_at: toDate(given.said.at),
      who: given.said.who,
      ends_at: toDate(given.endsAt),
    })
    .returningAll()
    .executeTakeFirstOrThrow()
  return { link, token }
}

/** The newest first. */
export async function listShareLinks(ledger: Ledger, programId: number): Promise<ShareLinkRow[]> {
  return await ledger
    .selectFrom('share_links')
    .selectAll()
    .where('program_id', '=', programId)
    .orderBy('id', 'desc')
    .execute()
}

/** Ends a link now; one that has ended by hand stays as it was. @throws Refusal where there is none */
export async function revokeShareLink(ledger: Ledger, id: number, now: Instant): Promise<ShareLinkRow> {
  const row = await ledger
    .updateTable('share_links')
    .set((e) => ({ revoked_at: e.fn.coalesce('revoked_at', e.val(toDate(now))) }))
    .where('id', '=', id)
    .returningAll()
    .executeTakeFirst()
  if (row !== undefined) return row
  throw new Refusal({
    kind: 'not found',
    detail: `There is no link ${id}.`,
    field: 'id',
    remedy: 'Load the program again; its links are listed there.',
  })
}

/** The link of a token, ended or not; undefined where no link ever had it. */
export async function shareLinkOf(ledger: Ledger, token: string): Promise<ShareLinkRow | undefined> {
  return await ledger
    .selectFrom('share_links')
    .selectAll()
    .where('token_hash', '=', hashOf(token))
    .executeTakeFirst()
}

/** When a link ended, by itself or by hand; null while it stands. */
export function linkEnded(
  link: ShareLinkRow,
  now: Instant,
): { readonly at: Instant; readonly byHand: boolean } | null {
  const end = toInstant(link.ends_at)
  const revoked = link.revoked_at === null ? null : toInstant(link.revoked_at)
  if (revoked !== null && revoked < end) return { at: revoked, byHand: true }
  return end <= now ? { at: end, byHand: false } : null
}
