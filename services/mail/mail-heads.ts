/** Who a mail is from, whom it was sent to, and what it is called, before any of it is downloaded. */
import type { FetchMessageObject, FetchQueryObject, ImapFlow } from 'imapflow'
import type { Instant } from '../words.ts'
import type { MailHead } from './camera-of-mail.ts'

export interface ListedMail extends MailHead {
  readonly uid: number
  readonly bytes: number
  /** When it came to its server; null where that does not say. */
  readonly at: Instant | null
}

/** A mail that was sent on to this mailbox says only here which address it was for (from memory; no RFC names them all). */
const DELIVERED_TO = ['delivered-to', 'x-delivered-to', 'x-original-to', 'envelope-to', 'x-envelope-to']
const HEAD: FetchQueryObject = {
  uid: true,
  envelope: true,
  size: true,
  internalDate: true,
  headers: DELIVERED_TO,
}
const ADDRESS = /[^\s<>,;:"()]+@[^\s<>,;:"()]+/g

/** Oldest first; those that are no longer there are left out. */
export async function listMailHeads(session: ImapFlow, uids: readonly number[]): Promise<ListedMail[]> {
  if (uids.length === 0) return []
  const messages = await session.fetchAll(uids.join(','), HEAD, { uid: true })
  return messages.map(headOf).sort((a, b) => a.uid - b.uid)
}

function headOf({ uid, size, envelope, internalDate, headers }: FetchMessageObject): ListedMail {
  const addresses = (list: readonly { readonly address?: string | undefined }[] | undefined) =>
    (list ?? []).flatMap(({ address }) => (address ? [address] : []))
  const delivered = headers?.toString('latin1').match(ADDRESS) ?? []
  return {
    uid,
    bytes: size ?? 0,
    at: instantOf(internalDate),
    subject: envelope?.subject ?? '',
    senders: [...addresses(envelope?.from), ...addresses(envelope?.sender)],
    recipients: [
      ...addresses(envelope?.to),
      ...addresses(envelope?.cc),
      ...addresses(envelope?.bcc),
      ...delivered,
    ],
  }
}

function instantOf(date: Date | string | undefined): Instant | null {
  const at = date === undefined ? Number.NaN : new Date(date).getTime()
  return Number.isNaN(at) ? null : (at as Instant)
}
