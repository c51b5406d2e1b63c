/** How far a mailbox is read: which mails were dealt with, and which were left as they came. */
import { type Selectable, sql } from 'kysely'
import type { Instant } from '../words.ts'
import { toDate } from './instants.ts'
import type { AgainWhen, MailsLeftTable } from './mail-tables.ts'
import { findMailbox, type MailboxRow } from './mailboxes.ts'
import type { Ledger } from './open.ts'
import type { FailingSource } from './sources.ts'

export type MailLeftRow = Selectable<MailsLeftTable>

export interface MailLeft {
  readonly sender: string
  readonly subject: string
  readonly at: Instant | null
  readonly reason: string
  readonly again: AgainWhen
}

/** PostgreSQL's text holds no NUL, and nobody reads a subject of pages. */
const MOST_SIGNS = 300
const shown = (text: string) => text.replaceAll('\0', '').slice(0, MOST_SIGNS)

/**
 * The mailbox as its folder is about to be read. A folder with another validity numbers its mails anew
 * (RFC 9051, section 2.3.1.1): it is read from its first mail, and what was taken before is known by its bytes.
 */
export async function beginFolder(
  ledger: Ledger,
  mailboxId: number,
  uidValidity: number,
): Promise<MailboxRow> {
  return await ledger.transaction().execute(async (tx) => {
    const row = await findMailbox(tx, mailboxId)
    if (row.uid_validity === uidValidity) return row
    await tx.deleteFrom('mails_left').where('mailbox_id', '=', mailboxId).execute()
    await tx
      .updateTable('mailboxes')
      .set({ uid_validity: uidValidity, last_uid: 0 })
      .where('id', '=', mailboxId)
      .execute()
    return await findMailbox(tx, mailboxId)
  })
}

export interface MailDealtWith {
  readonly mailboxId: number
  readonly uid: number
  /** Null: its photos are safe. */
  readonly left: MailLeft | null
  /** That were not known before. */
  readonly newPhotos: number
}

/** Writes down what became of a mail; its photos must be in the ledger already. */
export async function recordMail(
  ledger: Ledger,
  { mailboxId, uid, left, newPhotos }: MailDealtWith,
): Promise<void> {
  await ledger.transaction().execute(async (tx) => {
    await tx.deleteFrom('mails_left').where('mailbox_id', '=', mailboxId).where('uid', '=', uid).execute()
    if (left !== null)
      await tx
        .insertInto('mails_left')
        .values({
          mailbox_id: mailboxId,
          uid,
          sender: shown(left.sender),
          subject: shown(left.subject),
          at: left.at === null ? null : toDate(left.at),
          reason: shown(left.reason),
          again: left.again,
        })
        .execute()
    await tx
      .updateTable('mailboxes')
      .set((e) => ({
        last_uid: e.fn<number>('greatest', ['last_uid', e.val(uid)]),
        mails: e('mails', '+', left === null ? 1 : 0),
        photos: e('photos', '+', newPhotos),
      }))
      .where('id', '=', mailboxId)
      .execute()
  })
}

/** A try of the mailbox: `reason` says what failed, or what could not be done though its photos came in (`isRead`). */
export async function recordMailTry(
  ledger: Ledger,
  mailboxId: number,
  { at, isRead, reason }: { readonly at: Instant; readonly isRead: boolean; readonly reason: string | null },
): Promise<void> {
  await ledger
    .updateTable('mailboxes')
    .set({ last_try_at: toDate(at), last_reason: reason, ...(isRead && { last_ok_at: toDate(at) }) })
    .where('id', '=', mailboxId)
    .execute()
}

/** A server away for minutes is no news (common practice, no source). */
const NEWS_AFTER = '30 minutes'

/** Cameras whose photos can't be fetched out of a mailbox, by name. */
export async function listCamerasWithoutMail(ledger: Ledger): Promise<FailingSource[]> {
  const { rows } = await sql<FailingSource>`
    select distinct c.name as "cameraName", c.point_id as "pointId", m.last_reason as reason
    from mailboxes m join mail_rules r on r.mailbox_id = m.id join cameras c on c.id = r.camera_id
    where m.is_on and m.last_reason is not null
      and (m.last_ok_at is null or m.last_ok_at < m.last_try_at - ${NEWS_AFTER}::interval)
    order by 1`.execute(ledger)
  return rows
}

/** Mails to be tried again at one of these, oldest first. */
export async function listMailsForAgain(
  ledger: Ledger,
  mailboxId: number,
  again: readonly AgainWhen[],
): Promise<number[]> {
  const rows = await ledger
    .selectFrom('mails_left')
    .select('uid')
    .where('mailbox_id', '=', mailboxId)
    .where('again', 'in', again)
    .orderBy('uid')
    .execute()
  return rows.map(({ uid }) => uid)
}

/** They have all been looked at under these rules. */
export async function recordLookedAgain(
  ledger: Ledger,
  mailboxId: number,
  generation: number,
): Promise<void> {
  await ledger
    .updateTable('mailboxes')
    .set({ looked_generation: generation })
    .where('id', '=', mailboxId)
    .execute()
}

export async function listMailsLeft(ledger: Ledger, mailboxId: number): Promise<readonly number[]> {
  const rows = await ledger
    .selectFrom('mails_left')
    .select('uid')
    .where('mailbox_id', '=', mailboxId)
    .execute()
  return rows.map(({ uid }) => uid)
}

/** Mails that are no longer in the folder are nobody's concern. */
export async function forgetMailsLeft(
  ledger: Ledger,
  mailboxId: number,
  uids: readonly number[],
): Promise<void> {
  if (uids.length === 0) return
  await ledger.deleteFrom('mails_left').where('mailbox_id', '=', mailboxId).where('uid', 'in', uids).execute()
}

/** The latest first, at most `limit`, and how many there are. */
export async function readMailsLeft(
  ledger: Ledger,
  mailboxId: number,
  limit: number,
): Promise<{ readonly count: number; readonly latest: readonly MailLeftRow[] }> {
  const of = ledger.selectFrom('mails_left').where('mailbox_id', '=', mailboxId)
  const { count } = await of.select((e) => e.fn.countAll<number>().as('count')).executeTakeFirstOrThrow()
  const latest = await of.selectAll().orderBy('uid', 'desc').limit(limit).execute()
  return { count, latest }
}

/** Photos that a try brought, before the mail they are in is dealt with. */
export async function recordTriedPhotos(ledger: Ledger, mailboxId: number, newPhotos: number): Promise<void> {
  await ledger
    .updateTable('mailboxes')
    .set((e) => ({ photos: e('photos', '+', newPhotos) }))
    .where('id', '=', mailboxId)
    .execute()
}
